"""Which part of the picture differs from the ideal, and in which zone a place lies.

A fault moves more than itself: an upright shoulder carries neck and head forward. So the difference of
the two contours counts only within the zones of the parameters that differ, and the bones concerned are
added to it.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from shapely import make_valid, unary_union
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from .drawing import Place, plan
from .frame import Frame
from .parameters import PARAMETERS
from .plan import Plan
from .settings import Settings, ideal
from .zones import spots, zones

Region = tuple[Place, ...]
MOST_CORNERS = 16
SMALLEST = 0.0012

# Bones or places that a parameter concerns: names of points, joined in a line, and the reach in H.
Focus = tuple[tuple[str, ...], float]
_BOTH = ("_l", "_r")
FOCUS: Mapping[str, Mapping[str, tuple[Focus, ...]]] = {
    "profile": {
        "head_tilt": ((("occiput", "nose"), 0.06),),
        "muzzle_ratio": ((("stop", "nose"), 0.06),),
        "muzzle_depth": ((("stop", "nose"), 0.06),),
        "underjaw": ((("chin",), 0.05),),
        "jaw_offset": ((("chin",), 0.05),),
        "lips": ((("chin", "jaw_corner"), 0.04),),
        "stop": ((("stop",), 0.045),),
        "skull_dome": ((("occiput", "stop"), 0.05),),
        "eye_size": ((("eye_inner", "eye_outer"), 0.03),),
        "eye_roundness": ((("eye_inner", "eye_outer"), 0.03),),
        "eye_paleness": ((("eye_inner", "eye_outer"), 0.03),),
        "ear_length": ((("ear_base", "ear_tip"), 0.05),),
        "ear_set": ((("ear_base", "ear_tip"), 0.05),),
        "ear_fold": ((("ear_base", "ear_tip"), 0.05),),
        "neck_length": ((("withers", "occiput"), 0.08),),
        "neck_angle": ((("withers", "occiput"), 0.08),),
        "ewe_neck": ((("withers", "occiput"), 0.07),),
        "neck_depth": ((("withers", "occiput"), 0.08),),
        "dewlap": ((("jaw_corner", "prosternum"), 0.05),),
        "layback": ((("withers", "point_of_shoulder"), 0.06),),
        "upper_arm_angle": ((("point_of_shoulder", "elbow"), 0.06),),
        "arm_ratio": ((("point_of_shoulder", "elbow"), 0.06),),
        "forechest": ((("prosternum",), 0.06),),
        "pastern_slope": ((("wrist", "front_foot"), 0.045),),
        "wrist_set": ((("wrist",), 0.065),),
        "chest_depth": ((("elbow", "brisket"), 0.06),),
        "tuck_up": ((("flank", "belly"), 0.05),),
        "roach": ((("back_middle", "loin_top", "hip_bone"), 0.05),),
        "dip": ((("withers", "back_middle", "loin_top"), 0.05),),
        "rump_height": ((("loin_top", "hip_bone", "set_on"), 0.06),),
        "pelvis_slope": ((("hip_bone", "set_on"), 0.06), (("hip_bone", "point_of_buttock"), 0.04)),
        "stifle_angle": ((("hip_joint", "stifle", "hock_joint"), 0.05),),
        "hock_angle": ((("stifle", "hock_joint", "rear_foot"), 0.045),),
        "rear_pastern": ((("hock_joint", "rear_foot"), 0.045),),
        "rear_pastern_length": ((("hock_joint", "rear_foot"), 0.045),),
        "thigh_breadth": ((("hip_joint", "stifle"), 0.10),),
        "foot_arch": ((("front_foot",), 0.07), (("rear_foot",), 0.07)),
        "foot_length": ((("front_foot",), 0.07), (("rear_foot",), 0.07)),
        "nail_length": ((("front_foot",), 0.07), (("rear_foot",), 0.07)),
        "tail_base": ((("set_on", "tail_middle", "tail_tip"), 0.06),),
        "tail_curl": ((("set_on", "tail_middle", "tail_tip"), 0.06),),
        "tail_length": ((("set_on", "tail_middle", "tail_tip"), 0.06),),
        "tail_brush": ((("set_on", "tail_middle", "tail_tip"), 0.06),),
        "body_length": ((("withers", "hip_bone"), 0.10),),
        "leg_shortening": ((("elbow", "wrist"), 0.07), (("stifle", "hock_joint"), 0.07)),
        "bone": ((("elbow", "front_foot"), 0.05), (("hock_joint", "rear_foot"), 0.05)),
        "pigment": ((("nose",), 0.045),),
    },
}


def zone_outlines(view: str, settings: Settings) -> dict[str, Region]:
    """The outline of each zone that has a place in this view, in picture units; none overlap."""
    drawn = plan(view, settings)
    frame = drawn.frame(1000)
    return {name: _polygon(shape, frame) for name, shape in zones(drawn).items()}


def changed_regions(view: str, settings: Settings, baseline: Settings | None = None) -> list[Region]:
    """Simple polygons of at most `MOST_CORNERS` corners round what differs from the baseline.

    Largest first, in picture units; empty when nothing differs that this view shows.
    """
    base = baseline if baseline is not None else ideal()
    names = [n for n in PARAMETERS if settings[n] != base[n] and view in PARAMETERS[n].views]
    if not names:
        return []
    drawn, other = plan(view, settings), plan(view, base)
    found = unary_union([_focus(drawn, n) for n in names] + [_difference(drawn, other, names)])
    joined = found.buffer(0.03).buffer(-0.03)
    frame = drawn.frame(1000)
    parts = [p for p in getattr(joined, "geoms", [joined]) if p.area > SMALLEST]
    parts.sort(key=lambda p: -p.area)
    return [_polygon(_simplified(p), frame) for p in parts]


def _focus(drawn: Plan, name: str) -> BaseGeometry:
    rows = FOCUS.get(drawn.view, {}).get(name, ())
    return unary_union([spots([drawn.place(p) for p in line], reach) for line, reach in rows])


def _figure(drawn: Plan) -> BaseGeometry:
    shapes = [make_valid(Polygon(c.points)) for layer in drawn.layers for c in layer.shapes.values()]
    return unary_union(shapes)


def _difference(drawn: Plan, other: Plan, names: list[str]) -> BaseGeometry:
    here, there = zones(drawn), zones(other)
    wanted = {PARAMETERS[n].zone for n in names} & set(here)
    if not wanted:
        return Polygon()
    where = unary_union([here[z] for z in wanted] + [there[z] for z in wanted])
    both = _figure(drawn).symmetric_difference(_figure(other)).intersection(where)
    return both.buffer(-0.006).buffer(0.026)


def _simplified(shape: Polygon) -> Polygon:
    tolerance = 0.004
    outer = Polygon(shape.exterior)
    while len(outer.exterior.coords) - 1 > MOST_CORNERS:
        outer = Polygon(Polygon(shape.exterior).simplify(tolerance).exterior)
        tolerance *= 1.35
    return outer


def _polygon(shape: BaseGeometry, frame: Frame) -> Region:
    corners = frame.picture(np.array(shape.exterior.coords)[:-1])
    return tuple((float(x), float(y)) for x, y in corners)
