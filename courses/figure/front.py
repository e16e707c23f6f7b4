"""The front view: x runs across the dog, picture right is the dog's left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians, sin, tan

import numpy as np

from .curves import Array, Contour, Trace, smooth
from .plan import FieldOf, Layer, Plan
from .settings import Settings
from .skeleton import Point, at, solve

Values = Mapping[str, float]
SHEET = (-0.62, -0.085, 0.62, 1.47)
RATIO = 0.8


@dataclass(frozen=True)
class FrontBones:
    """Joints of the dog's left foreleg; the other side mirrors them."""

    shoulder: Point
    elbow: Point
    wrist: Point
    foot: Point
    toe: Point
    brisket: float


def bones(v: Values) -> FrontBones:
    s = solve(v)
    lower = v["leg_shortening"]
    foot_y = float(s["front_foot"][1])
    foot = at(v["forefoot_spacing"] / 2, foot_y)
    return FrontBones(
        shoulder=at(v["shoulder_spacing"] / 2, 0.730 - 0.4 * lower),
        elbow=at(v["elbow_spacing"] / 2, 0.535 - lower),
        wrist=at(v["wrist_spacing"] / 2, 0.178),
        foot=foot,
        toe=at(foot[0] + foot_y * tan(radians(v["front_toe_turn"])), 0.0),
        brisket=1 - v["chest_depth"] + 0.018,
    )


def front(settings: Settings) -> Plan:
    b = bones(settings)
    leg = _leg(b, settings)
    body = _body(b, settings)
    head = _head()
    layers = (
        Layer(
            "near",
            {"trunk": body, "leg_l": leg, "leg_r": leg.mirrored()},
            flow=((at(0, 1.1), at(0, -1)), (at(0, 0.3), at(0, -1))),
            hidden={"trunk": ("leg_l", "leg_r", "head")},
            coat=_coat(),
        ),
        Layer("head", {"head": head}, coat=_coat()),
    )
    feet = tuple((x * b.foot[0], 0.10, 0.6) for x in (-1.0, 1.0))
    return Plan("front", SHEET, RATIO, layers, points(b), feet)


def points(b: FrontBones) -> dict[str, Point]:
    named = {"withers": at(0, 1.0), "brisket": at(0, b.brisket)}
    rows = {
        "point_of_shoulder": b.shoulder,
        "elbow": b.elbow,
        "wrist": b.wrist,
        "foot": b.foot,
        "toe": b.toe,
        "ground": at(b.foot[0], 0),
    }
    for name, p in rows.items():
        named[f"{name}_l"] = p
        named[f"{name}_r"] = p * np.array([-1.0, 1.0])
    return named


def _coat() -> dict[str, FieldOf]:
    def under(x: Array, y: Array) -> Array:
        return 0.85 * (1 - smooth(0.14, 0.40, y + 0 * x))

    return {"under": under}


def _leg(b: FrontBones, v: Values) -> Contour:
    k = v["bone"]
    trace = Trace()
    trace.bone(b.shoulder, b.elbow, (0.30, 0.035, 1), (0.62, 0.0445, 1), (0.86, 0.0435, 1))
    trace.bone(b.elbow, b.wrist, (-0.02, 0.041, 1), (0.14, 0.0385, 1), (0.34, 0.035, 1), k=(1 + k) / 2)
    trace.bone(b.elbow, b.wrist, (0.60, 0.0285, 1), (0.85, 0.0255, 1), (0.97, 0.029, 1), k=k)
    trace.bone(b.wrist, b.foot, (0.10, 0.029, 1), (0.40, 0.024, 1), (0.75, 0.0245, 1), k=k)
    _foot(trace, b, v)
    trace.bone(b.wrist, b.foot, (0.75, -0.0235, 1), (0.40, -0.0225, 1), (0.10, -0.0265, 1), k=k)
    trace.bone(b.elbow, b.wrist, (0.97, -0.0275, 1), (0.85, -0.0245, 1), (0.60, -0.0285, 1), k=k)
    trace.bone(b.elbow, b.wrist, (0.34, -0.037, 1), (0.14, -0.045, 1), (-0.02, -0.050, 1), k=(1 + k) / 2)
    trace.bone(b.shoulder, b.elbow, (0.80, -0.056, 0.15), (0.50, -0.05, 0))
    return trace.close()


def _foot(trace: Trace, b: FrontBones, v: Values) -> None:
    w, h = 0.043 * (1 + 0.5 * (v["bone"] - 1)) * (1 + 0.25 * v["toe_spread"]), 0.060
    turn = 0.05 * sin(radians(v["front_toe_turn"]))
    centre = at(b.foot[0] + 0.004, 0)
    trace.xy(
        centre,
        (0.62 * w + 0.2 * turn, 1.25 * h, 1),
        (0.98 * w + 0.6 * turn, 0.8 * h, 1),
        (1.04 * w + turn, 0.3 * h, 1),
        (0.92 * w + turn, 0.002, 1),
        (0.3 * w + turn, 0.0, 1),
        (-0.3 * w + turn, 0.0, 1),
        (-0.92 * w + turn, 0.002, 1),
        (-1.04 * w + 0.8 * turn, 0.3 * h, 1),
        (-0.96 * w + 0.3 * turn, 0.8 * h, 1),
        (-0.62 * w, 1.25 * h, 1),
    )


def symmetric(rows: list[tuple[float, float, float]]) -> Contour:
    """A contour from the points of its right half, top to bottom; the first and last lie on x = 0."""
    trace = Trace()
    for x, y, ink in rows:
        trace.to(at(x, y), ink)
    for x, y, ink in rows[-2:0:-1]:
        trace.to(at(-x, y), ink)
    return trace.close()


def _body(b: FrontBones, v: Values) -> Contour:
    sx, sy = b.shoulder
    wide = v["rib_spring"]
    rows = [(0.0, 1.20, 0.0), (0.060, 1.19, 0.0), (0.084, 1.14, 1.0), (0.092, 1.08, 1.0), (0.100, 1.01, 1.0)]
    rows += [(0.114 * wide, 0.93, 1.0), (sx + 0.019, sy + 0.120, 1.0), (sx + 0.042, sy + 0.045, 1.0)]
    rows += [(sx + 0.050, sy - 0.020, 1.0), (sx + 0.046, sy - 0.080, 1.0), (sx + 0.034, sy - 0.13, 0.5)]
    rows += [(0.052, b.brisket + 0.022, 0.0), (0.028, b.brisket + 0.006, 1.0), (0.0, b.brisket, 1.0)]
    return symmetric(rows)


def _head() -> Contour:
    half = [(0, 1.273), (0.034, 1.270), (0.068, 1.253), (0.091, 1.217), (0.099, 1.174), (0.095, 1.137)]
    half += [(0.078, 1.103), (0.057, 1.074), (0.052, 1.038), (0.048, 1.009), (0.030, 0.993), (0, 0.988)]
    return symmetric([(x, y, 1.0) for x, y in half])
