"""Reads about invitations."""

from __future__ import annotations

from django.db.models import QuerySet
from django.utils import timezone

from shared.accounts.models import Club, Invitation
from shared.accounts.rules import hash_of


def invitation_by_token(token: str) -> Invitation | None:
    """The invitation whose link holds this token, whatever became of it; its club at hand."""
    return Invitation.objects.filter(token_hash=hash_of(token)).select_related("club").first()


def open_invitations(club: Club) -> QuerySet[Invitation]:
    """Links that can still be used, the one that runs out first at the top."""
    return Invitation.objects.filter(
        club=club, accepted_at=None, withdrawn_at=None, expires_at__gt=timezone.now()
    ).order_by("expires_at", "pk")


def invitations_of(club: Club) -> QuerySet[Invitation]:
    """All of the club's invitations, the newest first."""
    return Invitation.objects.filter(club=club).select_related("invited_by", "accepted_by")
