"""Breeds of a club, and how the club reads words of degree in their standards."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction
from django.utils.text import slugify
from django.utils.translation import gettext as _

from courses.models import Breed
from courses.refusals import Refused
from shared.accounts.models import Club
from shared.prose.degree_words import DEFAULT_READINGS
from shared.web.limits import BREEDS_PER_CLUB, READINGS_PER_BREED

# The address of the form for a new breed stands where a breed's own would.
_TAKEN = frozenset({"new"})


@transaction.atomic
def add_breed(*, club: Club, name: str) -> Breed:
    """A breed with an address made of its name."""
    slugs = set(club.breeds.values_list("slug", flat=True))
    if len(slugs) >= BREEDS_PER_CLUB:
        raise Refused(_("A club teaches at most %(n)d breeds here.") % {"n": BREEDS_PER_CLUB})
    stem = slugify(name)[:50] or "breed"
    names = [stem, *(f"{stem}-{n}" for n in range(2, BREEDS_PER_CLUB + 3))]
    slug = next(name for name in names if name not in slugs | _TAKEN)
    return Breed.objects.create(club=club, name=name, slug=slug)


def name_breed(*, breed: Breed, name: str) -> Breed:
    """Its address stays, since it may be written down somewhere."""
    breed.name = name
    breed.save(update_fields=["name"])
    return breed


def set_readings(*, breed: Breed, readings: Mapping[str, str | None]) -> Breed:
    """How the club reads words of degree; what is read as usual is not kept."""
    own = {
        phrase: level
        for phrase, level in readings.items()
        if phrase not in DEFAULT_READINGS or DEFAULT_READINGS[phrase] != level
    }
    if len(own) > READINGS_PER_BREED:
        raise Refused(_("At most %(n)d readings of your own are kept.") % {"n": READINGS_PER_BREED})
    breed.readings = own
    breed.save(update_fields=["readings"])
    return breed
