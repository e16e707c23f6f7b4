"""Sittings taken from the person who sat them: figures stay as they are, and nobody knows whose they were."""

from __future__ import annotations

import datetime
import secrets
import zoneinfo
from collections.abc import Callable, Collection
from typing import Any

from django.db import transaction
from django.db.models import F, Max, QuerySet
from django.utils import timezone

from assessments.actions.candidates import NUMBERS
from assessments.items import KINDS
from assessments.models import (
    Adjustment,
    Answer,
    Candidate,
    Comment,
    EntryResult,
    FalseAlarm,
    LateAnswer,
    Mark,
    MarkChange,
    Notice,
    PanelWord,
    PaperSitting,
    Query,
    Review,
    SatBefore,
    SavedStep,
    SeatReason,
    SecondMarking,
    Sitting,
)
from shared.accounts.actions.erasure import make_nameless_member
from shared.accounts.models import Club, Membership
from shared.accounts.roles import Role

ROWS_AT_ONCE = 500
BY_THE_RULES = [MarkChange.Kind.MARKED, MarkChange.Kind.MARKED_ANEW]
Coarse = Callable[[datetime.datetime], datetime.datetime]


@transaction.atomic
def detach_sittings(*, trainee: Membership, sittings: QuerySet[Sitting], goes_on: bool) -> int:
    """Let these sittings of a trainee be of somebody nameless who has left; returns how many they are.

    Marks, counted results, adjustments and returns stay, so that every figure of the club is what it was. What
    was written by the trainee or about them is taken out; of times the day stays, by which results are
    counted. `goes_on` says that the trainee stays a member: then it is remembered how often they sat what.
    """
    ids = list(
        Sitting.objects.filter(pk__in=sittings.values("pk"), trainee=trainee).values_list("pk", flat=True)
    )
    if not ids:
        return 0
    nameless = make_nameless_member(club=trainee.club, role=Role.TRAINEE)
    if goes_on:
        _remember(trainee, ids)
    _delete_what_was_said(ids)
    _blank_what_stays(ids)
    _leave_answers_and_days(ids, day_of(trainee.club))
    _free_numbers(ids, nameless)
    for model in (EntryResult, FalseAlarm):
        model.objects.filter(answer__sitting__in=ids).update(trainee=nameless)
    Sitting.objects.filter(pk__in=ids).update(trainee=nameless)
    return len(ids)


def day_of(club: Club) -> Coarse:
    """Makes noon of the club's day of any moment."""
    zone = zoneinfo.ZoneInfo(club.time_zone)

    def noon(moment: datetime.datetime) -> datetime.datetime:
        return moment.astimezone(zone).replace(hour=12, minute=0, second=0, microsecond=0)

    return noon


def _remember(trainee: Membership, ids: Collection[int]) -> None:
    last = Sitting.objects.filter(pk__in=ids).order_by().values_list("quiz").annotate(Max("number"))
    SatBefore.objects.bulk_create(
        [SatBefore(trainee=trainee, quiz_id=quiz, number=number) for quiz, number in last],
        update_conflicts=True,
        unique_fields=["trainee", "quiz"],
        update_fields=["number"],
    )


def _delete_what_was_said(ids: Collection[int]) -> None:
    for model in (SavedStep, LateAnswer, Comment, Notice):
        model.objects.filter(answer__sitting__in=ids).delete()
    Query.objects.filter(answer__sitting__in=ids, upheld=False).delete()
    Review.objects.filter(answer__sitting__in=ids, returned_at=None).delete()
    SeatReason.objects.filter(seat__panel__sitting__in=ids).delete()
    PanelWord.objects.filter(panel__sitting__in=ids).delete()


def _blank_what_stays(ids: Collection[int]) -> None:
    """Rows that figures rest on keep their numbers. Changes by a person lose their words, those by the rules none."""
    Query.objects.filter(answer__sitting__in=ids).update(text="", reply="", asked_at=F("settled_at"))
    Adjustment.objects.filter(answer__sitting__in=ids).update(reason="")
    seconds = SecondMarking.objects.filter(answer__sitting__in=ids)
    seconds.update(why="", first_words="", second_words="", reason="")
    seconds.filter(settled_at=None, withdrawn_at=None).update(withdrawn_at=timezone.now())
    PaperSitting.objects.filter(sitting__in=ids).update(declaration="", settled_note="")
    for key in ("answer__sitting__in", "sitting__in"):
        by_people = MarkChange.objects.filter(**{key: ids}).exclude(kind__in=BY_THE_RULES)
        by_people.take_words_out(lambda words: "")


def _leave_answers_and_days(ids: Collection[int], coarse: Coarse) -> None:
    """What was answered without prose, and of every moment its day."""
    sittings = Sitting.objects.filter(pk__in=ids).only("pk", "begun_at", "finished_at")
    _write(sittings, ["begun_at", "finished_at"], coarse)
    answers = Answer.objects.filter(sitting__in=ids).select_related("item")
    kinds = {}
    for answer in answers:
        kinds[answer.pk] = KINDS[answer.item.kind]
        answer.content = kinds[answer.pk].without_words(answer.content)
    _write(answers, ["saved_at", "handed_in_at", "passed_over_at"], coarse, "content")
    marks = Mark.objects.filter(answer__sitting__in=ids).only("pk", "answer", "detail", "marked_at")
    for mark in marks:
        mark.detail = kinds[mark.answer_id].without_words(mark.detail)
    _write(marks, ["marked_at"], coarse, "detail")
    by_rules = MarkChange.objects.filter(answer__sitting__in=ids, kind__in=BY_THE_RULES)
    by_rules.take_words_out(str, coarse)


def _write(rows: QuerySet[Any], moments: list[str], coarse: Coarse, *more: str) -> None:
    for row in rows:
        for name in moments:
            moment = getattr(row, name)
            setattr(row, name, moment and coarse(moment))
    rows.model.objects.bulk_update(rows, [*moments, *more], ROWS_AT_ONCE)


def _free_numbers(ids: Collection[int], nameless: Membership) -> None:
    """A candidate's number is known to them: their sitting goes by another, and by no time of its own."""
    for candidate in Candidate.objects.filter(sitting__sitting__in=ids).select_related("paper"):
        taken = set(Candidate.objects.filter(paper=candidate.paper).values_list("number", flat=True))
        free = sorted(set(NUMBERS) - taken)
        candidate.number = free[secrets.randbelow(len(free))]
        candidate.member = nameless
        candidate.extra_minutes = candidate.extra_percent = 0
        candidate.save(update_fields=["number", "member", "extra_minutes", "extra_percent"])
