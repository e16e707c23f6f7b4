"""The zones of a view as outlines, from the points of the figure, in H units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import hypot

import numpy as np
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from .plan import Plan
from .skeleton import HEAD_LENGTH, Point

# A pin belongs to the first zone that holds it: small parts before the large ones behind them.
ORDER = ("head", "feet", "tail", "topline", "neck", "forequarters", "hindquarters", "body")
PlaceOf = Callable[[str], Point]
Corner = tuple[str, float, float]


def zones(plan: Plan) -> dict[str, BaseGeometry]:
    """Zone by name, without overlaps, in the order of `ORDER`. Coat and whole have no place of their own."""
    raw = _RAW[plan.view](plan.place)
    taken: BaseGeometry = Polygon()
    out: dict[str, BaseGeometry] = {}
    for name in ORDER:
        if name in raw:
            rest = raw[name].difference(taken)
            out[name] = max(getattr(rest, "geoms", [rest]), key=lambda part: part.area)
            taken = taken.union(raw[name])
    return out


def spots(points: Sequence[Point], radius: float) -> BaseGeometry:
    """The area within a radius of a point, or of the line through several."""
    places = [tuple(p) for p in points]
    shape = Spot(places[0]) if len(places) == 1 else LineString(places)
    return shape.buffer(radius)


def _ring(place: PlaceOf, *corners: Corner) -> BaseGeometry:
    """A polygon through points, each moved by (dx, dy)."""
    return Polygon([tuple(place(name) + np.array([dx, dy])) for name, dx, dy in corners]).buffer(0)


def _profile(p: PlaceOf) -> dict[str, BaseGeometry]:
    buttock, chest = p("point_of_buttock"), p("prosternum")
    rump = _ring(
        p,
        ("hip_bone", 0, 0),
        ("set_on", 0.0, 0.012),
        ("point_of_buttock", -0.020, 0),
        ("point_of_hock", 0.004, 0),
        ("hock_joint", 0.20, 0),
        ("hip_bone", 0.30, -0.30),
    )
    ridge = [p(n) - np.array([0, 0.02]) for n in ("withers", "back_middle", "loin_top", "hip_bone", "set_on")]
    return {
        "head": _head(p),
        "feet": box(buttock[0] - 0.40, -0.02, chest[0] + 0.30, 0.082),
        "tail": spots([p("set_on"), p("tail_middle"), p("tail_tip")], 0.085).difference(rump),
        "topline": spots(ridge, 0.055),
        "neck": _ring(
            p,
            ("occiput", -0.05, 0.02),
            ("withers", -0.01, 0.05),
            ("withers", 0.015, -0.02),
            ("point_of_shoulder", -0.02, 0.07),
            ("prosternum", 0.06, 0.06),
            ("jaw_corner", 0.06, -0.02),
            ("jaw_corner", 0, 0),
        ),
        "forequarters": _ring(
            p,
            ("withers", 0, 0),
            ("withers", -0.05, -0.05),
            ("elbow", -0.15, 0.06),
            ("elbow", -0.12, -0.05),
            ("wrist", -0.10, 0),
            ("front_foot", -0.10, 0),
            ("front_foot", 0.20, 0),
            ("elbow", 0.16, -0.08),
            ("prosternum", 0.05, -0.05),
            ("prosternum", 0.06, 0.06),
            ("point_of_shoulder", -0.02, 0.07),
        ),
        "hindquarters": _ring(
            p,
            ("hip_bone", 0.02, 0.02),
            ("set_on", -0.04, 0.02),
            ("point_of_buttock", -0.08, 0),
            ("point_of_hock", -0.07, 0),
            ("rear_foot", -0.10, 0),
            ("rear_foot", 0.32, 0),
            ("hock_joint", 0.32, 0),
            ("stifle", 0.15, -0.04),
            ("stifle", 0.10, 0.05),
        ),
        "body": box(p("stifle")[0] + 0.06, p("brisket")[1] - 0.05, p("brisket")[0] + 0.14, 1.0),
    }


def _head(p: PlaceOf) -> BaseGeometry:
    occiput, nose = p("occiput"), p("nose")
    step = (nose - occiput) / HEAD_LENGTH
    end = hypot(*step)
    a = step / end
    n = np.array([-a[1], a[0]])
    top = max(float((p("ear_tip") - occiput) @ n) / HEAD_LENGTH, 0.1) + 0.05
    corners = [(-0.08, -0.05), (-0.08, top), (0.32, top), (0.52, 0.14), (end + 0.06, 0.10)]
    corners += [(end + 0.06, -0.34), (0.30, -0.42), (0.16, -0.30)]
    return Polygon([tuple(occiput + HEAD_LENGTH * (u * a + v * n)) for u, v in corners]).buffer(0)


def _front(p: PlaceOf) -> dict[str, BaseGeometry]:
    joints = ("point_of_shoulder_l", "elbow_l", "wrist_l", "foot_l")
    wide = max(float(p(name)[0]) for name in joints) + 0.10
    brisket, top = float(p("brisket")[1]), float(p("point_of_shoulder_l")[1]) + 0.13
    return {
        "head": box(-0.22, 1.0, 0.22, 1.46),
        "feet": box(-wide - 0.04, -0.02, wide + 0.04, 0.085),
        "neck": box(-0.16, top, 0.16, 1.0),
        "body": box(-0.07, brisket - 0.03, 0.07, top),
        "forequarters": box(-wide, 0.085, wide, top),
    }


def _rear(p: PlaceOf) -> dict[str, BaseGeometry]:
    joints = ("hip_r", "stifle_r", "hock_r", "rear_foot_r")
    wide = max(float(p(name)[0]) for name in joints) + 0.10
    set_on = p("set_on")
    return {
        "head": box(-0.22, 1.04, 0.22, 1.46),
        "feet": box(-wide, -0.02, wide, 0.085),
        "tail": spots([set_on - np.array([0, 0.01]), p("tail_tip")], 0.06),
        "topline": box(-0.13, set_on[1], 0.13, 1.04),
        "hindquarters": box(-wide, 0.085, wide, set_on[1]),
    }


def _head_plate(p: PlaceOf) -> dict[str, BaseGeometry]:
    neck = _ring(
        p,
        ("occiput", -0.04, 0.03),
        ("occiput", -0.30, -0.25),
        ("occiput", -0.10, -0.45),
        ("jaw_corner", 0.05, -0.22),
        ("jaw_corner", 0.06, -0.01),
        ("jaw_corner", 0, 0),
    )
    return {"head": _head(p), "neck": neck}


def _feet_plate(p: PlaceOf) -> dict[str, BaseGeometry]:
    x, y = p("front_foot")
    return {
        "feet": box(x - 0.4, -0.03, x + 0.5, y + 0.016),
        "forequarters": box(x - 0.4, y + 0.016, x + 0.5, y + 0.32),
    }


_RAW: Mapping[str, Callable[[PlaceOf], dict[str, BaseGeometry]]] = {
    "profile": _profile,
    "front": _front,
    "rear": _rear,
    "head": _head_plate,
    "feet": _feet_plate,
}
