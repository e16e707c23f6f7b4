"""The club's severity ladder, and the level that it reads from the words of a clause."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from django.utils import timezone

from courses.models import Breed, SeverityScale
from shared.accounts.models import Club
from shared.prose.degree_words import LEVELS, Suggestion, suggest_severity

USUAL_LABELS = ("Minor", "Moderate", "Serious", "Disqualifying")
USUAL_WEIGHTS = (1, 2, 4, 8)

Readings = tuple[tuple[str, str | None], ...]


@dataclass(frozen=True)
class Reading:
    """The level that a clause's words suggest, the phrase it rests on, and lighter ones beside it."""

    level: int
    phrase: str
    lighter: tuple[str, ...] = ()


def ladder_of(club: Club, on: datetime.date | None = None) -> SeverityScale:
    """The ladder in force on a day, today if none is given; the usual four until a club sets its own."""
    day = on or timezone.localdate()
    kept = SeverityScale.objects.filter(club=club, effective_from__lte=day).first()
    return kept or SeverityScale(
        club=club,
        labels=list(USUAL_LABELS),
        weights=list(USUAL_WEIGHTS),
        disqualifying=True,
        effective_from=day,
    )


def level_of(key: str, scale: SeverityScale) -> int:
    """The level of a ladder that stands for one of the four by which words of degree are read.

    A level of that name, else the heaviest for what disqualifies, else the place from light to heavy.
    """
    names = [label.casefold() for label in scale.labels]
    if key in names:
        return names.index(key)
    top = len(names) - 1
    if key == "disqualifying":
        return top
    heaviest = top - 1 if scale.disqualifying else top
    return round(LEVELS.index(key) * heaviest / 2)


def readings_of(breed: Breed) -> Readings:
    """The club's own readings of words of degree, in a form that can be kept in mind by a cache."""
    return tuple(sorted(breed.readings.items()))


def reading_of(text: str, readings: Readings, scale: SeverityScale) -> Reading | None:
    """How the club reads a clause's words of degree; None where they weigh nothing."""
    found = _suggestion(text, readings)
    if found is None:
        return None
    lighter = tuple(word.text for word in found.lighter)
    return Reading(level_of(found.level, scale), found.because.text, lighter)


@lru_cache(maxsize=4096)
def _suggestion(text: str, readings: Readings) -> Suggestion | None:
    return suggest_severity(text, _mapping(readings))


@lru_cache(maxsize=64)
def _mapping(readings: Readings) -> Mapping[str, str | None]:
    return dict(readings)
