"""A new club."""

from __future__ import annotations

from django.db import transaction

from shared.accounts.actions.invitations import invite
from shared.accounts.models import Club, Invitation
from shared.accounts.roles import Role


@transaction.atomic
def found_club(*, name: str, slug: str, time_zone: str, secretary_email: str) -> tuple[Club, Invitation, str]:
    """Make a club with an invitation for its first secretary; the third value is the invitation's token.

    Raises ValidationError where the name, address or time zone will not do.
    """
    club = Club(name=name, slug=slug, time_zone=time_zone)
    club.full_clean()
    club.save()
    invitation, token = invite(club=club, role=Role.SECRETARY, invited_by=None, email=secretary_email)
    return club, invitation, token
