"""The order in which points are placed, and a small drawing of the figure that shows where each one is."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext as _
from shapely import make_valid, unary_union
from shapely.geometry import Polygon

from courses.figure import VIEWS, ideal
from courses.figure.drawing import plan
from courses.measures.points import BONES, POINTS, AnatomicalPoint

# These come first: they say where the dog stands, how large it is and which way it faces.
ANCHORS = ("withers", "ground_front", "ground_rear", "ground_l", "ground_r")
TOLERANCE = 0.0012
MARGIN = 0.02


@dataclass(frozen=True)
class Guide:
    """The ideal figure in lines, far parts first, in thousandths of the sheet's longer side.

    `box` is the part of the sheet that the dog covers, as SVG's viewBox; `places` hold the points in
    picture units of that sheet.
    """

    box: str
    paths: tuple[str, ...]
    places: dict[str, tuple[float, float]]


def points_in_order(view: str) -> list[AnatomicalPoint]:
    """The points of a view, the ones that fix the dog's stance first."""
    points = POINTS.get(view, ())
    first = [point for name in ANCHORS for point in points if point.name == name]
    return first + [point for point in points if point not in first]


@lru_cache(maxsize=len(VIEWS))
def guide(view: str) -> Guide | None:
    """None for a view in which no figure is drawn or no point is placed. Made once, it is kept."""
    if view not in VIEWS or view not in POINTS:
        return None
    drawn = plan(view, ideal())
    frame = drawn.frame(1000)
    shapes = [
        unary_union([make_valid(Polygon(frame.picture(shape.points))) for shape in layer.shapes.values()])
        for layer in drawn.layers
    ]
    sheet = Polygon([(0, 0), (1, 0), (1, 1), (0, 1)])
    left, top, right, bottom = unary_union(shapes).intersection(sheet).bounds
    box = (left - MARGIN, top - MARGIN, right - left + 2 * MARGIN, bottom - top + 2 * MARGIN)
    return Guide(
        " ".join(f"{1000 * number:.0f}" for number in box),
        tuple(_path(shape.simplify(TOLERANCE)) for shape in shapes),
        {name: tuple(map(float, frame.picture(place))) for name, place in drawn.points.items()},
    )


def placing_guide(view: str, names: Container[str] | None = None) -> dict[str, Any]:
    """What `placing.js` is given: the points to place, all of the view or these, and how to find them.

    Nothing in it is of the exhibit: the places are those of the ideal figure.
    """
    drawn = guide(view)
    return {
        "points": [
            {"name": point.name, "label": _(point.label), "where": _(point.where)}
            for point in points_in_order(view)
            if names is None or point.name in names
        ],
        "bones": BONES.get(view, ()),
        "ideal": drawn.places if drawn else {},
    }


def placing_words() -> dict[str, str]:
    """What `placing.js` says, in the reader's language; what stands in braces is filled in by it."""
    return {
        "of": _("Point {n} of {all}"),
        "placed": _("placed"),
        "hidden": _("not visible"),
        "waiting": _("not yet"),
        "said": _("{label} placed. Next: {next}."),
        "saidHidden": _("{label} is not visible. Next: {next}."),
        "nudged": _("{label} moved."),
        "all": _("All points are placed or not visible."),
        "count": _("{placed} placed, {hidden} not visible, {left} left"),
        "undo": _("Undo: {label}"),
    }


def _path(shape: Polygon) -> str:
    rings = [part.exterior for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    return "".join(
        "M" + "L".join(f"{1000 * x:.0f} {1000 * y:.0f}" for x, y in ring.coords[:-1]) + "Z" for ring in rings
    )
