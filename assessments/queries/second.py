"""Reads about second markings and about what happened to marks."""

from __future__ import annotations

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet

from assessments.models import (
    Adjustment,
    Answer,
    Comment,
    MarkChange,
    Mentorship,
    Review,
    SecondMarking,
    Sitting,
)
from assessments.queries.answers import PRACTICE, answers_with_marks, reviewable_by
from shared.accounts.models import Club, Membership
from shared.accounts.permissions import Ability, may
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role

# Rows of the record that a page shows, the newest.
CHANGES_SHOWN = 60


def answers_for_second(member: Membership) -> QuerySet[Answer]:
    """Handed-in answers of which the member may ask for a second marking: an educator for any of the club."""
    if may(member, Ability.EDIT_QUIZZES):
        return (
            answers_with_marks()
            .filter(PRACTICE, sitting__trainee__club=member.club)
            .exclude(handed_in_at=None)
            .exclude(sitting__trainee=member)
            .filter(sitting__trainee__nameless=False)
        )
    return reviewable_by(member)


def possible_seconds(answer: Answer) -> QuerySet[Membership]:
    """Mentors of the club who have not looked at the answer yet nor said anything of it."""
    said = Comment.objects.filter(answer=answer, author=OuterRef("pk"), second=None)
    adjusted = Adjustment.objects.filter(answer=answer, made_by=OuterRef("pk"))
    looked = Review.objects.filter(answer=answer, mentor=OuterRef("pk"))
    return (
        members_of(answer.sitting.trainee.club, Role.MENTOR)
        .exclude(pk=answer.sitting.trainee_id)
        .exclude(Exists(said) | Exists(adjusted) | Exists(looked))
    )


def second_markings_for(member: Membership) -> QuerySet[SecondMarking]:
    """Those that the member has a part in, an educator all of the club's; never of their own answers."""
    found = _with_people(SecondMarking.objects.filter(answer__sitting__trainee__club=member.club))
    found = found.exclude(answer__sitting__trainee=member)
    if may(member, Ability.EDIT_QUIZZES):
        return found
    mentors = Mentorship.objects.filter(
        mentor=member, ended_at=None, trainee=OuterRef("answer__sitting__trainee")
    )
    return found.filter(Q(second=member) | Q(asked_by=member) | Q(first=member) | Exists(mentors))


def second_markings_of(answer: Answer) -> QuerySet[SecondMarking]:
    """The answer's second markings that were not withdrawn, the newest first."""
    return answer.second_markings.filter(withdrawn_at=None).select_related("second__person")[:5]


def asked_of(member: Membership) -> QuerySet[SecondMarking]:
    """Second marks that the member is asked for and has not given, the oldest first."""
    waiting = SecondMarking.objects.filter(second=member, second_at=None, withdrawn_at=None)
    return waiting.select_related("asked_by__person", "answer__sitting__quiz").order_by("asked_at", "pk")[:50]


def open_second_markings(club: Club) -> QuerySet[SecondMarking]:
    """All that are asked for and not settled, the oldest first."""
    opened = SecondMarking.objects.filter(
        answer__sitting__trainee__club=club, settled_at=None, withdrawn_at=None
    )
    return _with_people(opened).order_by("asked_at", "pk")


def adjusted_marks(member: Membership) -> QuerySet[Adjustment]:
    """Standing adjustments by the club's mentors, the newest first; none to the member's own answers or to nobody's."""
    standing = Adjustment.objects.filter(answer__sitting__trainee__club=member.club, taken_back_at=None)
    return (
        standing.filter(second=None, answer__sitting__trainee__nameless=False)
        .exclude(answer__sitting__trainee=member)
        .select_related("mark", "made_by__person", "answer__sitting__quiz")
        .order_by("-made_at", "-pk")
    )


def _with_people(markings: QuerySet[SecondMarking]) -> QuerySet[SecondMarking]:
    return markings.select_related(
        "second__person",
        "first__person",
        "asked_by__person",
        "settled_by__person",
        "answer__sitting__quiz",
        "answer__sitting__trainee__person",
    ).prefetch_related(
        Prefetch(
            "comments",
            Comment.objects.filter(removed_at=None).select_related("author__person"),
            to_attr="own_comments",
        )
    )


def answer_for_comparison(marking: SecondMarking, *, blind: bool) -> Answer:
    """The answer by the rules alone, with the comments that may be seen: the second's own, or all."""
    answer = answers_with_marks().get(pk=marking.answer_id)
    answer.standing_adjustments = []
    own = list(marking.own_comments)
    answer.standing_comments = own if blind else [*answer.standing_comments, *own]
    return answer


def changes_of(answer: Answer) -> QuerySet[MarkChange]:
    """What happened to the answer's mark, the oldest first; a second mark that is not compared yet is not told."""
    hidden = SecondMarking.objects.filter(
        answer=OuterRef("answer"),
        asked_at__lte=OuterRef("at"),
        first_at=None,
        second_at__isnull=False,
        withdrawn_at=None,
    )
    rows = MarkChange.objects.filter(answer=answer).select_related("by__person")
    return rows.exclude(Q(kind=MarkChange.Kind.SECOND_GIVEN) & Exists(hidden))[:CHANGES_SHOWN]


def changes_of_sitting(sitting: Sitting) -> QuerySet[MarkChange]:
    """What happened to the result of a whole sitting before panels, the oldest first."""
    return MarkChange.objects.filter(sitting=sitting).select_related("by__person")[:CHANGES_SHOWN]
