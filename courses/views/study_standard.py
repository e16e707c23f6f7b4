"""The standard in force, to be read."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from courses.queries.severity import readings_of
from courses.queries.standard import edition_in_force, sections_to_read
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.STUDY)
def study_standard(request: HttpRequest) -> HttpResponse:
    """The edition in force of a breed, the first one unless `?breed=` names it, set as a page of a book."""
    breeds = list(request.club.breeds.all())
    slug = request.GET.get("breed")
    breed = get_object_or_404(request.club.breeds, slug=slug) if slug else (breeds or [None])[0]
    edition = edition_in_force(breed) if breed else None
    context = {
        "breeds": breeds,
        "breed": breed,
        "edition": edition,
        "sections": sections_to_read(edition) if edition else [],
        "readings": readings_of(breed) if breed else (),
    }
    return render(request, "courses/standard/study.html", context)
