"""Muscles, bones and grooves that show through the skin in the side view, as ridges of relief."""

from __future__ import annotations

from collections.abc import Mapping

from .relief import Ridge
from .skeleton import Point, Skeleton, along, at

Values = Mapping[str, float]


def fore(s: Skeleton) -> list[Ridge]:
    """Shoulder, upper arm, forearm and wrist."""
    shoulder, top, elbow, wrist = s["point_of_shoulder"], s["blade_top"], s["elbow"], s["wrist"]

    def blade(t0: float, d0: float, t1: float, d1: float, w: float, h: float) -> Ridge:
        return Ridge(along(shoulder, top, t0, d0), along(shoulder, top, t1, d1), w, h)

    def arm(a: Point, t0: float, d0: float, t1: float, d1: float, w: float, h: float) -> Ridge:
        return Ridge(along(a, elbow, t0, d0), along(a, elbow, t1, d1), w, h)

    def forearm(t0: float, d0: float, t1: float, d1: float, w: float, h: float) -> Ridge:
        return Ridge(along(elbow, wrist, t0, d0), along(elbow, wrist, t1, d1), w, h)

    return [
        blade(0.12, -0.030, 0.85, -0.022, 0.030, 0.014),
        blade(0.30, 0.045, 0.85, 0.050, 0.036, 0.013),
        blade(0.25, 0.008, 0.95, 0.010, 0.013, -0.0048),
        arm(shoulder, 0.35, -0.055, 0.92, -0.045, 0.046, 0.026),
        arm(top, 0.45, -0.05, 0.85, -0.045, 0.040, 0.014),
        Ridge(shoulder + at(0.004, -0.006), shoulder + at(-0.012, -0.035), 0.036, 0.012),
        arm(shoulder, 0.25, 0.020, 0.80, 0.025, 0.028, 0.011),
        arm(top, 0.42, -0.120, 0.95, -0.078, 0.020, -0.008),
        forearm(0.06, 0.018, 0.50, 0.014, 0.020, 0.007),
        forearm(0.10, -0.014, 0.85, -0.010, 0.006, -0.0022),
        Ridge(wrist + at(0.008, 0.0), wrist + at(0.010, -0.010), 0.014, 0.004),
    ]


def body(s: Skeleton) -> list[Ridge]:
    """Neck, ribs and flank."""
    shoulder, withers, hip_bone = s["point_of_shoulder"], s["withers"], s["hip_bone"]
    x = withers[0]
    ribs = [
        Ridge(
            at(x - 0.17 - 0.055 * i, 0.84 - 0.008 * i),
            at(x - 0.225 - 0.055 * i, 0.62 + 0.004 * i),
            0.014,
            -0.0007,
        )
        for i in range(6)
    ]
    return [
        Ridge(s.head(0.14, -0.40), shoulder + at(0.02, 0.09), 0.042, 0.010),
        Ridge(s.head(0.36, -0.50), shoulder + at(0.045, 0.075), 0.016, -0.007),
        Ridge(at(x - 0.15, 0.74), at(x - 0.40, 0.72), 0.11, 0.016),
        Ridge(hip_bone + at(0.10, -0.16), hip_bone + at(0.045, -0.22), 0.05, -0.007),
        *ribs,
    ]


def hind(s: Skeleton) -> list[Ridge]:
    """Croup, thigh, second thigh and hock."""
    hip_bone, buttock, hip = s["hip_bone"], s["point_of_buttock"], s["hip_joint"]
    stifle, hock, point = s["stifle"], s["hock_joint"], s["point_of_hock"]

    def thigh(t0: float, d0: float, t1: float, d1: float, w: float, h: float) -> Ridge:
        return Ridge(along(hip, stifle, t0, d0), along(hip, stifle, t1, d1), w, h)

    def second(t0: float, d0: float, t1: float, d1: float, w: float, h: float) -> Ridge:
        return Ridge(along(stifle, hock, t0, d0), along(stifle, hock, t1, d1), w, h)

    return [
        Ridge(along(hip_bone, hip, 0.15), along(hip_bone, hip, 0.85), 0.046, 0.018),
        thigh(0.10, -0.030, 0.80, -0.010, 0.066, 0.020),
        thigh(0.30, 0.070, 0.92, 0.035, 0.030, 0.014),
        thigh(0.15, 0.034, 0.90, 0.016, 0.012, -0.0055),
        Ridge(buttock + at(0.030, -0.060), along(stifle, hock, 0.30, -0.085), 0.032, 0.010),
        Ridge(buttock + at(0.066, -0.070), along(stifle, hock, 0.30, -0.050), 0.012, -0.0055),
        Ridge(stifle + at(0.025, 0.010), stifle + at(0.022, -0.020), 0.024, 0.006),
        second(0.12, 0.018, 0.70, 0.014, 0.017, 0.006),
        second(0.15, -0.050, 0.50, -0.035, 0.030, 0.009),
        second(0.55, -0.026, 0.92, -0.018, 0.009, -0.0085),
        Ridge(point + at(0.010, -0.005), hock + at(-0.012, -0.020), 0.012, 0.004),
        Ridge(hock + at(0.008, 0.0), hock + at(0.010, -0.010), 0.013, 0.003),
    ]


def face(s: Skeleton) -> list[Ridge]:
    """Cheek, brow and muzzle."""
    rows = (
        (0.25, -0.28, 0.37, -0.22, 0.034, 0.013),
        (0.10, -0.16, 0.30, -0.46, 0.020, -0.006),
        (0.46, -0.30, 0.52, -0.20, 0.014, -0.005),
        (0.30, -0.14, 0.50, -0.135, 0.013, 0.006),
        (0.20, -0.02, 0.36, 0.010, 0.020, 0.003),
        (0.56, -0.115, 0.88, -0.125, 0.010, 0.003),
        (0.52, -0.19, 0.60, -0.20, 0.018, -0.004),
        (0.46, -0.045, 0.50, -0.035, 0.010, 0.003),
        (0.44, -0.095, 0.50, -0.10, 0.010, -0.004),
    )
    return [Ridge(s.head(a, b), s.head(c, d), w, h) for a, b, c, d, w, h in rows]
