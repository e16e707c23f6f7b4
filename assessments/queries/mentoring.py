"""Reads about sessions, sign-offs and how trainees stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count, F, Prefetch, Q, QuerySet

from assessments.models import MentoringRules, MentoringSession, Quiz, SessionTrainee, SignOff
from assessments.queries.mentorships import mentorships_of
from assessments.sessions import Asked, Held, Standing, standing
from courses.models import Module
from courses.models.choices import State
from shared.accounts.models import Club, Membership
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role

# Sessions, sign-offs and words that a page shows, the newest.
SHOWN = 60


def all_sessions_of(trainee: Membership) -> QuerySet[SessionTrainee]:
    """A trainee's sessions, planned ones first, struck out ones among them."""
    return (
        SessionTrainee.objects.filter(trainee=trainee)
        .select_related("session__mentor__person")
        .annotate(company=Count("session__trainees"))
        .order_by(F("session__held_on").desc(nulls_first=True), "-session__planned_for", "-pk")
    )


def sessions_of(trainee: Membership) -> QuerySet[SessionTrainee]:
    """Those of them that a page shows."""
    return all_sessions_of(trainee)[:SHOWN]


def sessions_given(mentor: Membership) -> QuerySet[MentoringSession]:
    """A mentor's sessions with who took part."""
    rows = SessionTrainee.objects.select_related("trainee__person")
    return MentoringSession.objects.filter(mentor=mentor).prefetch_related(Prefetch("trainees", rows))


def sessions_to_come(mentor: Membership) -> QuerySet[MentoringSession]:
    """Planned and not recorded yet, the earliest first."""
    planned = sessions_given(mentor).filter(held_on=None, struck_at=None)
    return planned.order_by("planned_for", "pk")[:SHOWN]


def asked_by(rules: MentoringRules) -> Asked:
    """What the club asks of sessions."""
    return Asked(rules.sessions, rules.ready, rules.months)


def standings_of(trainees: Sequence[Membership], rules: MentoringRules) -> dict[int, Standing]:
    """How each trainee stands by the sessions held, by the trainee's id, in one query."""
    held: dict[int, list[Held]] = {trainee.pk: [] for trainee in trainees}
    rows = (
        SessionTrainee.objects.filter(trainee__in=held, session__struck_at=None)
        .exclude(session__held_on=None)
        .order_by("session__held_on", "session__pk")
        .values_list("trainee", "session__held_on", "session__group", "ending")
    )
    for trainee, on, group, ending in rows:
        held[trainee].append(Held(on, group, ending == SessionTrainee.Ending.READY))
    return {trainee: standing(each, asked_by(rules)) for trainee, each in held.items()}


def all_sign_offs_of(trainee: Membership) -> QuerySet[SignOff]:
    """A trainee's sign-offs, those taken back among them, the newest first."""
    people = ("mentor__person", "taken_back_by__person", "module__course", "quiz")
    return SignOff.objects.filter(trainee=trainee).select_related(*people)


def sign_offs_of(trainee: Membership) -> QuerySet[SignOff]:
    """Those of them that a page shows."""
    return all_sign_offs_of(trainee)[:SHOWN]


def modules_to_sign_off(trainee: Membership) -> QuerySet[Module]:
    """Published modules of the club that nobody has signed off for the trainee."""
    published = Module.objects.filter(course__edition__breed__club=trainee.club, state=State.PUBLISHED)
    return (
        published.exclude(sign_offs__in=_standing_sign_offs(trainee))
        .select_related("course")
        .order_by("course__title", "position", "pk")
    )


def quizzes_to_sign_off(trainee: Membership) -> QuerySet[Quiz]:
    """Quizzes, and papers once their results are released, that the trainee has finished and nobody signed off."""
    finished = Quiz.objects.filter(sittings__trainee=trainee, sittings__finished_at__isnull=False).distinct()
    finished = finished.exclude(purpose=Quiz.Purpose.PAPER, paper__released_at=None)
    return finished.exclude(sign_offs__in=_standing_sign_offs(trainee)).order_by("title", "pk")


def _standing_sign_offs(trainee: Membership) -> QuerySet[SignOff]:
    return SignOff.objects.filter(trainee=trainee, taken_back_at=None)


@dataclass(frozen=True)
class TraineeRow:
    """One trainee as the educator's page lists them."""

    trainee: Membership
    mentors: list[str]
    standing: Standing


def trainee_rows(trainees: Sequence[Membership], rules: MentoringRules) -> list[TraineeRow]:
    """Trainees of `trainees_of_club` with mentors, sessions and sign-offs, in two queries."""
    mentorships, stand = mentorships_of(trainees), standings_of(trainees, rules)
    return [
        TraineeRow(each, [str(row.mentor.person) for row in mentorships[each.pk]], stand[each.pk])
        for each in trainees
    ]


def trainees_of_club(club: Club) -> QuerySet[Membership]:
    """Present trainees by name, each with how many modules and quizzes are `signed_off`."""
    standing_still = Count("sign_offs", filter=Q(sign_offs__taken_back_at=None))
    trainees = members_of(club, Role.TRAINEE).select_related("person", "club")
    return trainees.annotate(signed_off=standing_still)


def own_words(club: Club) -> QuerySet[SessionTrainee]:
    """What trainees said of sessions and mentors, the newest first: for educators alone."""
    return (
        SessionTrainee.objects.filter(session__mentor__club=club)
        .exclude(Q(own_session="") & Q(own_mentor=""))
        .select_related("trainee__person", "session__mentor__person")
        .order_by("-own_at", "-pk")
    )
