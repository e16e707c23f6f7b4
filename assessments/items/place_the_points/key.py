"""The key of placed points: {"points": {name: {"place": [x, y] or None, "spread": heights}}}.

It holds the points asked and those that tell the height at the withers. A place is in units of the picture's
longer side, None where the point is not visible; a name that is missing has not been decided yet.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, hypot
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from assessments.items.place_the_points.points import (
    WITHERS,
    asked_points,
    grounds_among,
    keyed_points,
    label_of,
    places_of,
)
from assessments.items.reading import key_parts, note_of, number_of, refused
from assessments.models import Fit, Item, Key
from assessments.scoring.consensus import PANEL_FOR_EXAMINATION
from assessments.scoring.points import (
    DEFAULT_POINT_RULES,
    KeyPoint,
    PointKey,
    height_of,
    settle,
    whole_within,
)
from courses.models import Exhibit
from courses.queries.measures import finished
from courses.validators import read_points

SPREAD_PLACES = 10_000  # a hundredth of a per cent


@dataclass(frozen=True)
class Proposal:
    """What the placements on an exhibit amount to; `people` is 0 where a drawing knows its points exactly.

    `decided` says of each point how many placed it or said that it is not visible; `height` is the dog's, in
    picture units, None where the placements do not tell it.
    """

    points: dict[str, dict[str, Any]]
    people: int
    exact: bool
    decided: dict[str, int]
    height: float | None


def read_key(sent: object, item: Item) -> dict[str, Any]:
    """What `save_draft` takes; KeyRefused where a place or a spread cannot be."""
    parts = key_parts(sent)
    rows = {name: key_parts(row) for name, row in key_parts(parts.get("points")).items()}
    if set(rows) - set(keyed_points(item)):
        raise refused(_("The key has a point that is not asked."))
    exhibit = item.exhibit
    try:
        given = {name: row.get("place") for name, row in rows.items()}
        places = read_points({"points": given}, exhibit.view, exhibit.width, exhibit.height)
    except ValidationError as error:
        raise refused(error.messages[0]) from error
    points = {name: {"place": places[name], "spread": _spread(rows[name], exhibit, name)} for name in rows}
    return {"sound": False, "note": note_of(parts), "content": {"points": points}}


def _spread(row: dict[str, Any], exhibit: Exhibit, name: str) -> float:
    spread = number_of(row.get("spread", 0))
    if spread is None or not 0 <= spread <= 1:
        words = _("%(point)s: its spread must lie between 0 and 100 %% of the height.")
        raise refused(words % {"point": label_of(exhibit.view, name)})
    return float(spread)


def proposed(item: Item) -> Proposal:
    """The middle of the finished placements and its spread; nothing where they do not tell the height."""
    view, counted = item.exhibit.view, finished(item.exhibit.placements.all())
    exact = [placement for placement in counted if placement.exact]
    counted = exact[:1] or counted
    said = {name: _said([each.points for each in counted], name) for name in keyed_points(item)}
    if exact:
        # A drawing knows all its points; one that it does not export is not visible.
        said = {name: places or [None] for name, places in said.items()}
    said = {name: places for name, places in said.items() if places}
    height = height_at(view, {name: settle(name, places, 1).place for name, places in said.items()})
    people = 0 if exact else len(counted)
    points = {name: _row(settle(name, places, height)) for name, places in said.items()} if height else {}
    decided = {name: len(places) for name, places in said.items()}
    return Proposal(points, people, bool(exact), decided, height)


def _said(placements: list[dict[str, Any]], name: str) -> list[tuple[float, float] | None]:
    """What each of those who decided about a point said of it."""
    return [at and (at[0], at[1]) for points in placements if name in points for at in [points[name]]]


def _row(point: KeyPoint) -> dict[str, Any]:
    """Rounded so that whoever placed it still lies within."""
    place = point.place and [round(number, 6) for number in point.place]
    return {"place": place, "spread": ceil(point.spread * SPREAD_PLACES) / SPREAD_PLACES}


def height_at(view: str, places: dict[str, Any]) -> float | None:
    """The height at the withers in picture units; None where the points do not tell it."""
    withers, grounds = places.get(WITHERS), grounds_among(view, places)
    if not withers or not grounds:
        return None
    try:
        return height_of((withers[0], withers[1]), grounds) or None
    except ValueError:
        return None


def lacking(key: Key) -> list[str]:
    """What the key still needs, in words."""
    item, rows = key.item, key.content.get("points", {})
    view = item.exhibit.view
    lacks = [
        missing_words()["place"] % {"point": label_of(view, name)}
        for name in asked_points(item)
        if name not in rows
    ]
    if height_at(view, places_of(key.content)) is None:
        lacks.append(missing_words()["height"])
    return lacks + [
        missing_words()["wide"] % {"point": label_of(view, name)}
        for name in asked_points(item)
        if name in rows and rows[name]["place"] and rows[name]["spread"] > DEFAULT_POINT_RULES.widest
    ]


def fit_of(key: Key) -> Fit:
    """Fit for examination where it is what a drawing knows, or what at least three people placed, point by point.

    The educator may have moved a point within the spread of those who placed it, no further.
    """
    found = proposed(key.item)
    asked = asked_points(key.item)
    enough = found.exact or all(found.decided.get(name, 0) >= PANEL_FOR_EXAMINATION for name in asked)
    kept = found.height and all(_agrees(key.content["points"][name], found, name) for name in asked)
    return Fit.EXAMINATION if enough and kept else Fit.PRACTICE


def _agrees(row: dict[str, Any], found: Proposal, name: str) -> bool:
    place, middle = row["place"], found.points[name]["place"]
    if place is None or middle is None:
        return place is middle
    point = KeyPoint(name, (middle[0], middle[1]), found.points[name]["spread"])
    apart = hypot(place[0] - middle[0], place[1] - middle[1]) / (found.height or 1)
    return apart <= whole_within(point, DEFAULT_POINT_RULES)


def missing_words() -> dict[str, str]:
    """What is said of a part that is missing or will not do; the page's script says the same."""
    return {
        "place": _("%(point)s: place it, or say that it is not visible."),
        "height": _(
            "Distances count in heights at the withers: place the withers and the ground. An exhibit that does "
            "not show them cannot be asked in this way."
        ),
        "wide": _(
            "%(point)s: those who placed it are too far apart for it to be asked. Settle its place and spread, "
            "or make an item without it."
        ),
    }


def point_key(key: Key) -> PointKey:
    """A published key for the scoring: the points asked, and the height."""
    item, rows = key.item, key.content["points"]
    view = item.exhibit.view
    points = {
        name: KeyPoint(label_of(view, name), place and (place[0], place[1]), rows[name]["spread"])
        for name in asked_points(item)
        for place in [rows[name]["place"]]
    }
    return PointKey(points, height_at(view, places_of(key.content)) or 0.0)
