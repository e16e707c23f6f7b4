"""The mentor's queue: what waits, why each answer is in it, and in what order.

An answer stands where its most urgent reason puts it: a query, no mark yet, a disqualification, a result near
the club's mark, then the rest; among equals the oldest first.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import (
    Avg,
    Case,
    Count,
    Exists,
    F,
    FilteredRelation,
    FloatField,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
    Window,
)
from django.db.models.functions import Cast, Coalesce
from django.utils import timezone

from assessments.models import Answer, Mark, MentoringRules, Query, Sitting
from assessments.queries.answers import waiting_for
from assessments.queries.mentoring_rules import mentoring_rules
from assessments.queries.panels import seats_to_decide
from assessments.queries.second import asked_of
from assessments.statistics.cut_score import decide
from assessments.statistics.item_analysis import PEOPLE_FOR_FIGURES
from shared.accounts.models import Membership

QUERY, UNMARKED, DISQUALIFICATION, NEAR, REST = NEEDS = (
    "query",
    "unmarked",
    "disqualification",
    "near",
    "rest",
)


@dataclass(frozen=True)
class Wanted:
    """Which rows, and in what order: by need, or by age alone."""

    need: str = ""
    days: int | None = None
    trainee: Membership | None = None
    by_age: bool = False


@dataclass(frozen=True)
class Near:
    """A finished sitting's result that is too near a pass mark to be left to figures; out of 100."""

    points: float
    cut: float


def near_the_mark(mentor: Membership, rules: MentoringRules) -> dict[int, Near]:
    """Sittings with waiting answers whose result lies near the club's mark, by their id.

    Near is within one standard error of measurement of the quiz, where enough people have answered it to
    know one, else within what the club calls near (`statistics.cut_score.decide`).
    """
    if rules.club_mark is None:
        return {}
    cut, usual = float(rules.club_mark) / 100, float(rules.near) / 100
    standing = FilteredRelation("answer__adjustments", condition=Q(answer__adjustments__taken_back_at=None))
    points = F("score") + Coalesce(Cast("standing__points", FloatField()), Value(0.0)) / 100
    marks = Mark.objects.filter(current=True, answer__sitting=OuterRef("pk")).order_by()
    result = marks.values("answer__sitting").annotate(standing=standing).annotate(result=Avg(points))
    waiting = waiting_for(mentor).prefetch_related(None).select_related(None).order_by()
    # The figures are looked at once for each sitting: reading their JSON for every mark took most of the time.
    rows = (
        Sitting.objects.filter(pk__in=waiting.values("sitting"))
        .exclude(finished_at=None)
        .order_by()
        .annotate(result=Subquery(result.values("result")))
        .exclude(result=None)
        .values_list("pk", "quiz__figures__data__sem", "quiz__figures__data__people", "result")
    )
    found = {}
    for sitting, sem, people, mean in rows:
        score = min(1.0, max(0.0, mean))
        error = sem if sem is not None and (people or 0) >= PEOPLE_FOR_FIGURES else usual
        if decide(score, cut, error) == "borderline":
            found[sitting] = Near(100 * score, 100 * cut)
    return found


def in_queue(mentor: Membership, near: Collection[int] = ()) -> QuerySet[Answer]:
    """What waits for the mentor with its reasons as fields, in the order of need; `near` are sittings.

    Fields: asks, unmarked, wrong (the word of `Mark.disqualification`), is_near, rank, score, adjustment.
    """
    asks = Exists(Query.objects.filter(answer=OuterRef("pk"), settled_at=None))
    return (
        waiting_for(mentor)
        .prefetch_related(None)
        .select_related(None)
        .annotate(
            now=FilteredRelation("marks", condition=Q(marks__current=True)),
            standing=FilteredRelation("adjustments", condition=Q(adjustments__taken_back_at=None)),
        )
        .annotate(
            asks=asks,
            unmarked=Case(When(now__pk=None, then=True), default=False),
            wrong=F("now__disqualification"),
            score=F("now__score"),
            adjustment=F("standing__points"),
            is_near=Case(When(sitting__in=list(near), then=True), default=False),
        )
        .annotate(
            rank=Case(
                When(_has(QUERY), then=0),
                When(_has(UNMARKED), then=1),
                When(_has(DISQUALIFICATION), then=2),
                When(_has(NEAR), then=3),
                default=4,
            )
        )
        .order_by("rank", "handed_in_at", "pk")
    )


def _has(need: str) -> Q:
    return {
        QUERY: Q(asks=True),
        UNMARKED: Q(unmarked=True),
        DISQUALIFICATION: Q(unmarked=False) & ~Q(wrong=""),
        NEAR: Q(is_near=True),
        REST: Q(asks=False, unmarked=False, wrong="", is_near=False),
    }[need]


@dataclass(frozen=True)
class Queue:
    """The queue as one page asks for it: `counts` by need and in all (""), `answers` not evaluated yet."""

    counts: Mapping[str, int]
    answers: QuerySet[Answer]
    near: Mapping[int, Near]
    rules: MentoringRules

    @property
    def count(self) -> int:
        """All that waits within the ages and the trainee asked for."""
        return self.counts[""]


def queue_of(mentor: Membership, wanted: Wanted) -> Queue:
    """Counted and ordered, in three queries and one for the page that is read of it."""
    rules = mentoring_rules(mentor.club)
    near = near_the_mark(mentor, rules)
    found = in_queue(mentor, near)
    if wanted.days is not None:
        found = found.filter(handed_in_at__lte=timezone.now() - datetime.timedelta(days=wanted.days))
    if wanted.trainee is not None:
        found = found.filter(sitting__trainee=wanted.trainee)
    counted = {f"count_of_{need}": Count("pk", filter=_has(need)) for need in NEEDS}
    counts = found.order_by().aggregate(count_of_=Count("pk"), **counted)
    answers = found.filter(_has(wanted.need)) if wanted.need else found
    if wanted.by_age:
        answers = answers.order_by("handed_in_at", "pk")
    by_need = {need: counts[f"count_of_{need}"] for need in ("", *NEEDS)}
    return Queue(by_need, _for_rows(answers), near, rules)


def _for_rows(answers: QuerySet[Answer]) -> QuerySet[Answer]:
    """With what a row shows."""
    return answers.select_related(
        "item__exhibit",
        "item__clause",
        "sitting__quiz",
        "sitting__trainee__person",
        "review__mentor__person",
        "query",
    ).prefetch_related("item__exhibit__renditions", "item__exhibit__permissions")


def next_in_queue(mentor: Membership, besides: Answer | None = None) -> tuple[int, Answer | None]:
    """How many answers wait, and the one to look at next, another than `besides`.

    Nearness to the club's mark is left to the queue's own page: here the next is told by what stands in rows.
    """
    found = in_queue(mentor)
    others = found.exclude(pk=besides.pk) if besides else found
    following = others.annotate(waiting=Window(Count("pk"))).first()
    itself = besides is not None and _waits(besides)
    return (following.waiting if following else 0) + itself, following


def _waits(answer: Answer) -> bool:
    review = getattr(answer, "review", None)
    return review is None or review.returned_at is None


def asked_by_name(mentor: Membership) -> dict[str, list[Any]]:
    """Second markings and seats that wait for the mentor; mostly there are none, which one query tells."""
    markings, seats = asked_of(mentor), seats_to_decide(mentor)
    there = Membership.objects.filter(pk=mentor.pk).values_list(Exists(markings), Exists(seats))
    any_marking, any_seat = there.get()
    return {"asked": list(markings) if any_marking else [], "seats": list(seats) if any_seat else []}
