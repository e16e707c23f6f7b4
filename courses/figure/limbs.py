"""Contours of the legs and feet from the side."""

from __future__ import annotations

from collections.abc import Mapping

from .curves import Contour, Trace
from .skeleton import Point, Skeleton, along, at

Values = Mapping[str, float]


def foreleg(s: Skeleton, v: Values) -> Contour:
    """Front edge down, round the foot, rear edge up; the top lies hidden in the trunk."""
    shoulder, elbow, wrist, foot = s["point_of_shoulder"], s["elbow"], s["wrist"], s["front_foot"]
    k = v["bone"]
    half = (1 + k) / 2
    trace = Trace()
    trace.bone(shoulder, elbow, (0.42, 0.0, 0), (0.80, 0.040, 0))
    trace.bone(elbow, wrist, (0.03, 0.051, 0.1), (0.14, 0.052, 0.7), k=half)
    trace.bone(elbow, wrist, (0.32, 0.046, 1), (0.58, 0.036, 1), (0.84, 0.0305, 1), k=k)
    trace.bend(elbow, wrist, foot, 0.0355 * k)
    trace.bone(wrist, foot, (0.38, 0.0280, 1), (0.75, 0.0275, 1), k=k)
    _forefoot(trace, foot, v)
    trace.bone(
        wrist, foot, (0.80, -0.0268, 1), (0.45, -0.0266, 1), (0.24, -0.0282, 1), (0.07, -0.0335, 1), k=k
    )
    trace.bone(elbow, wrist, (0.95, -0.034, 1), (0.82, -0.031, 1), (0.62, -0.034, 1), (0.38, -0.044, 1), k=k)
    trace.bone(elbow, wrist, (0.16, -0.057, 1), k=half)
    trace.xy(s["point_of_elbow"], (-0.004, -0.012, 0.8), (-0.008, 0.030, 0.25))
    trace.bone(shoulder, elbow, (0.55, -0.13, 0))
    return trace.close()


def _forefoot(trace: Trace, foot: Point, v: Values) -> None:
    flat, size = 1 - v["foot_arch"], 1 + 0.6 * (v["bone"] - 1)
    ahead, up = size * v["foot_length"], size
    ground = at(foot[0], 0.0)
    trace.xy(
        ground,
        (0.034 * ahead, (0.070 - 0.016 * flat) * up, 1),
        ((0.056 + 0.010 * flat) * ahead, (0.063 - 0.021 * flat) * up, 1),
        ((0.077 + 0.018 * flat) * ahead, (0.044 - 0.013 * flat) * up, 1),
        ((0.087 + 0.026 * flat) * ahead, 0.020 * up, 1),
        ((0.083 + 0.026 * flat) * ahead, 0.004, 1),
        (0.050 * ahead, 0.0, 1),
        ((-0.002 - 0.005 * flat) * size, 0.0, 1),
        ((-0.026 - 0.012 * flat) * size, 0.006, 1),
        ((-0.032 - 0.008 * flat) * size, 0.024 - 0.006 * flat, 1),
    )


def hindleg(s: Skeleton, v: Values) -> Contour:
    """Front edge of thigh and second thigh down, round the foot, up the hock and the breech.

    The rear edge of the thigh hangs on the line from buttock to hock, which keeps the breech smooth
    at every bend of the joints.
    """
    hip_bone, buttock, hip = s["hip_bone"], s["point_of_buttock"], s["hip_joint"]
    stifle, hock, foot, point = s["stifle"], s["hock_joint"], s["rear_foot"], s["point_of_hock"]
    k, broad = v["bone"], v["thigh_breadth"]
    second = (k + 2 * broad) / 3
    trace = Trace()
    trace.bone(hip_bone, buttock, (0.25, 0.0, 0))
    trace.bone(
        hip,
        stifle,
        (0.15, 0.15, 0),
        (0.46, 0.142, 0),
        (0.68, 0.110, 0.5),
        (0.86, 0.082, 1),
        k=(1 + broad) / 2,
    )
    trace.bone(hip, stifle, (0.98, 0.066, 1), k=(1 + second) / 2)
    trace.bone(stifle, hock, (0.09, 0.058, 1), (0.26, 0.050, 1), k=(1 + second) / 2)
    trace.bone(stifle, hock, (0.54, 0.040, 1), (0.78, 0.031, 1), k=k)
    trace.bend(stifle, hock, foot, 0.031 * k)
    trace.bone(hock, foot, (0.36, 0.0265, 1), (0.74, 0.0252, 1), k=k)
    _hindfoot(trace, foot, v)
    trace.bone(hock, foot, (0.85, -0.0254, 1), (0.50, -0.0258, 1), (0.20, -0.0272, 1), k=k)
    trace.xy(point, (0.004, -0.030, 1), (0.001, -0.004, 1), (0.006, 0.010, 1), (0.018, 0.024, 1))
    spare = 1 - broad
    trace.bone(
        buttock,
        point,
        (0.87, 0.040 + 0.004 * spare, 1),
        (0.76, 0.055 + 0.045 * spare, 1),
        (0.63, 0.046 + 0.085 * spare, 1),
        (0.48, 0.022 + 0.100 * spare, 1),
        (0.33, 0.002 + 0.085 * spare, 1),
        (0.17, -0.014 + 0.050 * spare, 1),
    )
    trace.xy(buttock, (-0.022 + 0.014 * spare, -0.020, 0.9), (-0.010, 0.020, 0))
    trace.to(along(hip_bone, buttock, 0.70), 0)
    return trace.close()


def _hindfoot(trace: Trace, foot: Point, v: Values) -> None:
    flat, size = 1 - v["foot_arch"], 1 + 0.6 * (v["bone"] - 1)
    ahead, up = size * v["foot_length"], size
    trace.xy(
        at(foot[0], 0.0),
        (0.027 * ahead, (0.076 - 0.012 * flat) * up, 1),
        ((0.046 + 0.006 * flat) * ahead, (0.064 - 0.018 * flat) * up, 1),
        ((0.066 + 0.014 * flat) * ahead, (0.044 - 0.012 * flat) * up, 1),
        ((0.076 + 0.020 * flat) * ahead, 0.020 * up, 1),
        ((0.072 + 0.020 * flat) * ahead, 0.004, 1),
        (0.040 * ahead, 0.0, 1),
        (0.0, 0.0, 1),
        ((-0.024 - 0.008 * flat) * size, 0.006, 1),
        ((-0.030 - 0.006 * flat) * size, 0.024 - 0.004 * flat, 1),
    )
