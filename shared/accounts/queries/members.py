"""Reads about memberships."""

from __future__ import annotations

from django.db.models import Count, Q, QuerySet

from shared.accounts.models import Club, Erasure, ErasureRequest, Membership, Person
from shared.accounts.roles import Role


def members_of(club: Club, role: Role | None = None) -> QuerySet[Membership]:
    """Present members by name, of one role or of all; people at hand."""
    members = Membership.objects.filter(club=club, left_at=None).select_related("person")
    if role:
        members = members.filter(**{role.value: True})
    return members.order_by("person__name", "pk")


def lately_ended(club: Club) -> QuerySet[Membership]:
    """Those who left, the last first; their end may be taken back, unless they are erased."""
    return (
        Membership.objects.filter(club=club, nameless=False)
        .exclude(left_at=None)
        .select_related("person")
        .order_by("-left_at", "-pk")
    )


def known_members(club: Club) -> QuerySet[Membership]:
    """Present members and those who left, as long as they have a name."""
    return Membership.objects.filter(club=club, nameless=False).select_related("person", "club")


def waiting_requests(club: Club) -> QuerySet[ErasureRequest]:
    """Members who wait to be erased, the longest first."""
    return (
        ErasureRequest.objects.filter(membership__club=club, withdrawn_at=None, declined_at=None)
        .select_related("membership__person")
        .order_by("asked_at", "pk")
    )


def erasures_of(club: Club) -> QuerySet[Erasure]:
    """That somebody was erased, when and by whom, the last first."""
    return Erasure.objects.filter(club=club).select_related("by__person")


def members_by_role(club: Club) -> dict[Role, int]:
    """How many present members hold each role, in one query."""
    counts = Membership.objects.filter(club=club, left_at=None).aggregate(
        **{role.value: Count("pk", filter=Q(**{role.value: True})) for role in Role}
    )
    return {role: counts[role.value] for role in Role}


def clubs_of(person: Person) -> QuerySet[Membership]:
    """The person's present memberships, clubs at hand, by the club's name."""
    return (
        Membership.objects.filter(person=person, left_at=None).select_related("club").order_by("club__name")
    )


def holds(person: Person, club: Club, role: str) -> bool:
    """Whether the person holds the role in the club now."""
    return Membership.objects.filter(person=person, club=club, left_at=None, **{role: True}).exists()
