"""The bones: joint positions from the parameters, by forward kinematics, in H units.

x points forward (the dog faces right), y up, ground at y = 0, height at the withers 1. Angles of the
parameters are met exactly; the lengths of forearm and second thigh are solved so that the feet stand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from .parameters import PARAMETERS, ImpossibleFigure

Point = NDArray[np.float64]

BLADE_LENGTH = 0.280
PELVIS_LENGTH = 0.300
FEMUR_LENGTH = 0.318
PASTERN_LENGTH = 0.112
HEAD_LENGTH = 0.425
SHOULDER_X = 0.145
BLADE_TOP_Y = 0.965
FOOT_JOINT_Y = 0.066
SECOND_THIGH_LENGTHS = (0.235, 0.435)


def at(x: float, y: float) -> Point:
    return np.array([x, y], dtype=np.float64)


def along(a: Point, b: Point, t: float, d: float = 0.0) -> Point:
    """The point A + t (B − A) + d n, where n is A→B turned a quarter to the left."""
    step = b - a
    length = sqrt(float(step @ step))
    return np.asarray(a + t * step + d * at(-step[1], step[0]) / length)


def bisector(a: Point, joint: Point, b: Point, d: float) -> Point:
    """The point d away from a joint, along the mean of the normals of the bones A→J and J→B."""
    first, second = joint - a, b - joint
    m = at(-first[1], first[0]) / np.hypot(*first) + at(-second[1], second[0]) / np.hypot(*second)
    return np.asarray(joint + d * m / np.hypot(*m))


@dataclass(frozen=True)
class Skeleton:
    """Joints by name, and the few scalars that contours need. `head(u, v)` gives a point of the head."""

    joints: Mapping[str, Point]
    chest_line: float
    second_thigh: float
    head_axis: Point

    def __getitem__(self, name: str) -> Point:
        return self.joints[name]

    def head(self, u: float, v: float) -> Point:
        a = self.head_axis
        n = at(-a[1], a[0])
        return np.asarray(self.joints["occiput"] + HEAD_LENGTH * (u * a + v * n))


def _forequarter(v: Mapping[str, float]) -> dict[str, Point]:
    blade, arm = radians(v["layback"]), radians(v["upper_arm_angle"])
    blade_length, arm_length = BLADE_LENGTH, BLADE_LENGTH * v["arm_ratio"]
    k = 1 + v["leg_shortening"] / (blade_length * cos(blade) + arm_length * cos(arm))
    blade_length, arm_length = blade_length * k, arm_length * k
    shoulder = at(SHOULDER_X, BLADE_TOP_Y - blade_length * cos(blade))
    blade_top = shoulder + blade_length * at(-sin(blade), cos(blade))
    elbow = shoulder - arm_length * at(sin(arm), cos(arm))
    slope = radians(v["pastern_slope"])
    foot_y = FOOT_JOINT_Y - 0.014 * (1 - v["foot_arch"])
    wrist = at(elbow[0] + 0.014 + v["wrist_set"], foot_y + PASTERN_LENGTH * cos(slope))
    return {
        "blade_top": blade_top,
        "withers": blade_top + at(0.005, 0.035),
        "point_of_shoulder": shoulder,
        "elbow": elbow,
        "point_of_elbow": elbow + at(-0.066, 0.016),
        "wrist": wrist,
        "front_foot": wrist + PASTERN_LENGTH * at(sin(slope), -cos(slope)),
    }


def _pelvis(v: Mapping[str, float]) -> dict[str, Point]:
    slope = radians(v["pelvis_slope"])
    hip_bone_y = 0.926 - 0.10 * v["roach"] + v["rump_height"]
    buttock = at(SHOULDER_X - v["body_length"], hip_bone_y - PELVIS_LENGTH * sin(slope))
    hip_bone = buttock + PELVIS_LENGTH * at(cos(slope), sin(slope))
    return {
        "hip_bone": hip_bone,
        "point_of_buttock": buttock,
        "hip_joint": along(hip_bone, buttock, 0.68, 0.02),
    }


def _hindquarter(v: Mapping[str, float], hip: Point) -> tuple[dict[str, Point], float]:
    pastern = radians(v["rear_pastern"])
    tibia = radians(180 - v["hock_angle"]) - pastern
    femur = radians(180 - v["stifle_angle"]) - tibia
    femur_length = FEMUR_LENGTH + 0.6 * v["leg_shortening"] + 0.45 * v["rump_height"]
    stifle = hip + femur_length * at(sin(femur), -cos(femur))
    hock_y = FOOT_JOINT_Y + v["rear_pastern_length"] * cos(pastern)
    second_thigh = float((stifle[1] - hock_y) / cos(tibia))
    hock = stifle + second_thigh * at(-sin(tibia), -cos(tibia))
    down = at(sin(pastern), -cos(pastern))
    return {
        "stifle": stifle,
        "hock_joint": hock,
        "rear_foot": hock + v["rear_pastern_length"] * down,
        "point_of_hock": hock + at(-0.037, 0.0) - 0.035 * down,
    }, second_thigh


def refuse_impossible(v: Mapping[str, float]) -> None:
    """Raise `ImpossibleFigure` for spacings that would break a leg, and for a curl that its tail is too short for."""
    steps = (
        ("wrist_spacing", "forefoot_spacing", 0.076, "front pasterns"),
        ("stifle_spacing", "hock_spacing", 0.158, "second thighs"),
        ("hock_spacing", "hindfoot_spacing", 0.130, "rear pasterns"),
        ("elbow_spacing", "wrist_spacing", 0.150, "forearms"),
    )
    for upper, lower, most, bones in steps:
        if abs(v[upper] - v[lower]) > most + 1e-9:
            raise ImpossibleFigure(
                f"{PARAMETERS[upper].label} {v[upper]:.3f} with {PARAMETERS[lower].label.lower()} {v[lower]:.3f} "
                f"would set the {bones} too far aslant."
            )
    if v["tail_curl"] > 1.4 + 9 * (v["tail_length"] - 0.26) + 1e-9:
        raise ImpossibleFigure(
            f"A tail of length {v['tail_length']:.2f} is too short for a curl of {v['tail_curl']:.1f}."
        )


def solve(values: Mapping[str, float]) -> Skeleton:
    """The joints for these values. Raises `ImpossibleFigure` when no sound hind leg can join them."""
    joints = _forequarter(values)
    joints.update(_pelvis(values))
    hind, second_thigh = _hindquarter(values, joints["hip_joint"])
    joints.update(hind)
    low, high = SECOND_THIGH_LENGTHS
    if not low <= second_thigh <= high:
        short = "short" if second_thigh < low else "long"
        raise ImpossibleFigure(
            f"Stifle {values['stifle_angle']:.0f}° with hock {values['hock_angle']:.0f}° and rear pastern "
            f"{values['rear_pastern']:.0f}° would need too {short} a second thigh "
            f"({second_thigh:.3f} of the height, {low} to {high} can be drawn)."
        )
    nu = radians(values["neck_angle"])
    joints["occiput"] = joints["withers"] + values["neck_length"] * at(cos(nu), sin(nu))
    tilt = radians(values["head_tilt"])
    return Skeleton(joints, 1 - values["chest_depth"], second_thigh, at(cos(tilt), sin(tilt)))
