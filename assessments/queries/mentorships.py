"""Reads about who mentors whom."""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import Exists, OuterRef, QuerySet

from assessments.models import Mentorship
from shared.accounts.models import Club, Membership
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role


def running_mentorships() -> QuerySet[Mentorship]:
    """Mentorships that have not ended, of mentors who are still there as such."""
    return (
        Mentorship.objects.filter(ended_at=None, mentor__left_at=None, mentor__mentor=True)
        .select_related("mentor__person")
        .order_by("mentor__person__name", "pk")
    )


def mentorships_of(trainees: Sequence[Membership]) -> dict[int, list[Mentorship]]:
    """Each trainee's running mentorships by the trainee's id, in one query."""
    found: dict[int, list[Mentorship]] = {trainee.pk: [] for trainee in trainees}
    for mentorship in running_mentorships().filter(trainee__in=found):
        found[mentorship.trainee_id].append(mentorship)
    return found


def mentees_of(mentor: Membership) -> QuerySet[Membership]:
    """The mentor's present trainees by name, without figures."""
    return (
        Membership.objects.filter(mentors_of__mentor=mentor, mentors_of__ended_at=None, left_at=None)
        .select_related("person")
        .order_by("person__name", "pk")
    )


def trainees_without_mentor(club: Club) -> QuerySet[Membership]:
    """Present trainees at whose answers nobody looks."""
    running = running_mentorships().filter(trainee=OuterRef("pk"))
    return members_of(club, Role.TRAINEE).exclude(Exists(running))


def possible_mentors(trainee: Membership) -> QuerySet[Membership]:
    """Mentors of the club who could be assigned to this trainee."""
    taken = running_mentorships().filter(trainee=trainee).values("mentor")
    return members_of(trainee.club, Role.MENTOR).exclude(pk=trainee.pk).exclude(pk__in=taken)
