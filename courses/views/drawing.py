"""Drawing an exhibit: quantities and faults are moved, the picture follows, and it is kept with its points."""

from __future__ import annotations

import io

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from courses.actions.drawing import keep_drawing
from courses.drawn import regions_of
from courses.figure import draw, preview
from courses.forms.drawing import DrawingForm
from courses.models import Breed
from shared.accounts.permissions import Ability, club_page

PREVIEW_WIDTH = 640
KEPT_WIDTH = 1600


@club_page(Ability.EDIT_EXHIBITS)
def drawing_new(request: HttpRequest) -> HttpResponse:
    """The page of sliders, as its address says they stand."""
    return _page(request, DrawingForm(request.GET or {"view": "profile"}))


def _page(request: HttpRequest, form: DrawingForm, status: int = 200) -> HttpResponse:
    query = (request.POST if request.method == "POST" else request.GET).copy()
    query.pop("csrfmiddlewaretoken", None)
    context = {
        "form": form,
        "valid": form.is_valid(),
        "query": query.urlencode(),
        "breeds": Breed.objects.filter(club=request.club)[:50],
    }
    return render(request, "courses/drawing/new.html", context, status=status)


@require_GET
@club_page(Ability.EDIT_EXHIBITS)
def drawing_preview(request: HttpRequest) -> HttpResponse:
    """The contour in flat tone, quickly; 422 says in words why a figure cannot stand."""
    form = DrawingForm(request.GET)
    if not form.is_valid():
        return JsonResponse({"error": _words(form)}, status=422)
    drawing = preview(form.shown_view, form.cleaned_data["settings"], width=PREVIEW_WIDTH)
    picture = io.BytesIO()
    drawing.image.save(picture, "PNG", compress_level=1)
    return HttpResponse(picture.getvalue(), content_type="image/png")


@require_GET
@club_page(Ability.EDIT_EXHIBITS)
def drawing_regions(request: HttpRequest) -> HttpResponse:
    """Where the picture differs for each fault, as a key would propose it."""
    form = DrawingForm(request.GET)
    if not form.is_valid():
        return JsonResponse({"error": _words(form)}, status=422)
    settings, faults = form.cleaned_data["settings"], form.cleaned_data["faults"]
    regions = {key: regions_of(form.shown_view, settings, key, degree) for key, degree in faults.items()}
    return JsonResponse({"regions": [regions[key] for key in faults]})


@require_POST
@club_page(Ability.EDIT_EXHIBITS)
def drawing_keep(request: HttpRequest) -> HttpResponse:
    """Draw the whole plate and keep it as an exhibit with its points, verdict and proposed key."""
    form = DrawingForm(request.POST)
    chosen = str(request.POST.get("breed", ""))
    breed = Breed.objects.filter(club=request.club, pk=chosen if chosen.isdecimal() else 0).first()
    if form.is_valid() and breed is None:
        form.add_error(None, _("Say of which of the club’s breeds it is."))
    if not form.is_valid():
        return _page(request, form, status=422)
    exhibit = keep_drawing(
        club=request.club,
        breed=breed,
        drawing=draw(form.shown_view, form.cleaned_data["settings"], width=KEPT_WIDTH),
        settings=form.cleaned_data["settings"],
        faults=form.cleaned_data["faults"],
        made_by=request.user,
    )
    return redirect("exhibit", request.club.slug, exhibit.number)


def _words(form: DrawingForm) -> str:
    """The first reason, in words."""
    errors = next(iter(form.errors.values()), [_("This figure cannot be drawn.")])
    return str(errors[0])
