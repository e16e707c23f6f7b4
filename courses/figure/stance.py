"""The legs of the far side: the same bones, but stood differently, so that no leg is a copy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import acos, cos, radians, sin

import numpy as np

from .skeleton import FOOT_JOINT_Y, PASTERN_LENGTH, Point, Skeleton, at

Values = Mapping[str, float]
FAR_GROUND = 0.016


def _bend(top: Point, bottom: Point, upper: float, lower: float) -> Point:
    """The joint between two bones from `top` to `bottom`, bent forwards; too short bones are stretched."""
    span = bottom - top
    d = float(np.hypot(*span))
    stretch = max(1.0, d / (0.985 * (upper + lower)))
    a, b = upper * stretch, lower * stretch
    turn = acos(float(np.clip((a * a + d * d - b * b) / (2 * a * d), -1, 1)))
    ux, uy = span / d
    return top + a * at(ux * cos(turn) - uy * sin(turn), ux * sin(turn) + uy * cos(turn))


def far_side(s: Skeleton, v: Values) -> Skeleton:
    """Joints of the far legs, standing on y = 0; move the contours up by `FAR_GROUND` to draw them."""
    joints = dict(s.joints)
    joints.update(_fore(s, v))
    joints.update(_hind(s, v))
    return replace(s, joints=joints)


def _fore(s: Skeleton, v: Values) -> dict[str, Point]:
    slope = radians(v["pastern_slope"] + 3)
    foot = at(s["front_foot"][0] + 0.066, s["front_foot"][1])
    return {
        "point_of_shoulder": s["point_of_shoulder"] + at(0.020, 0.0),
        "elbow": s["elbow"] + at(0.036, 0.0),
        "point_of_elbow": s["point_of_elbow"] + at(0.036, 0.0),
        "wrist": foot - PASTERN_LENGTH * at(sin(slope), -cos(slope)),
        "front_foot": foot,
    }


def _hind(s: Skeleton, v: Values) -> dict[str, Point]:
    shift = at(0.030, 0.0)
    slope = radians(v["rear_pastern"] + 9)
    foot = at(s["rear_foot"][0] + 0.165, FOOT_JOINT_Y)
    down = at(sin(slope), -cos(slope))
    hock = foot - v["rear_pastern_length"] * down
    hip = s["hip_joint"] + shift
    femur = float(np.hypot(*(s["stifle"] - s["hip_joint"])))
    return {
        "hip_bone": s["hip_bone"] + shift,
        "point_of_buttock": s["point_of_buttock"] + shift,
        "hip_joint": hip,
        "stifle": _bend(hip, hock, femur, s.second_thigh),
        "hock_joint": hock,
        "rear_foot": foot,
        "point_of_hock": hock + at(-0.037, 0.0) - 0.035 * down,
    }
