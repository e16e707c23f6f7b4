"""What must hold of clubs and their members whoever asks."""

from __future__ import annotations

import hashlib

from django.utils.translation import gettext_lazy as _

from shared.accounts.models import Club, Membership


class Refused(ValueError):
    """An action that must not happen; the text says why, to the person who asked for it."""


LAST_SECRETARY = _(
    "A club keeps at least one secretary. Make someone else secretary first, then change this membership."
)


def has_another_secretary(membership: Membership) -> bool:
    """Whether the club could do without this membership's secretary."""
    return (
        Membership.objects.filter(club_id=membership.club_id, secretary=True, left_at=None)
        .exclude(pk=membership.pk)
        .exists()
    )


def lock_members(club_id: int) -> None:
    """Let no other change of the club's members happen at the same time, until the transaction ends."""
    Club.objects.select_for_update().get(pk=club_id)


def hash_of(token: str) -> str:
    """What is kept of an invitation's token: its SHA-256 in hexadecimal."""
    return hashlib.sha256(token.encode()).hexdigest()
