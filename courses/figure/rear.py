"""The rear view: x runs across the dog, picture right is the dog's right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians, sin, tan

import numpy as np

from .curves import Array, Contour, Trace, smooth
from .front import symmetric
from .plan import FieldOf, Layer, Plan
from .settings import Settings
from .skeleton import FOOT_JOINT_Y, Point, at, solve

Values = Mapping[str, float]
SHEET = (-0.62, -0.085, 0.62, 1.47)
RATIO = 0.8


@dataclass(frozen=True)
class RearBones:
    """Joints of the leg on the picture's right; the other side mirrors them."""

    hip: Point
    stifle: Point
    hock: Point
    foot: Point
    toe: Point
    set_on: Point
    croup: float


def bones(v: Values) -> RearBones:
    s = solve(v)
    foot = at(v["hindfoot_spacing"] / 2, FOOT_JOINT_Y)
    return RearBones(
        hip=at(v["hip_spacing"] / 2, float(s["hip_joint"][1])),
        stifle=at(v["stifle_spacing"] / 2, float(s["stifle"][1])),
        hock=at(v["hock_spacing"] / 2, float(s["hock_joint"][1])),
        foot=foot,
        toe=at(foot[0] + foot[1] * tan(radians(v["rear_toe_turn"])), 0.0),
        set_on=at(0, float(s["hip_bone"][1]) - 0.03),
        croup=float(s["hip_bone"][1]) + 0.032,
    )


def rear(settings: Settings) -> Plan:
    b = bones(settings)
    leg = _leg(b, settings)
    croup = [(0.0, b.croup, 1.0), (0.040, b.croup - 0.008, 1.0), (0.078, b.croup - 0.038, 1.0)]
    croup += [(float(b.hip[0]) + 0.02, float(b.hip[1]) + 0.07, 0.3), (0.05, 0.60, 0), (0, 0.60, 0)]
    layers = (
        Layer(
            "near",
            {"croup": symmetric(croup), "leg_r": leg, "leg_l": leg.mirrored()},
            flow=((at(0, 1.1), at(0, -1)), (at(0, 0.3), at(0, -1))),
            coat=_coat(),
        ),
    )
    feet = tuple((x * b.foot[0], 0.10, 0.6) for x in (-1.0, 1.0))
    return Plan("rear", SHEET, RATIO, layers, points(b), feet)


def points(b: RearBones) -> dict[str, Point]:
    named = {"set_on": b.set_on, "tail_tip": b.set_on - at(0, 0.6)}
    rows = {
        "hip": b.hip,
        "stifle": b.stifle,
        "hock": b.hock,
        "rear_foot": b.foot,
        "toe": b.toe,
        "ground": at(b.foot[0], 0),
    }
    for name, p in rows.items():
        named[f"{name}_r"] = p
        named[f"{name}_l"] = p * np.array([-1.0, 1.0])
    return named


def _coat() -> dict[str, FieldOf]:
    def under(x: Array, y: Array) -> Array:
        return 0.85 * (1 - smooth(0.14, 0.40, y + 0 * x))

    return {"under": under}


def _leg(b: RearBones, v: Values) -> Contour:
    k = v["bone"]
    trace = Trace()
    trace.xy(b.hip, (0.012, 0.06, 0), (0.032, 0.0, 1), (0.046, -0.08, 1))
    trace.bone(b.hip, b.stifle, (0.58, 0.047, 1), (0.84, 0.040, 1))
    trace.bone(b.stifle, b.hock, (0.04, 0.035, 1), (0.22, 0.030, 1), (0.42, 0.0265, 1), k=(1 + k) / 2)
    trace.bone(b.stifle, b.hock, (0.64, 0.0215, 1), (0.84, 0.0195, 1), k=k)
    trace.xy(b.hock, (0.0225 * k, 0.010, 1), (0.0225 * k, -0.014, 1))
    trace.bone(b.hock, b.foot, (0.25, 0.0195, 1), (0.60, 0.018, 1), (0.85, 0.020, 1), k=k)
    _foot(trace, b, v)
    trace.bone(b.hock, b.foot, (0.85, -0.020, 1), (0.60, -0.018, 1), (0.25, -0.020, 1), k=k)
    trace.xy(b.hock, (-0.024 * k, -0.010, 1), (-0.0225 * k, 0.020, 1))
    trace.bone(b.stifle, b.hock, (0.80, -0.0235, 1), (0.60, -0.034, 1), (0.38, -0.052, 1), (0.14, -0.072, 1))
    trace.xy(at(0, 0), (0.030, 0.560, 1), (0.014, 0.61, 1), (0.008, 0.70, 0.5), (0.006, 0.80, 0))
    return trace.close()


def _foot(trace: Trace, b: RearBones, v: Values) -> None:
    w, h = 0.036 * (1 + 0.5 * (v["bone"] - 1)), 0.050
    turn = 0.05 * sin(radians(v["rear_toe_turn"]))
    trace.xy(
        at(b.foot[0] + 0.003, 0),
        (0.62 * w + 0.2 * turn, 1.25 * h, 1),
        (0.98 * w + 0.6 * turn, 0.8 * h, 1),
        (1.04 * w + turn, 0.3 * h, 1),
        (0.92 * w + turn, 0.002, 1),
        (-0.92 * w + turn, 0.002, 1),
        (-1.04 * w + 0.8 * turn, 0.3 * h, 1),
        (-0.96 * w + 0.3 * turn, 0.8 * h, 1),
        (-0.62 * w, 1.25 * h, 1),
    )
