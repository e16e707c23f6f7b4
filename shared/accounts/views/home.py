"""The way in: to the one club, or a choice of clubs; and the day's page of a club."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, club_page, outside_clubs


@outside_clubs(signed_in=True)
def home(request: HttpRequest) -> HttpResponse:
    """Members of one club are taken there; others choose."""
    memberships = list(
        Membership.objects.filter(person=request.user, left_at=None)
        .select_related("club")
        .order_by("club__name")[:50]
    )
    if len(memberships) == 1:
        return redirect("club", memberships[0].club.slug)
    return render(request, "shared/clubs.html", {"memberships": memberships})


@club_page(Ability.ENTER)
def club_home(request: HttpRequest) -> HttpResponse:
    """What is waiting for this person today, by role."""
    return render(request, "shared/club_home.html", {})
