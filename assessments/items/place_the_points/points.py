"""Which points an item asks and which its key needs beside them."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.models import Item
from courses.measures.points import POINTS, point_label

# The height at the withers is taken from these; a view without them has no unit in which to mark.
GROUND = {"profile": ("ground_front", "ground_rear"), "front": ("ground_l", "ground_r")}
WITHERS = "withers"
VIEWS = tuple(GROUND)

Place = list[float] | None


def asked_points(item: Item) -> list[str]:
    """The names asked, in the order in which the view has its points."""
    wanted = set(item.asking.get("points", []))
    return [point.name for point in POINTS.get(item.exhibit.view, ()) if point.name in wanted]


def keyed_points(item: Item) -> list[str]:
    """The names asked, and those that tell the height."""
    needed = {*asked_points(item), WITHERS, *GROUND.get(item.exhibit.view, ())}
    return [point.name for point in POINTS.get(item.exhibit.view, ()) if point.name in needed]


def label_of(view: str, name: str) -> str:
    """The point's word, in the reader's language."""
    return str(_(point_label(view, name)))


def grounds_among(view: str, points: dict[str, Place]) -> list[tuple[float, float]]:
    """The ground points of the view that have a place."""
    return [(at[0], at[1]) for name in GROUND.get(view, ()) if (at := points.get(name))]


def places_of(content: dict[str, Any]) -> dict[str, Place]:
    """A key's places without their spread."""
    return {name: row["place"] for name, row in content.get("points", {}).items()}
