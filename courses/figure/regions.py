"""Which part of the picture differs from the ideal, and in which zone a place lies.

A fault moves more than itself: an upright shoulder carries neck and head forward, a short upper arm the
whole leg below it. So the difference of the two contours counts only within the zones of the parameters
that differ, near the figure as it is now drawn, and on a leg near the bones concerned (`focus`) only: what
hangs below them is carried along. The bones or marks concerned are added to it.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from shapely import make_valid, unary_union
from shapely.affinity import translate
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from .drawing import Place, plan
from .focus import focus
from .frame import Frame
from .parameters import PARAMETERS
from .plan import Plan
from .settings import Settings, ideal
from .zones import zones

Region = tuple[Place, ...]
MOST_CORNERS = 16
SMALLEST = 0.0016
_WIDTH = 1000
# On plates two figures are compared with this point of both in one place.
_ANCHOR = {"head": "occiput", "feet": "front_foot"}
_LEGS = {"forequarters", "hindquarters"}
# So far beyond the bones concerned a leg's changed contour still belongs to them, in H.
_BESIDE_BONES = 0.03


def zone_outlines(view: str, settings: Settings) -> dict[str, Region]:
    """The outline of each zone that has a place in this view, in picture units; none overlap."""
    drawn = plan(view, settings)
    frame = drawn.frame(_WIDTH)
    sheet = _sheet(drawn, frame)
    shown = {name: shape.intersection(sheet) for name, shape in zones(drawn).items()}
    return {name: _polygon(_largest(shape), frame) for name, shape in shown.items() if not shape.is_empty}


def changed_regions(view: str, settings: Settings, baseline: Settings | None = None) -> list[Region]:
    """Simple polygons of at most `MOST_CORNERS` corners round what differs from the baseline.

    Largest first, in picture units; empty when nothing differs that this view shows.
    """
    base = baseline if baseline is not None else ideal()
    names = [n for n in PARAMETERS if abs(settings[n] - base[n]) > 1e-9 and view in PARAMETERS[n].views]
    if not names:
        return []
    drawn, other = plan(view, settings), plan(view, base)
    frame = drawn.frame(_WIDTH)
    reach = frame.width / frame.scale / 2.14
    concerned = {name: focus(drawn, settings, name) for name in names}
    found = unary_union([*concerned.values(), _difference(drawn, other, concerned, reach)])
    joined = found.buffer(0.03 * reach).buffer(-0.03 * reach).intersection(_sheet(drawn, frame))
    parts = [p for p in getattr(joined, "geoms", [joined]) if p.area > SMALLEST * reach * reach]
    parts.sort(key=lambda p: -p.area)
    return [_polygon(_simplified(p, reach), frame) for p in parts]


def _sheet(drawn: Plan, frame: Frame) -> BaseGeometry:
    """What the picture shows, in H."""
    if drawn.window:
        return Polygon([tuple(p) for p in drawn.window])
    left, top = -frame.ox / frame.scale, frame.oy / frame.scale
    return box(left, top - frame.height / frame.scale, left + frame.width / frame.scale, top)


def _largest(shape: BaseGeometry) -> BaseGeometry:
    return max(getattr(shape, "geoms", [shape]), key=lambda part: part.area)


def _figure(drawn: Plan) -> BaseGeometry:
    shapes = [
        make_valid(Polygon(c.points)).simplify(0.001) for layer in drawn.layers for c in layer.shapes.values()
    ]
    return unary_union(shapes)


def _difference(
    drawn: Plan, other: Plan, concerned: Mapping[str, BaseGeometry], reach: float
) -> BaseGeometry:
    """Where the two contours part, within the zones concerned and near this figure.

    Ears and tail are left out: they may lie elsewhere altogether, and are regions as they are.
    """
    moved = {n for n in concerned if not n.startswith(("ear_", "tail_"))}
    here, there = zones(drawn), zones(other)
    wanted = {PARAMETERS[n].zone for n in moved} & set(here)
    if not wanted:
        return Polygon()
    dx, dy = (drawn.place(_ANCHOR[drawn.view]) - other.place(_ANCHOR[drawn.view])) if drawn.window else (0, 0)
    places = []
    for zone in wanted:
        place = here[zone].union(translate(there[zone], dx, dy))
        if zone in _LEGS:
            bones = unary_union([concerned[n] for n in moved if PARAMETERS[n].zone == zone])
            place = place.intersection(bones.buffer(_BESIDE_BONES))
        places.append(place)
    where = unary_union(places)
    now = _figure(drawn)
    both = now.symmetric_difference(translate(_figure(other), dx, dy)).intersection(where)
    thick = both.buffer(-0.006 * reach).buffer(0.022 * reach)
    return thick.intersection(now.buffer(0.035 * reach))


def _simplified(shape: BaseGeometry, reach: float) -> BaseGeometry:
    tolerance = 0.003 * reach
    outer = Polygon(shape.exterior)
    while len(outer.exterior.coords) - 1 > MOST_CORNERS:
        outer = Polygon(Polygon(shape.exterior).simplify(tolerance).exterior)
        tolerance *= 1.35
    return outer


def _polygon(shape: BaseGeometry, frame: Frame) -> Region:
    corners = frame.picture(np.array(shape.exterior.coords)[:-1])
    return tuple((float(x), float(y)) for x, y in corners)
