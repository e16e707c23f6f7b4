"""The way in: to the one club, or a choice of clubs; and the day's page of a club."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from shared.accounts.permissions import Ability, club_page, outside_clubs
from shared.accounts.queries.members import clubs_of
from shared.web.home import day_of


@outside_clubs(signed_in=True)
def home(request: HttpRequest) -> HttpResponse:
    """Members of one club are taken there; others choose."""
    memberships = list(clubs_of(request.user)[:50])
    if len(memberships) == 1:
        return redirect("club", memberships[0].club.slug)
    return render(request, "accounts/home/clubs.html", {"memberships": memberships})


@club_page(Ability.ENTER)
def club_home(request: HttpRequest) -> HttpResponse:
    """What is waiting for this person today, by role."""
    return render(request, "accounts/home/club.html", {"day": day_of(request)})
