"""The first page of the standard: the club's breeds, and how it reads words of degree."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from courses.actions.breed import add_breed, name_breed, set_readings
from courses.forms.readings import ReadingsForm
from courses.forms.standard import BreedForm
from courses.queries.at_hand import breed_at_hand
from courses.queries.readings import phrases_of
from courses.queries.severity import ladder_of
from courses.queries.standard import breeds_of
from courses.refusals import Refused
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.EDIT_STANDARD)
def standard(request: HttpRequest) -> HttpResponse:
    """Each breed with its editions and the next thing to do."""
    context = {"breeds": breeds_of(request.club), "scale": ladder_of(request.club)}
    return render(request, "courses/standard/standard.html", context)


@club_page(Ability.EDIT_STANDARD)
def breed_new(request: HttpRequest) -> HttpResponse:
    """A breed, and on to its first edition."""
    form = BreedForm(request.POST or None)
    if form.is_valid():
        try:
            breed = add_breed(club=request.club, name=form.cleaned_data["name"])
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect("edition-new", request.club.slug, breed.slug)
    return render(request, "courses/standard/breed_new.html", {"form": form}, status=_status(form))


@club_page(Ability.EDIT_STANDARD)
def breed_name(request: HttpRequest, breed: str) -> HttpResponse:
    """A breed's name."""
    found = breed_at_hand(request.club, breed)
    form = BreedForm(request.POST or None, initial={"name": found.name})
    if form.is_valid():
        name_breed(breed=found, name=form.cleaned_data["name"])
        return redirect("standard", request.club.slug)
    context = {"form": form, "breed": found}
    return render(request, "courses/standard/breed_name.html", context, status=_status(form))


@club_page(Ability.EDIT_STANDARD)
def readings(request: HttpRequest, breed: str) -> HttpResponse:
    """How the club reads each word of degree in this breed's standard."""
    found = breed_at_hand(request.club, breed)
    scale = ladder_of(request.club)
    phrases = phrases_of(found)
    form = ReadingsForm(request.POST or None, phrases=phrases, scale=scale)
    if form.is_valid():
        try:
            set_readings(breed=found, readings=form.readings)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(
                request, _("The club’s readings are kept. Severities confirmed before stay as they are.")
            )
            return redirect("breed-readings", request.club.slug, found.slug)
    context = {"form": form, "breed": found, "scale": scale}
    return render(request, "courses/standard/readings.html", context, status=_status(form))


def _status(form: BreedForm | ReadingsForm) -> int:
    return 422 if form.errors else 200
