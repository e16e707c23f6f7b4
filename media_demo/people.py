"""The club, and everyone in it: invited and joined as people are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils import timezone

from assessments.actions.keeping import set_keeping_rules
from assessments.actions.mentorship import assign_mentor
from courses.actions.breed import add_breed
from courses.models import Breed
from media_demo.loading import Member, Scenario
from shared.accounts.actions.clubs import found_club
from shared.accounts.actions.invitations import accept_invitation, invite, join_as_new_person
from shared.accounts.models import Club, Membership
from shared.accounts.roles import Role


@dataclass(frozen=True)
class People:
    """The club and its members by email address."""

    club: Club
    breed: Breed
    by_email: Mapping[str, Membership]

    def first(self, role: Role) -> Membership:
        """Whoever held the role first, before those who hold more of them."""
        return min(
            (one for one in self.by_email.values() if role in one.roles), key=lambda one: len(one.roles)
        )


def found(scenario: Scenario, passwords: Mapping[str, str]) -> People:
    """The club with its members; whoever has no password signs in by a mailed code."""
    said = scenario.club
    secretary = next(member for member in scenario.members if "secretary" in member.roles)
    club, invitation, _token = found_club(
        name=said["name"], slug=said["slug"], time_zone=said["time_zone"], secretary_email=secretary.email
    )
    person = join_as_new_person(
        invitation=invitation,
        name=secretary.name,
        email=secretary.email,
        password=passwords.get(secretary.email),
    )
    host = Membership.objects.select_related("person").get(club=club, person=person)
    members = [member for member in (*scenario.members, *scenario.trainees) if member is not secretary]
    for member in members:
        _join(club, host, member, passwords.get(member.email))
    _give_other_roles(club, host, secretary)
    rows = Membership.objects.filter(club=club).select_related("person", "club").order_by("pk")
    for row in rows:
        row.club = club
    by_email = {row.person.email: row for row in rows}
    _assign_mentors(scenario, by_email)
    set_keeping_rules(club=club, by=host, effective_from=timezone.localdate(), **said["kept_months"])
    for row in said["invited"]:
        invite(club=club, role=Role(row["role"]), invited_by=host.person, email=row["email"])
    return People(club, add_breed(club=club, name=said["breed"]), by_email)


def _join(club: Club, host: Membership, member: Member, password: str | None) -> None:
    first, *_others = member.roles
    invitation, _token = invite(club=club, role=Role(first), invited_by=host.person, email=member.email)
    join_as_new_person(invitation=invitation, name=member.name, email=member.email, password=password)
    _give_other_roles(club, host, member)


def _give_other_roles(club: Club, host: Membership, member: Member) -> None:
    person = Membership.objects.select_related("person").get(club=club, person__email=member.email).person
    for role in member.roles[1:]:
        invitation, _token = invite(club=club, role=Role(role), invited_by=host.person, email=member.email)
        accept_invitation(invitation=invitation, person=person)


def _assign_mentors(scenario: Scenario, by_email: Mapping[str, Membership]) -> None:
    for member in scenario.members:
        for email in member.mentors:
            if email in by_email:
                assign_mentor(trainee=by_email[email], mentor=by_email[member.email])
