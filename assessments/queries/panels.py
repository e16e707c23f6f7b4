"""Reads about panels of assessors."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import Avg, Count, Exists, F, OuterRef, Prefetch, Q, QuerySet

from assessments.models import (
    Answer,
    AssessorPanel,
    KeyEntry,
    Mark,
    Mentorship,
    PanelSeat,
    PanelWord,
    Quiz,
    SeatReason,
    Sitting,
)
from assessments.queries.answers import answers_with_marks
from courses.models import Clause
from shared.accounts.models import Club, Membership
from shared.accounts.permissions import Ability, may
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role

REASONS = Prefetch("reasons", SeatReason.objects.select_related("clause__edition__breed", "answer"))


def panels_of(club: Club) -> QuerySet[AssessorPanel]:
    """The club's panels, those still at work first, each with its seats and `decided`, how many have decided."""
    seats = Prefetch("seats", PanelSeat.objects.select_related("assessor__person").prefetch_related(REASONS))
    return (
        AssessorPanel.objects.filter(sitting__trainee__club=club, withdrawn_at=None)
        .select_related("sitting__quiz__edition__breed", "sitting__trainee__person", "asked_by__person")
        .prefetch_related(seats)
        .annotate(decided=Count("seats", filter=~Q(seats__decided_at=None), distinct=True))
        .order_by(F("told_at").desc(nulls_first=True), "-asked_at", "-pk")
    )


def panels_for(member: Membership) -> QuerySet[AssessorPanel]:
    """Those on which the member sits; an educator sees all of the club's. Never one about themselves."""
    found = panels_of(member.club).exclude(sitting__trainee=member)
    if may(member, Ability.LEAD_MENTORING):
        return found
    return found.filter(Exists(PanelSeat.objects.filter(panel=OuterRef("pk"), assessor=member)))


def seats_to_decide(member: Membership) -> QuerySet[PanelSeat]:
    """Seats on which the member has still to decide, the oldest first."""
    waiting = PanelSeat.objects.filter(assessor=member, decided_at=None, panel__withdrawn_at=None)
    return waiting.select_related("panel__sitting__quiz").order_by("panel__asked_at", "pk")[:50]


def told_panels(trainee: Membership) -> QuerySet[AssessorPanel]:
    """Decisions that the trainee was told, the newest first, with the panel's words and nobody's names."""
    words = Prefetch("words", PanelWord.objects.select_related("clause__edition__breed", "answer"))
    return (
        AssessorPanel.objects.filter(sitting__trainee=trainee, withdrawn_at=None)
        .exclude(told_at=None)
        .select_related("sitting__quiz")
        .prefetch_related(words)
        .order_by("-told_at", "-pk")
    )


def sittings_for_panels(club: Club) -> QuerySet[Sitting]:
    """Finished sittings at which no panel looks yet, the newest first, with their mean mark by the rules.

    Not those of papers, which have results of their own and go by number.
    """
    looked_at = AssessorPanel.objects.filter(sitting=OuterRef("pk"), withdrawn_at=None)
    return (
        Sitting.objects.filter(trainee__club=club, trainee__left_at=None, quiz__purpose=Quiz.Purpose.PRACTICE)
        .exclude(finished_at=None)
        .exclude(Exists(looked_at))
        .select_related("quiz", "trainee__person", "trainee__club")
        .order_by("-finished_at", "-pk")
    )


def with_means(sittings: Iterable[Sitting]) -> list[tuple[Sitting, float | None]]:
    """Each sitting of a page with its mean mark by the rules, in one query for all."""
    shown = list(sittings)
    marks = Mark.objects.filter(current=True, answer__sitting__in=shown).order_by()
    means = dict(marks.values_list("answer__sitting").annotate(Avg("score")))
    return [(sitting, means.get(sitting.pk)) for sitting in shown]


def possible_assessors(sitting: Sitting) -> QuerySet[Membership]:
    """Mentors of the club but the trainee, each with `mentors_them`."""
    mentorships = Mentorship.objects.filter(mentor=OuterRef("pk"), trainee=sitting.trainee_id, ended_at=None)
    return (
        members_of(sitting.trainee.club, Role.MENTOR)
        .exclude(pk=sitting.trainee_id)
        .annotate(mentors_them=Exists(mentorships))
    )


def answers_of_sitting(sitting: Sitting) -> list[Answer]:
    """The sitting's answers by the rules alone: nothing that a mentor said or changed."""
    answers = list(answers_with_marks().filter(sitting=sitting).order_by("position", "pk"))
    for answer in answers:
        answer.standing_adjustments, answer.standing_comments = [], []
    return answers


def clauses_for_reasons(sitting: Sitting) -> QuerySet[Clause]:
    """The clauses on which the keys of the sitting's marks rest; all of the edition's where there are none."""
    entries = KeyEntry.objects.filter(key__marks__answer__sitting=sitting, key__marks__current=True)
    clauses = Clause.objects.filter(edition=sitting.quiz.edition_id).order_by("section__position", "position")
    in_keys = clauses.filter(pk__in=entries.values("clause"))
    return in_keys if in_keys.exists() else clauses
