"""How long a club keeps what is of one person, and what has passed its time."""

from __future__ import annotations

import calendar
import datetime
from collections.abc import Collection
from dataclasses import dataclass

from django.db.models import Count, Exists, OuterRef, Q, QuerySet
from django.utils import timezone

from assessments.models import AssessorPanel, KeepingRules, Query, Quiz, SecondMarking, Sitting
from shared.accounts.models import Club, Membership


def keeping_rules(club: Club, on: datetime.date | None = None) -> KeepingRules:
    """What is in force on a day, today if none is given; until a club sets something, all is kept."""
    day = on or timezone.localdate()
    kept = KeepingRules.objects.filter(club=club, effective_from__lte=day).first()
    return kept or KeepingRules(club=club, effective_from=day)


def keeping_rules_of(clubs: Collection[int]) -> dict[int, KeepingRules]:
    """What is in force today by the club's id, in one query; a club without an entry keeps all."""
    begun = KeepingRules.objects.filter(club__in=clubs, effective_from__lte=timezone.localdate())
    return {rules.club_id: rules for rules in begun.order_by("effective_from", "pk")}


def keeping_past_and_to_come(club: Club) -> QuerySet[KeepingRules]:
    """All that was set, the newest first."""
    return KeepingRules.objects.filter(club=club).select_related("made_by__person")


def months_before(day: datetime.date, months: int) -> datetime.date:
    """The same day of an earlier month, or its last day."""
    whole = day.year * 12 + day.month - 1 - months
    year, month = whole // 12, whole % 12 + 1
    return datetime.date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


@dataclass(frozen=True)
class Due:
    """What has passed its time on a day: nothing of a kind whose period is empty."""

    practice: QuerySet[Sitting]
    papers: QuerySet[Sitting]
    left: QuerySet[Membership]


def due_on(club: Club, day: datetime.date, rules: KeepingRules | None = None) -> Due:
    """By the rules in force on the day. A month's answers go together, once the whole month is old enough.

    What a person still has to decide about stays until they have.
    """
    rules = rules or keeping_rules(club, day)
    theirs = Sitting.objects.filter(trainee__club=club, trainee__nameless=False).exclude(_under_way())
    practice = theirs.filter(quiz__purpose=Quiz.Purpose.PRACTICE)
    papers = theirs.filter(quiz__paper__isnull=False, finished_at__isnull=False)
    gone = Membership.objects.filter(club=club, nameless=False).exclude(left_at=None)
    return Due(
        practice=practice.filter(
            Q(finished_at__lt=_month_begun(day, rules.answers))
            | Q(finished_at=None, begun_at__lt=_month_begun(day, rules.answers))
        )
        if rules.answers
        else practice.none(),
        papers=papers.filter(quiz__paper__released_at__lt=_month_begun(day, rules.papers))
        if rules.papers
        else papers.none(),
        left=gone.filter(left_at__lt=_begun(months_before(day, rules.left))) if rules.left else gone.none(),
    )


def _under_way() -> Q:
    queries = Query.objects.filter(answer__sitting=OuterRef("pk"), settled_at=None)
    seconds = SecondMarking.objects.filter(answer__sitting=OuterRef("pk"), settled_at=None, withdrawn_at=None)
    panels = AssessorPanel.objects.filter(sitting=OuterRef("pk"), withdrawn_at=None, told_at=None)
    return Q(Exists(queries)) | Q(Exists(seconds)) | Q(Exists(panels))


def _month_begun(day: datetime.date, months: int) -> datetime.datetime:
    return _begun(months_before(day, months).replace(day=1))


def _begun(day: datetime.date) -> datetime.datetime:
    return timezone.make_aware(datetime.datetime.combine(day, datetime.time.min))


@dataclass(frozen=True)
class Counted:
    """How much of what is due: sittings and whose, people who left."""

    practice: int
    practice_people: int
    papers: int
    papers_people: int
    left: int

    def __bool__(self) -> bool:
        return bool(self.practice or self.papers or self.left)


def count_of(due: Due) -> Counted:
    """In three queries."""
    sittings, people = Count("pk"), Count("trainee", distinct=True)
    practice = due.practice.order_by().aggregate(n=sittings, people=people)
    papers = due.papers.order_by().aggregate(n=sittings, people=people)
    return Counted(practice["n"], practice["people"], papers["n"], papers["people"], due.left.count())
