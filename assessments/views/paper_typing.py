"""A steward types in what a candidate wrote on paper, on the same pages, by the candidate's number."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.paper_sittings import hand_in_paper
from assessments.models import PaperSitting
from assessments.views.paper_answering import give_item, give_overview, keep
from assessments.views.paper_seat import typed_seat
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.STEWARD_PAPERS)
def paper_typing(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """To its overview, or back to the candidates once it is handed in."""
    seat = typed_seat(request, pk, number)
    if seat.finished:
        return redirect("paper-candidates", request.club.slug, pk)
    return redirect(seat.url("overview"))


@club_page(Ability.STEWARD_PAPERS)
def paper_typing_item(request: HttpRequest, pk: int, number: int, place: int) -> HttpResponse:
    """One item, to be answered as the sheet of paper says."""
    return give_item(request, typed_seat(request, pk, number), place)


@require_POST
@club_page(Ability.STEWARD_PAPERS)
def paper_typing_save(request: HttpRequest, pk: int, number: int, place: int) -> JsonResponse:
    """Keep what was typed, and by whom."""
    return keep(request, typed_seat(request, pk, number), place)


@club_page(Ability.STEWARD_PAPERS)
def paper_typing_overview(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """What is typed in and what is not."""
    return give_overview(request, typed_seat(request, pk, number))


@require_POST
@club_page(Ability.STEWARD_PAPERS)
def paper_typing_hand_in(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """All is typed in."""
    seat = typed_seat(request, pk, number)
    hand_in_paper(sitting=seat.sitting, how=PaperSitting.Handed.STEWARD)
    messages.success(request, _("Handed in for candidate %(n)d.") % {"n": number})
    return redirect("paper-candidates", request.club.slug, pk)
