"""The bones, places or marks that each parameter concerns in each view."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np
from numpy.typing import NDArray
from shapely import make_valid, unary_union
from shapely.geometry import MultiPoint, Polygon, box
from shapely.geometry.base import BaseGeometry

from .curves import Array
from .plan import Plan
from .settings import Settings
from .zones import spots

# Names of points, joined in a line, and the reach round it in H; in the cross views "_l" and "_r" follow.
Rows = tuple[tuple[tuple[str, ...], float], ...]

_FORE_LEG: Rows = ((("elbow", "wrist", "front_foot"), 0.05),)
_FEET: Rows = ((("front_toes",), 0.055), (("rear_toes",), 0.055))

PROFILE: Mapping[str, Rows] = {
    "head_tilt": ((("occiput", "nose"), 0.06),),
    "muzzle_ratio": ((("stop", "nose"), 0.05),),
    "muzzle_depth": ((("stop", "nose"), 0.05),),
    "underjaw": ((("chin",), 0.045),),
    "jaw_offset": ((("chin",), 0.045),),
    "lips": ((("chin", "lip_middle"), 0.035),),
    "stop": ((("stop",), 0.040),),
    "skull_dome": ((("crown", "stop"), 0.040),),
    "neck_length": ((("withers", "occiput"), 0.08),),
    "neck_angle": ((("withers", "occiput"), 0.08),),
    "ewe_neck": ((("withers", "occiput"), 0.06),),
    "neck_depth": ((("withers", "occiput"), 0.08),),
    "dewlap": ((("jaw_corner", "throat"), 0.05),),
    "layback": ((("withers", "point_of_shoulder"), 0.055),),
    "upper_arm_angle": ((("point_of_shoulder", "elbow"), 0.055),),
    "arm_ratio": ((("point_of_shoulder", "elbow"), 0.055),),
    "forechest": ((("prosternum",), 0.055),),
    "pastern_slope": ((("wrist", "front_foot"), 0.042),),
    "wrist_set": ((("wrist",), 0.060),),
    "chest_depth": ((("elbow", "brisket", "belly"), 0.05),),
    "tuck_up": ((("flank", "belly"), 0.045),),
    "roach": ((("back_middle", "loin_top", "hip_bone"), 0.045),),
    "dip": ((("withers", "back_middle", "loin_top"), 0.045),),
    "rump_height": ((("loin_top", "hip_bone", "set_on"), 0.055),),
    "pelvis_slope": ((("hip_bone", "set_on", "point_of_buttock"), 0.045),),
    "stifle_angle": ((("hip_joint", "stifle", "hock_joint"), 0.05),),
    "hock_angle": ((("hock_joint",), 0.055),),
    "rear_pastern": ((("hock_joint", "rear_foot"), 0.042),),
    "rear_pastern_length": ((("hock_joint", "rear_foot"), 0.042),),
    "thigh_breadth": ((("hip_joint", "stifle"), 0.09),),
    "foot_arch": _FEET,
    "foot_length": _FEET,
    "nail_length": _FEET,
    "body_length": ((("withers", "hip_bone", "flank", "brisket", "withers"), 0.04),),
    "leg_shortening": ((("elbow", "front_foot"), 0.05), (("stifle", "hock_joint", "rear_foot"), 0.05)),
    "bone": (*_FORE_LEG, (("hock_joint", "rear_foot"), 0.05)),
}
FRONT: Mapping[str, Rows] = {
    "muzzle_width": ((("nose", "chin"), 0.055),),
    "lips": ((("lip",), 0.045), (("chin",), 0.03)),
    "skull_dome": ((("crown",), 0.06),),
    "skull_width": ((("cheek_r", "eye_r", "eye_l", "cheek_l"), 0.05),),
    "neck_depth": ((("chin", "withers"), 0.10),),
    "dewlap": ((("throat",), 0.07),),
    "shoulder_spacing": ((("point_of_shoulder", "elbow"), 0.05),),
    "elbow_spacing": ((("elbow",), 0.06),),
    "wrist_spacing": ((("wrist",), 0.055),),
    "forefoot_spacing": ((("foot",), 0.055),),
    "front_toe_turn": ((("foot", "toe"), 0.045),),
    "toe_spread": ((("toe",), 0.055),),
    "nail_length": ((("toe",), 0.045),),
    "chest_depth": ((("brisket",), 0.07),),
    "rib_spring": ((("rib",), 0.06),),
    "leg_shortening": ((("elbow", "wrist"), 0.05),),
    "bone": ((("elbow", "foot"), 0.05),),
}
REAR: Mapping[str, Rows] = {
    "skull_width": ((("crown",), 0.10),),
    "rear_pastern_length": ((("hock", "rear_foot"), 0.04),),
    "thigh_breadth": ((("hip", "stifle"), 0.06),),
    "hip_spacing": ((("hip",), 0.055),),
    "stifle_spacing": ((("stifle",), 0.055),),
    "hock_spacing": ((("hock",), 0.055),),
    "hindfoot_spacing": ((("rear_foot",), 0.05),),
    "rear_toe_turn": ((("rear_foot", "toe"), 0.042),),
    "rib_spring": ((("rib",), 0.05),),
    "bone": ((("hock", "rear_foot"), 0.045),),
}
FEET: Mapping[str, Rows] = {
    "pastern_slope": ((("wrist", "front_foot"), 0.036),),
    "foot_arch": ((("toes",), 0.042), (("front_view_foot",), 0.045)),
    "foot_length": ((("front_foot", "toes"), 0.038),),
    "toe_spread": ((("front_view_toes",), 0.050),),
    "nail_length": ((("toes",), 0.036), (("front_view_toes",), 0.045)),
    "bone": ((("wrist", "front_foot"), 0.040), (("front_view_wrist", "front_view_foot"), 0.040)),
}
_TABLES = {"profile": PROFILE, "head": PROFILE, "front": FRONT, "rear": REAR, "feet": FEET}
# Marks that are all of what some parameters change, and how far round them the region reaches.
_MARKS: Mapping[str, tuple[tuple[str, ...], float]] = {
    "eye_size": (("white",), 0.013),
    "eye_roundness": (("white",), 0.013),
    "eye_paleness": (("white",), 0.013),
    "pigment": (("nose", "white"), 0.010),
}


def focus(drawn: Plan, settings: Settings, name: str) -> BaseGeometry:
    """The area that a parameter concerns in this view; empty where there is no one place."""
    if name in _MARKS:
        return _marks(drawn, *_MARKS[name])
    if name in ("coat_length", "colour_strength"):
        return _body(drawn)
    if name == "white":
        return _white(drawn, settings)
    if name.startswith(("ear_", "tail_")):
        return _shapes(drawn, name[: name.index("_")])
    rows = _TABLES[drawn.view].get(name, ())
    return unary_union([_row(drawn, line, reach) for line, reach in rows])


def _row(drawn: Plan, line: tuple[str, ...], reach: float) -> BaseGeometry:
    if all(drawn.knows(p) for p in line):
        return spots([drawn.place(p) for p in line], reach)
    sides = [
        [p if drawn.knows(p) else p + side for p in line]
        for side in ("_l", "_r")
        if drawn.knows(line[0] + side)
    ]
    return unary_union([spots([drawn.place(p) for p in names if drawn.knows(p)], reach) for names in sides])


def _marks(drawn: Plan, names: tuple[str, ...], reach: float) -> BaseGeometry:
    found = [m.contour.points for layer in drawn.layers for m in layer.marks if m.name in names]
    return unary_union([MultiPoint([tuple(p) for p in points]).convex_hull.buffer(reach) for points in found])


def _shapes(drawn: Plan, start: str) -> BaseGeometry:
    """All shapes whose name starts so: both ears with what has tipped over, or the tail."""
    shapes = [c for layer in drawn.layers for name, c in layer.shapes.items() if name.startswith(start)]
    return unary_union([make_valid(Polygon(c.points)).simplify(0.002).buffer(0.012) for c in shapes])


def _body(drawn: Plan) -> BaseGeometry:
    """The dog without its feet and muzzle, drawn in a little."""
    shapes = [
        make_valid(Polygon(contour.points)).simplify(0.004)
        for layer in drawn.layers
        for name, contour in layer.shapes.items()
        if name in ("trunk", "hindleg", "tail", "croup", "leg_l", "leg_r", "head", "skull")
    ]
    return unary_union(shapes).buffer(-0.02)


def _white(drawn: Plan, settings: Settings) -> BaseGeometry:
    """Where the coat is white by the extent of white alone, as strips of a coarse grid joined."""
    edge = 1.02 - 0.78 * settings["white"]
    step = 0.02
    left, bottom, right, top = drawn.box
    x = np.arange(left, right, step)[None, :]
    y = np.arange(bottom, top, step)[:, None]
    parts = []
    for layer in drawn.layers:
        if "ease" in layer.coat:
            strips = unary_union(list(_strips(layer.coat["ease"](x, y) > edge, x[0], y[:, 0], step)))
            outlines = [make_valid(Polygon(c.points)).simplify(0.004) for c in layer.shapes.values()]
            parts.append(strips.intersection(unary_union(outlines)))
    return unary_union(parts).buffer(-0.012).buffer(0.02)


def _strips(white: NDArray[np.bool_], x: Array, y: Array, step: float) -> Iterator[BaseGeometry]:
    """A box for every run of white cells in a row, a little too large so that neighbours join."""
    for row, cells in zip(y, white, strict=True):
        ends = np.flatnonzero(np.diff(np.concatenate([[False], cells, [False]]).astype(np.int8)))
        for first, last in ends.reshape(-1, 2):
            yield box(x[first] - 0.6 * step, row - 0.6 * step, x[last - 1] + 0.6 * step, row + 0.6 * step)
