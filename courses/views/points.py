"""Anatomical points of an exhibit: placed by each person alone, then laid together."""

from __future__ import annotations

import json
import uuid

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from courses.actions.exhibit import say_how_taken
from courses.actions.placement import Overtaken, finish_points, remove_placement, save_points, take_up_points
from courses.forms.points import HowTaken
from courses.models import Exhibit, Placement
from courses.queries.guide import guide, placing_guide, placing_words
from courses.queries.placement import measured_by, placement_of, spread_on
from courses.refusals import Refused
from shared.accounts.permissions import Ability, club_page, may
from shared.web.htmx import answer


def exhibit_to_measure(request: HttpRequest, number: int) -> Exhibit:
    """An exhibit whose picture the member may see, with its points; else 404."""
    return get_object_or_404(measured_by(request.membership, timezone.localdate()), number=number)


@club_page(Ability.MEASURE_EXHIBITS)
def exhibit_points(request: HttpRequest, number: int) -> HttpResponse:
    """Place one's points; once they are finished, see them beside the others'."""
    exhibit = exhibit_to_measure(request, number)
    own = placement_of(exhibit, request.user)
    context = {"exhibit": exhibit, "own": own, "may_edit": may(request.membership, Ability.EDIT_EXHIBITS)}
    if exhibit.drawn or (own and own.finished_at):
        return render(request, "courses/points/spread.html", context | _laid_together(exhibit, own))
    context |= {
        "guide": guide(exhibit.view),
        "ask": _asked(exhibit, own),
        "words": _words(),
        "camera": HowTaken(instance=exhibit),
    }
    return render(request, "courses/points/place.html", context)


def _asked(exhibit: Exhibit, own: Placement | None) -> dict[str, object]:
    """What the script needs: the points to place, what is kept, and the ideal figure to find them by."""
    return placing_guide(exhibit.view) | {
        "content": {"points": own.points if own else {}},
        "revision": own.revision if own else 0,
        "last": str(own.last_save) if own and own.last_save else None,
    }


def _laid_together(exhibit: Exhibit, own: Placement | None) -> dict[str, object]:
    rows = spread_on(exhibit)
    others = [each for each in exhibit.placements.all() if each != own and each.finished_at]
    return {
        "rows": rows,
        "several": any(row.people > 1 for row in rows),
        "others": others,
        "shown": [
            {"name": row.point.name, "label": _(row.point.label), "mean": row.mean, "places": row.places}
            for row in rows
            if row.mean
        ],
    }


@club_page(Ability.MEASURE_EXHIBITS)
@require_POST
def exhibit_points_save(request: HttpRequest, number: int) -> JsonResponse:
    """Keep what the page sends, as JSON: {content, seen, identity}; 409 returns what another window saved."""
    exhibit = exhibit_to_measure(request, number)
    try:
        sent = json.loads(request.body)
        saved = save_points(
            exhibit=exhibit,
            by=request.user,
            sent=sent["content"],
            seen=int(sent["seen"]),
            identity=uuid.UUID(str(sent["identity"])),
        )
    except Overtaken as overtaken:
        kept = overtaken.placement
        said = {"error": str(overtaken), "content": {"points": kept.points}, "revision": kept.revision}
        return JsonResponse(said | {"last": str(kept.last_save)}, status=409)
    except Refused as refusal:
        return JsonResponse({"error": str(refusal)}, status=410)
    except ValidationError as error:
        return JsonResponse({"error": error.messages[0]}, status=422)
    except (ValueError, KeyError, TypeError):
        return JsonResponse({"error": _("The points could not be read.")}, status=422)
    at = timezone.localtime(saved.saved_at).strftime("%H:%M")
    return JsonResponse({"revision": saved.revision, "saved_at": at})


@club_page(Ability.MEASURE_EXHIBITS)
@require_POST
def exhibit_points_finish(request: HttpRequest, number: int) -> HttpResponse:
    """These are my points: from now on they count, and the others' are shown."""
    exhibit = exhibit_to_measure(request, number)
    seen = request.POST.get("seen", "")
    try:
        finish_points(exhibit=exhibit, by=request.user, seen=int(seen) if seen.isdecimal() else None)
    except (Refused, Overtaken) as refusal:
        messages.error(request, str(refusal))
    return redirect("exhibit-points", request.club.slug, number)


@club_page(Ability.MEASURE_EXHIBITS)
@require_POST
def exhibit_points_take_up(request: HttpRequest, number: int) -> HttpResponse:
    """Go on changing one's points, as long as nobody else's have been seen."""
    try:
        take_up_points(exhibit=exhibit_to_measure(request, number), by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("exhibit-points", request.club.slug, number)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_points_remove(request: HttpRequest, number: int, placement: int) -> HttpResponse:
    """Take one person's points off the exhibit."""
    found = get_object_or_404(exhibit_to_measure(request, number).placements, pk=placement)
    try:
        remove_placement(placement=found)
        messages.success(request, _("Removed. They count no longer."))
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("exhibit-points", request.club.slug, number)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_camera(request: HttpRequest, number: int) -> HttpResponse:
    """Say how the photograph was taken."""
    exhibit = exhibit_to_measure(request, number)
    form = HowTaken(request.POST, instance=exhibit)
    if form.is_valid() and not exhibit.drawn:
        say_how_taken(exhibit=form.instance)
    if not request.htmx:
        return redirect("exhibit-points", request.club.slug, number)
    context = {"exhibit": exhibit, "camera": form, "may_edit": True, "camera_saved": timezone.localtime()}
    return answer(request, "courses/points/_camera.html", "courses/points/_camera.html", context)


def _words() -> dict[str, str]:
    """What the script says."""
    return placing_words() | {
        "few": _("Place two points at least."),
        "saved": _("Saved at {at}"),
        "offline": _(
            "No connection. Kept on this device since {at}; it is sent when the connection is back. "
            "You may go on."
        ),
        "signedOut": _(
            "You are signed out. What you placed is kept on this device; sign in again to send it."
        ),
        "refused": _("Not saved: {error}"),
    }
