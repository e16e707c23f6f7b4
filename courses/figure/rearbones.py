"""Joints of the hind leg seen from behind or, beyond the forelegs, from the front."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians, tan

from .skeleton import FOOT_JOINT_Y, Point, Skeleton, along, at, solve

Values = Mapping[str, float]


@dataclass(frozen=True)
class HindBones:
    """The leg on the picture's right; the other side mirrors it."""

    side: Skeleton
    hip: Point
    stifle: Point
    hock: Point
    foot: Point
    toe: Point
    set_on: Point
    croup: float


def hind_bones(v: Values) -> HindBones:
    s = solve(v)
    foot = at(v["hindfoot_spacing"] / 2, FOOT_JOINT_Y)
    turn = tan(radians(v["rear_toe_turn"]))
    return HindBones(
        side=s,
        hip=at(v["hip_spacing"] / 2, float(s["hip_joint"][1])),
        stifle=at(v["stifle_spacing"] / 2, float(s["stifle"][1])),
        hock=at(v["hock_spacing"] / 2, float(s["hock_joint"][1])),
        foot=foot,
        toe=at(foot[0] + foot[1] * turn, 0.0),
        set_on=at(0.0, float(along(s["hip_bone"], s["point_of_buttock"], 0.70, -0.053)[1])),
        croup=float(s["hip_bone"][1]) + 0.034,
    )
