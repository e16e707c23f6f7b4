"""Contours of trunk with neck, and of the tail, from the side."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from .curves import Array, Contour, Trace, ramp, smooth
from .skeleton import Point, Skeleton, along, at

Values = Mapping[str, float]


def topline(s: Skeleton, v: Values, t: Array | float) -> Array:
    """Height of the back at t, from 0 at the withers to 1 at the hip bone."""
    t = np.asarray(t, dtype=np.float64)
    y = 1 - 0.034 * smooth(0, 0.30, t) + 0.004 * smooth(0.4, 0.8, t)
    fall = s["hip_bone"][1] + 0.038 - 0.970
    # A rump set high or low slopes the whole back; roach alone bends only the loin.
    slope = v["rump_height"]
    y = y + (fall - slope) * smooth(0.55, 1, t) + slope * smooth(0.05, 1.15, t) / smooth(0.05, 1.15, 1.0)
    y = y + v["roach"] * np.exp(-(((t - 0.66) / 0.27) ** 2))
    return np.asarray(y - v["dip"] * np.exp(-(((t - 0.42) / 0.24) ** 2)))


def back(s: Skeleton, v: Values, t: float) -> Point:
    x = s["withers"][0] + t * (s["hip_bone"][0] - s["withers"][0])
    return at(x, float(topline(s, v, t)))


def forechest(v: Values) -> float:
    """How far the chest stands before the point of shoulder; a steep blade takes some of it away."""
    return v["forechest"] - 0.0018 * (35 - v["layback"])


def trunk(s: Skeleton, v: Values) -> Contour:
    """Nape, back, croup, belly, forechest and throat, from behind the ear round to under the jaw."""
    trace = Trace(s)
    _nape(trace, s, v)
    for t in (0.17, 0.34, 0.52, 0.70, 0.86, 1.0):
        trace.to(back(s, v, t))
    _croup_and_flank(trace, s)
    _underline(trace, s, v)
    _throat(trace, s, v)
    return trace.close()


def _nape(trace: Trace, s: Skeleton, v: Values) -> None:
    w, thick = v["ewe_neck"], 0.055 * (v["neck_depth"] - 1)
    trace.head([(0.20, -0.05, 0), (0.07, 0.030, 0), (-0.04, -0.022, 0.9)])
    trace.bone(
        s["withers"],
        s["occiput"],
        (0.80, 0.010 - 0.036 * w + 0.6 * thick, 1),
        (0.56, 0.018 - 0.064 * w + thick, 1),
        (0.33, 0.008 - 0.050 * w + thick, 1),
        (0.15, -0.008 - 0.010 * w + 0.5 * thick, 1),
    )
    trace.to(s["withers"])


def _croup_and_flank(trace: Trace, s: Skeleton) -> None:
    hip_bone, buttock = s["hip_bone"], s["point_of_buttock"]
    hip, stifle = s["hip_joint"], s["stifle"]
    trace.bone(
        hip_bone, buttock, (0.22, -0.0485, 1), (0.47, -0.0560, 1), (0.70, -0.0545, 0.8), (0.85, -0.0470, 0.3)
    )
    trace.xy(buttock, (-0.017, 0.012, 0), (-0.018, -0.04, 0), (0.035, -0.10, 0))
    trace.bone(hip, stifle, (0.42, 0.0, 0), (0.60, 0.09, 0))


def _underline(trace: Trace, s: Skeleton, v: Values) -> None:
    c, elbow, hip, shoulder = s.chest_line, s["elbow"], s["hip_joint"], s["point_of_shoulder"]
    rise = v["tuck_up"]
    fold = float(along(hip, s["stifle"], 0.80, 0.094)[0])
    run = float(elbow[0]) - 0.02 - fold
    for ahead, up, ink in (
        (0.07, 1.02, 0.8),
        (0.19, 0.85, 1),
        (0.36, 0.54, 1),
        (0.57, 0.227, 1),
        (0.80, 0.02, 1),
    ):
        trace.to(at(fold + ahead * run, c + up * rise), ink)
    fc = forechest(v)
    front = shoulder + at(fc - 0.013, -0.056)
    sternum = at(elbow[0] - 0.02, c + 0.002)
    trace.to(sternum)
    trace.bone(front, sternum, (0.75, 0.030, 1), (0.50, 0.040, 1), (0.25, 0.026, 1))
    trace.to(front)
    trace.to(shoulder + at(fc, -0.004))


def _throat(trace: Trace, s: Skeleton, v: Values) -> None:
    w, thick, loose = v["ewe_neck"], 0.05 * (v["neck_depth"] - 1), v["dewlap"]
    low = s["point_of_shoulder"] + at(forechest(v), 0.010)
    trace.bone(
        low,
        s.head(0.30, -0.52),
        (0.20, 0.009 - 0.014 * w - 0.4 * thick - 0.018 * loose, 1),
        (0.48, 0.012 - 0.034 * w - thick - 0.048 * loose, 1),
        (0.76, 0.008 - 0.026 * w - thick - 0.047 * loose, 1),
        (0.93, 0.002 - 0.010 * w - 0.5 * thick - 0.014 * loose, 0.9),
    )
    trace.head([(0.33, -0.46, 0.2), (0.45, -0.30, 0)])


TAIL_STEPS = 26
_TAIL_T = (0.0, 0.15, 0.5, 0.8, 0.94, 1.0)
_TAIL_BACK = (0.036, 0.042, 0.038, 0.031, 0.018, 0.006)
_TAIL_UNDER = (0.050, 0.044, 0.056, 0.048, 0.025, 0.007)


def tail_line(s: Skeleton, v: Values) -> Array:
    """Centre line of the tail, from inside the croup to the tip: (27, 2)."""
    t = (np.arange(TAIL_STEPS) + 0.5) / TAIL_STEPS
    base = v["tail_base"]
    heading = base + (86 - v["pelvis_slope"] - base) * (1 - smooth(0.04, 0.30, t))
    curl = v["tail_curl"]
    # The more it curls, the nearer to the root it begins.
    bent = 48 * smooth(0.50 - 0.11 * max(curl - 1, 0), 1 - 0.10 * max(curl - 1, 0), t)
    heading = heading + curl * (bent - 4 * smooth(0.15, 0.50, t))
    angle = np.radians(heading)
    step = v["tail_length"] / TAIL_STEPS * np.stack([-np.sin(angle), -np.cos(angle)], axis=1)
    root = along(s["hip_bone"], s["point_of_buttock"], 0.56, -0.012)
    return np.vstack([root, root + np.cumsum(step, axis=0)])


def tail(s: Skeleton, v: Values) -> Contour:
    line = tail_line(s, v)
    t = np.linspace(0, 1, len(line))
    heading = np.gradient(line, axis=0)
    heading /= np.hypot(*heading.T)[:, None]
    normal = np.stack([-heading[:, 1], heading[:, 0]], axis=1)
    brush = 1 + (v["tail_brush"] - 1) * smooth(0.02, 0.3, t)
    # No side may be broader than the curl is tight.
    angle = np.unwrap(np.arctan2(heading[:, 1], heading[:, 0]))
    tight = np.convolve(np.pad(np.abs(np.gradient(angle)), 2, mode="edge"), np.ones(5) / 5, "valid")
    most = 0.80 * v["tail_length"] / TAIL_STEPS / np.maximum(tight, 1e-6)
    behind = line - normal * np.minimum(np.interp(t, _TAIL_T, _TAIL_BACK) * brush, most)[:, None]
    under = line + normal * np.minimum(np.interp(t, _TAIL_T, _TAIL_UNDER) * brush, most)[:, None]
    trace = Trace()
    for i in [*range(0, 26, 2), 25, 26]:
        trace.to(behind[i], ramp(0.02, 0.2, t[i]))
    for i in [26, 25, *range(24, 0, -2)]:
        trace.to(under[i], ramp(0.02, 0.2, t[i]))
    return trace.close()
