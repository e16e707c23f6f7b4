"""Changes to what people are in a club, and to what a person says of themselves."""

from __future__ import annotations

from collections.abc import Collection

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.accounts.models import Membership, Person
from shared.accounts.roles import Role
from shared.accounts.rules import LAST_SECRETARY, Refused, has_another_secretary, lock_members

# Names that somebody had before, which words may still hold when they are erased.
NAMES_REMEMBERED = 20


@transaction.atomic
def change_roles(*, membership: Membership, roles: Collection[Role]) -> None:
    """Let the member hold exactly these roles. A club never loses its last secretary."""
    if not roles:
        raise Refused(_("A member holds at least one role. To take the last one away, end the membership."))
    lock_members(membership.club_id)
    if Role.SECRETARY not in roles and _is_secretary(membership) and not has_another_secretary(membership):
        raise Refused(LAST_SECRETARY)
    for role in Role:
        setattr(membership, role.value, role in roles)
    membership.save(update_fields=[role.value for role in Role])


@transaction.atomic
def end_membership(*, membership: Membership) -> None:
    """The person is no longer a member; marks, keys and comments that name them stay."""
    lock_members(membership.club_id)
    if _is_secretary(membership) and not has_another_secretary(membership):
        raise Refused(LAST_SECRETARY)
    membership.left_at = timezone.now()
    membership.save(update_fields=["left_at"])


@transaction.atomic
def take_back_end(*, membership: Membership) -> None:
    """Undo the end of a membership: the roles are those held before."""
    membership.left_at = None
    membership.save(update_fields=["left_at"])


@transaction.atomic
def change_name(*, person: Person, name: str) -> None:
    """What the person is called on every page, mark and certificate from now on."""
    held = Person.objects.select_for_update().get(pk=person.pk)
    if held.name and held.name != name:
        held.earlier_names = [held.name, *held.earlier_names][:NAMES_REMEMBERED]
    person.name, person.earlier_names = name, held.earlier_names
    person.save(update_fields=["name", "earlier_names"])


def _is_secretary(membership: Membership) -> bool:
    return Membership.objects.filter(pk=membership.pk, secretary=True, left_at=None).exists()
