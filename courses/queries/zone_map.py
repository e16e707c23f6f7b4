"""The dog's outline in profile, cut into its zones: what figures about zones are drawn on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from shapely import make_valid, unary_union
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from courses.figure import ideal, preview, zone_outlines

WIDTH = 1080
# Between two zones a strip of paper stays bare, half of it on either side.
GAP = 3.5

# Which zones a view shows. Common practice; whole dog is judged in profile.
VISIBLE_ZONES: dict[str, frozenset[str]] = {
    "profile": frozenset(
        ["head", "neck", "forequarters", "body", "topline", "hindquarters", "feet", "tail", "coat", "whole"]
    ),
    "front": frozenset(["head", "neck", "forequarters", "body", "feet", "coat"]),
    "rear": frozenset(["hindquarters", "feet", "tail", "topline", "coat"]),
    "head": frozenset(("head", "neck", "coat")),
    "mouth": frozenset(("head",)),
    "feet": frozenset(("feet",)),
    "above": frozenset(["head", "neck", "body", "topline", "hindquarters", "coat", "tail"]),
}


@dataclass(frozen=True)
class ZoneMap:
    """An outline and its zones as SVG path data in a sheet of `width` by `height`."""

    width: int
    height: int
    outline: str
    zones: dict[str, str]


@lru_cache(maxsize=1)
def zone_map() -> ZoneMap:
    """The ideal in profile; computed once, since it never changes while the site runs."""
    drawing = preview("profile", ideal(), width=320)
    height = round(WIDTH * drawing.image.height / drawing.image.width)
    body = unary_union([make_valid(_scaled(contour)) for contour in drawing.outline])
    taken: BaseGeometry = Polygon()
    zones = {}
    for name, contour in zone_outlines("profile", ideal()).items():
        part = body.intersection(make_valid(_scaled(contour))).difference(taken)
        taken = unary_union([taken, part])
        zones[name] = _path(part.buffer(-GAP).simplify(0.8))
    return ZoneMap(WIDTH, height, _path(body.simplify(0.8)), zones)


def _scaled(contour: object) -> Polygon:
    return Polygon([(x * WIDTH, y * WIDTH) for x, y in contour])


def _path(shape: BaseGeometry) -> str:
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    rings = [ring for part in parts if part.area > 60 for ring in (part.exterior, *part.interiors)]
    return "".join("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in ring.coords[:-1]) + "Z" for ring in rings)
