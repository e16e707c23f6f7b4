"""A panellist's own marking: opened, saved as one goes, handed in, taken back. Nobody else's is ever here."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.key_panels import (
    MarkingOvertaken,
    hand_in_marking,
    open_marking,
    panel_method,
    save_marking,
    take_back_marking,
)
from assessments.models import Panellist
from assessments.queries.key_panels import has_looked, own_seats, seats_at_work
from assessments.rules import NotReady, Refused
from assessments.views.saving import NOT_KEPT, kept, not_kept, overtaken, seen_in, sent_in
from assessments.views.telling import told
from courses.models import SeverityScale
from shared.accounts.permissions import Ability, club_page


def seat_or_404(request: HttpRequest, pk: int) -> Panellist:
    """A seat of the member who asks, never another's."""
    return get_object_or_404(own_seats(request.membership), pk=pk)


@club_page(Ability.MARK_AS_PANELLIST)
def marking(request: HttpRequest, pk: int) -> HttpResponse:
    """The exhibit to mark; one's own marking once it is handed in or the panel is closed."""
    seat = seat_or_404(request, pk)
    if seat.handed_in_at or not seat.panel.open:
        return _own(request, seat)
    open_marking(panellist=seat)
    return _at_work(request, seat)


def _own(request: HttpRequest, seat: Panellist) -> HttpResponse:
    method = panel_method(seat.panel.item)
    shown = method.show(seat) if seat.handed_in_at else []
    context = _context(seat) | {
        "entries": shown,
        "drawn": [{part: row[part] for part in ("letter", "regions")} for row in shown],
        "next": seats_at_work(request.membership).exclude(pk=seat.pk).first(),
        "may_take_back": seat.panel.open and not has_looked(seat.panel, request.membership),
    }
    return render(request, f"assessments/key_panel/{method.own}", context)


def _at_work(
    request: HttpRequest, seat: Panellist, missing: list[str] | None = None, status: int = 200
) -> HttpResponse:
    method = panel_method(seat.panel.item)
    context = _context(seat) | {
        "drawn_up": method.draw_up(seat),
        "words": method.words(),
        "missing": missing,
    }
    return render(request, f"assessments/key_panel/{method.marking}", context, status=status)


def _context(seat: Panellist) -> dict[str, object]:
    scale = SeverityScale(**{"disqualifying": True} | seat.panel.ladder)
    method = panel_method(seat.panel.item)
    return {"method": method, "seat": seat, "panel": seat.panel, "item": seat.panel.item, "scale": scale}


@require_POST
@club_page(Ability.MARK_AS_PANELLIST)
def marking_save(request: HttpRequest, pk: int) -> JsonResponse:
    """Keep what the page sends.

    409 returns what another window saved, 410 says that it is handed in or the panel closed, 422 what is wrong.
    """
    seat = seat_or_404(request, pk)
    try:
        sent = sent_in(request)
        saved = save_marking(panellist=seat, sent=sent.content, seen=sent.seen, identity=sent.identity)
    except NOT_KEPT as error:
        return not_kept(error, _("The marking could not be read."))
    except MarkingOvertaken as error:
        held = error.panellist
        content = panel_method(held.panel.item).draw_up(held)["content"]
        return overtaken(error, content=content, revision=held.revision, last=held.last_save)
    return kept(saved)


@require_POST
@club_page(Ability.MARK_AS_PANELLIST)
def marking_hand_in(request: HttpRequest, pk: int) -> HttpResponse:
    """Hand it in as it was looked at; what is missing is said on its page."""
    seat = seat_or_404(request, pk)
    try:
        hand_in_marking(panellist=seat, seen=seen_in(request))
    except NotReady as refusal:
        return _at_work(request, seat, refusal.missing, status=422)
    except MarkingOvertaken as error:
        words = [_("%(what)s Look at it below, then hand in.") % {"what": error}]
        return _at_work(request, seat_or_404(request, pk), words, status=409)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, _("Handed in. Thank you."))
    return redirect("marking", request.club.slug, pk)


@require_POST
@club_page(Ability.MARK_AS_PANELLIST)
def marking_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Go on with it until the panel is closed."""
    with told(request, _("Taken back. It counts once you hand it in again.")):
        take_back_marking(panellist=seat_or_404(request, pk))
    return redirect("marking", request.club.slug, pk)
