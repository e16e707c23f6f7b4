"""Two at once, in threads with connections of their own: the database decides who is first."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection

from shared.accounts.actions.invitations import accept_invitation, join_as_new_person
from shared.accounts.actions.members import end_membership
from shared.accounts.models import Invitation, Membership, Person
from shared.accounts.rules import Refused
from tests.makers import make_invitation, make_member

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*acts: Callable[[], object]) -> list[bool]:
    """Do all at the same moment; for each, whether it was done rather than refused."""
    start = Barrier(len(acts))

    def do(act: Callable[[], object]) -> bool:
        start.wait()
        try:
            act()
        except Refused:
            return False
        finally:
            connection.close()
        return True

    with ThreadPoolExecutor(len(acts)) as pool:
        return list(pool.map(do, acts))


def test_an_invitation_makes_one_member_however_many_press_at_once(cast):
    invitation, _ = make_invitation(cast.other_club)
    people = [cast.educator.person, cast.mentor.person, cast.trainee.person]
    before = Membership.objects.filter(club=cast.other_club).count()

    def accepted_by(person: Person) -> Callable[[], object]:
        own = Invitation.objects.get(pk=invitation.pk)
        return lambda: accept_invitation(invitation=own, person=person)

    def joined_as(name: str) -> Callable[[], object]:
        own = Invitation.objects.get(pk=invitation.pk)
        said = {"name": name, "email": f"{name.lower()}@club.example", "password": "a plain long one"}
        return lambda: join_as_new_person(invitation=own, **said)

    done = at_once(*map(accepted_by, people), joined_as("Jo"), joined_as("Kit"))
    assert done.count(True) == 1
    assert Membership.objects.filter(club=cast.other_club).count() == before + 1
    invitation.refresh_from_db()
    assert invitation.accepted_by.memberships.filter(club=cast.other_club).exists()
    assert Person.objects.filter(name__in=["Jo", "Kit"]).count() == done[3:].count(True)


def test_two_secretaries_who_leave_at_once_do_not_both_go(cast):
    second = make_member(cast.club, "Thora Garrioch", secretary=True)
    done = at_once(
        lambda: end_membership(membership=Membership.objects.get(pk=cast.secretary.pk)),
        lambda: end_membership(membership=Membership.objects.get(pk=second.pk)),
    )
    assert done.count(True) == 1
    assert Membership.objects.filter(club=cast.club, secretary=True, left_at=None).count() == 1
