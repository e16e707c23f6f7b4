"""Blanking parts of a photograph, and deleting the file that it came from."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from courses.actions.blanking import blank_exhibit, remove_original, state_of_picture
from courses.forms.blanking import Blanks
from courses.models import Exhibit
from courses.refusals import Refused
from courses.views.exhibit import exhibit_or_404
from shared.accounts.permissions import Ability, club_page
from shared.pictures.opening import PictureRefused
from shared.web.drawing import drawing_words
from shared.web.limits import BLANK_CORNERS, BLANKS_PER_EXHIBIT


@club_page(Ability.EDIT_EXHIBITS)
def exhibit_blank(request: HttpRequest, number: int) -> HttpResponse:
    """Draw what is to be hidden, and paint it into every size of the picture."""
    exhibit = exhibit_or_404(request, number)
    if exhibit.drawn:
        raise Http404("Drawings are not blanked.")
    if request.method != "POST":
        return _page(request, exhibit)
    form = Blanks(request.POST)
    trouble = _blanked(exhibit, form)
    if trouble:
        exhibit = exhibit_or_404(request, number)
        return _page(request, exhibit, drawn=form.cleaned_data.get("shapes"), trouble=trouble, status=422)
    messages.success(request, _said(exhibit_or_404(request, number)))
    return redirect("exhibit-blank", request.club.slug, number)


def _blanked(exhibit: Exhibit, form: Blanks) -> str:
    """Why nothing was blanked, or nothing."""
    if not form.is_valid():
        return _("What you drew could not be read.")
    try:
        blank_exhibit(exhibit=exhibit, **form.cleaned_data)
    except (Refused, ValidationError) as refusal:
        return refusal.messages[0] if isinstance(refusal, ValidationError) else str(refusal)
    except (OSError, PictureRefused):
        return _("The file that was taken in could not be read. Nothing was changed.")
    return ""


def _said(exhibit: Exhibit) -> str:
    count = len(exhibit.blanked)
    if not count:
        return _("Nothing is painted over any more.")
    return ngettext(
        "One part is painted over in every size of the picture.",
        "%(n)s parts are painted over in every size of the picture.",
        count,
    ) % {"n": count}


def _page(
    request: HttpRequest,
    exhibit: Exhibit,
    drawn: object = None,
    trouble: str = "",
    status: int = 200,
) -> HttpResponse:
    context = {
        "exhibit": exhibit,
        "trouble": trouble,
        "seen": state_of_picture(exhibit),
        "blanks": {
            "burnt": exhibit.blanked,
            "shapes": drawn if isinstance(drawn, list) else exhibit.blanked,
            "fixed": not exhibit.original,
            "most": {"regions": BLANKS_PER_EXHIBIT, "corners": BLANK_CORNERS},
        },
        "words": drawing_words() | _words(),
    }
    return render(request, "courses/exhibit/blank.html", context, status=status)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_original(request: HttpRequest, number: int) -> HttpResponse:
    """Delete the file that was taken in."""
    try:
        remove_original(exhibit=exhibit_or_404(request, number))
        messages.success(request, _("The file that was taken in is deleted."))
    except ValidationError as error:
        messages.error(request, error.messages[0])
    return redirect("exhibit", request.club.slug, number)


def _words() -> dict[str, str]:
    """What the editor says here instead of its usual words."""
    return {
        "draw_for": _("Hide a part:"),
        "drawing_for": _("Hiding a part:"),
        "delete_region": _("Show this part again"),
        "region": _("Hidden part {n}, {corners} corners"),
        "corner": _("Corner {n} of {of}, hidden part {region}"),
        "most_regions": _("One picture has at most {n} hidden parts."),
        "none": _("Nothing drawn yet."),
        "count": _("{n} parts drawn."),
        "one": _("One part drawn."),
        "fixed": _("This part is painted over for good."),
    }
