"""Members of a club by their roles, and those who are invited to be."""

from __future__ import annotations

from typing import Any

from shared.accounts.actions.invitations import invite
from shared.accounts.models import Club, Invitation, Membership, Person
from shared.accounts.roles import Role


def make_member(club: Club, name: str, **roles: bool) -> Membership:
    """A further member of the club."""
    person = Person.objects.create_user(f"{name.lower().replace(' ', '.')}@club.example", name=name)
    return Membership.objects.create(club=club, person=person, **roles)


def make_trainee(club: Club, name: str) -> Membership:
    return make_member(club, name, trainee=True)


def make_mentor(club: Club, name: str) -> Membership:
    return make_member(club, name, mentor=True)


def make_invitation(club: Club, role: Role = Role.TRAINEE, **fields: Any) -> tuple[Invitation, str]:
    """An invitation and its token; fields, such as `expires_at`, are set afterwards."""
    by = club.memberships.filter(secretary=True).first()
    invitation, token = invite(club=club, role=role, invited_by=by and by.person)
    Invitation.objects.filter(pk=invitation.pk).update(**fields)
    invitation.refresh_from_db()
    return invitation, token
