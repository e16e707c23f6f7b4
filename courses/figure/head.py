"""Contour of the head from the side, with ear, eye, nose and mouth, in the frame of the head."""

from __future__ import annotations

from collections.abc import Mapping

from .curves import Contour, Trace
from .skeleton import Point, Skeleton

Values = Mapping[str, float]
Rows = list[tuple[float, float, float]]

STOP = (0.497, 0.006)
NOSE = (0.997, -0.092)

_SKULL: Rows = [
    (-0.020, -0.120, 0), (-0.010, -0.030, 0), (0.040, 0.022, 0), (0.120, 0.050, 0), (0.250, 0.066, 0),
    (0.300, 0.069, 0.5), (0.370, 0.066, 1), (0.445, 0.044, 1), (0.497, 0.006, 1), (0.545, -0.026, 1),
    (0.620, -0.040, 1), (0.760, -0.047, 1), (0.875, -0.052, 1), (0.930, -0.046, 1), (0.972, -0.056, 1),
    (0.997, -0.092, 1), (0.990, -0.142, 1), (0.974, -0.180, 1), (0.976, -0.222, 1), (0.958, -0.258, 1),
    (0.938, -0.296, 1), (0.890, -0.330, 1), (0.790, -0.343, 1), (0.660, -0.356, 1), (0.530, -0.386, 1),
    (0.430, -0.430, 0.9), (0.340, -0.470, 0.3), (0.220, -0.460, 0), (0.080, -0.300, 0),
]  # fmt: skip
_EAR: Rows = [
    (0.055, -0.060, 0), (0.010, 0.000, 0), (-0.010, 0.080, 0.7), (-0.004, 0.180, 1), (0.030, 0.275, 1),
    (0.062, 0.322, 1), (0.088, 0.318, 1), (0.140, 0.262, 1), (0.200, 0.190, 1), (0.252, 0.122, 1),
    (0.298, 0.062, 0.9), (0.338, 0.022, 0.35), (0.300, -0.035, 0), (0.150, -0.090, 0),
]  # fmt: skip


def head(s: Skeleton, v: Values) -> Contour:
    return Trace(s).head(_SKULL).close()


def ear(s: Skeleton, v: Values) -> Contour:
    return Trace(s).head(_EAR).close()


def far_ear(s: Skeleton, v: Values) -> Contour:
    return Trace(s).head([(0.88 * u + 0.118, 0.97 * w + 0.012, ink) for u, w, ink in _EAR]).close()


def head_points(s: Skeleton, v: Values) -> dict[str, Point]:
    named = {
        "nose": NOSE,
        "stop": STOP,
        "occiput": (0.0, 0.0),
        "eye_inner": (0.515, -0.098),
        "eye_outer": (0.433, -0.078),
        "ear_base": (0.338, 0.022),
        "ear_tip": (0.075, 0.323),
        "jaw_corner": (0.34, -0.47),
        "chin": (0.938, -0.296),
    }
    return {name: s.head(*uv) for name, uv in named.items()}
