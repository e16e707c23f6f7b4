"""The ears from the side: a leather that may tip over, in the frame of the head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from .curves import Array, Contour, centripetal, ramp
from .leather import fold
from .skeleton import Point, Skeleton

Values = Mapping[str, float]

_EDGE = [
    (0.070, -0.045, 0), (0.040, 0.010, 0.25), (0.022, 0.075, 0.9), (0.026, 0.150, 1), (0.050, 0.228, 1),
    (0.086, 0.300, 1), (0.116, 0.345, 1), (0.137, 0.361, 1), (0.158, 0.352, 1), (0.190, 0.306, 1),
    (0.232, 0.232, 1), (0.272, 0.158, 1), (0.306, 0.094, 1), (0.330, 0.042, 0.8), (0.334, 0.006, 0.3),
    (0.290, -0.050, 0), (0.170, -0.080, 0),
]  # fmt: skip
_INNER = [
    (0.130, 0.350), (0.112, 0.300), (0.102, 0.230), (0.106, 0.160), (0.126, 0.090), (0.166, 0.030),
    (0.232, 0.000), (0.300, 0.020), (0.321, 0.056), (0.300, 0.100), (0.268, 0.158), (0.228, 0.231),
    (0.187, 0.303), (0.157, 0.348),
]  # fmt: skip
_DEEP = [
    (0.150, 0.190), (0.150, 0.110), (0.186, 0.046), (0.240, 0.022), (0.276, 0.048), (0.262, 0.110),
    (0.222, 0.180), (0.180, 0.240),
]  # fmt: skip
_RIM = [(0.324, 0.040), (0.297, 0.098), (0.263, 0.158), (0.224, 0.230), (0.182, 0.304)]
_POCKET = [(0.030, 0.130), (0.046, 0.092), (0.052, 0.050), (0.046, 0.014)]
_TUFT = [(0.300, 0.010), (0.312, 0.060), (0.290, 0.105), (0.262, 0.155), (0.236, 0.200)]
ROOT = (0.185, 0.0)


@dataclass(frozen=True)
class Ear:
    """One ear: `leather` is what stands, `flap` what has tipped over it (None while all stands)."""

    leather: Contour
    inner: Contour
    deep: Contour
    rim: Contour
    pocket: Contour
    tuft: Contour
    flap: Contour | None
    base: Point
    tip: Point


def _placed(s: Skeleton, v: Values, rows: Sequence[tuple[float, ...]], far: bool) -> Array:
    """Ear points in H after length, set and the shift of the far ear."""
    low = v["ear_set"]
    turn = radians(-10 * low)
    out = []
    for row in rows:
        x, y = row[0] - ROOT[0], row[1]
        y *= 1 + (v["ear_length"] - 1) * ramp(-0.02, 0.08, row[1])
        x *= 1 + 0.45 * (v["ear_length"] - 1)
        x, y = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)
        x, y = x + ROOT[0] - 0.025 * low, y + ROOT[1] - 0.120 * low
        if far:
            x, y = 0.90 * x + 0.120, 0.96 * y + 0.010 + 0.03 * low
        out.append(s.head(x, y))
    return np.array(out)


def ear(s: Skeleton, v: Values, *, far: bool = False) -> Ear:
    """The ear of the near or the far side; its tip is the end of the leather, also when tipped over."""
    edge = _placed(s, v, _EDGE, far)
    weights = np.array([row[2] for row in _EDGE], dtype=np.float64)
    whole = centripetal(edge, weights)
    inner, deep = (centripetal(_placed(s, v, rows, far), np.zeros(len(rows))) for rows in (_INNER, _DEEP))
    rim, pocket, tuft = (
        centripetal(_placed(s, v, rows, far), np.ones(len(rows)), closed=False)
        for rows in (_RIM, _POCKET, _TUFT)
    )
    root, tip = _placed(s, v, [ROOT, (0.137, 0.361)], far)
    base = _placed(s, v, [(0.330, 0.042)], far)[0]
    leather, flap, end = fold(whole, root, tip, v["ear_fold"], 1.0, tilt=12, draw=0.42)
    return Ear(leather, inner, deep, rim, pocket, tuft, flap, base, end)
