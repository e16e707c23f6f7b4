"""Places of a module: their words and their order."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from courses.actions.course import move_place, remove_place, word_place
from courses.forms.course import WordPlace
from courses.forms.plate import Direction
from courses.models import Place
from courses.views.module import module_or_404
from shared.accounts.permissions import Ability, club_page
from shared.web.slots import fillings


def place_or_404(request: HttpRequest, place: int) -> Place:
    """A place of a module of the club."""
    places = Place.objects.select_related("module__course", "plate")
    return get_object_or_404(places, pk=place, module__course__edition__breed__club=request.club)


@club_page(Ability.EDIT_COURSES)
def place(request: HttpRequest, place: int) -> HttpResponse:
    """The words of a text, or the title of a quiz's place; a plate has its own page."""
    found = place_or_404(request, place)
    if found.plate_id:
        return redirect("plate", request.club.slug, found.plate_id)
    form = WordPlace(request.POST if request.method == "POST" else None, place=found)
    if request.method == "POST" and form.is_valid():
        word_place(place=found, title=form.cleaned_data["title"], text=form.cleaned_data.get("text", ""))
        at = timezone.localtime().strftime("%H:%M")
        messages.success(request, _("Saved at %(time)s.") % {"time": at})
        return redirect("place", request.club.slug, place)
    status = 422 if request.method == "POST" else 200
    quiz = fillings("quiz place", request, [found])[found]
    context = {"place": found, "form": form, "quiz": quiz}
    return render(request, "courses/place/page.html", context, status=status)


@club_page(Ability.EDIT_COURSES)
@require_POST
def place_move(request: HttpRequest, place: int) -> HttpResponse:
    """Before or after its neighbour."""
    found = place_or_404(request, place)
    form = Direction(request.POST)
    if form.is_valid():
        move_place(place=found, **form.cleaned_data)
    return _places(request, found)


@club_page(Ability.EDIT_COURSES)
@require_POST
def place_remove(request: HttpRequest, place: int) -> HttpResponse:
    """Take a place out of its module."""
    found = place_or_404(request, place)
    remove_place(place=found)
    return _places(request, found)


def _places(request: HttpRequest, place: Place) -> HttpResponse:
    if request.htmx:
        module = module_or_404(request, place.module_id)
        return render(request, "courses/module/_places.html", {"module": module})
    return redirect("module", request.club.slug, place.module_id)
