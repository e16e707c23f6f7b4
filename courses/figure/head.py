"""Contour and points of the head from the side.

Everything is in the frame of the head: u along the skull's axis from occiput (0) towards the nose (1),
v square to it and up, in head lengths. `Face` carries the parameters of the head and moves points of the
ideal head to where they belong on this one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp, hypot

import numpy as np

from .curves import Contour, Trace, ramp
from .skeleton import Point, Skeleton

Values = Mapping[str, float]
Rows = Sequence[tuple[float, float, float]]
UV = tuple[float, float]

STOP: UV = (0.497, 0.006)
NOSE: UV = (0.997, -0.092)
LIP_FRONT: UV = (0.958, -0.222)
LIP_CORNER: UV = (0.610, -0.286)

_OUTLINE: Rows = [
    (-0.020, -0.120, 0), (-0.012, -0.030, 0), (0.040, 0.022, 0), (0.120, 0.054, 0), (0.230, 0.073, 0),
    (0.310, 0.080, 0.5), (0.375, 0.077, 1), (0.430, 0.059, 1), (0.466, 0.033, 1), (0.497, 0.006, 1),
    (0.530, -0.015, 1), (0.580, -0.027, 1), (0.660, -0.033, 1), (0.770, -0.038, 1), (0.870, -0.042, 1),
    (0.927, -0.041, 1), (0.960, -0.040, 1), (0.985, -0.051, 1), (0.9985, -0.078, 1), (0.996, -0.106, 1),
    (0.984, -0.132, 1), (0.974, -0.158, 1), (0.970, -0.190, 1), (0.957, -0.222, 1), (0.943, -0.246, 1),
    (0.940, -0.278, 1), (0.924, -0.314, 1), (0.880, -0.336, 1), (0.790, -0.345, 1), (0.680, -0.355, 1),
    (0.560, -0.379, 1), (0.455, -0.415, 0.9), (0.360, -0.462, 0.35), (0.230, -0.470, 0), (0.080, -0.300, 0),
]  # fmt: skip


def _bridge(u: float) -> float:
    """Height of the bridge of the ideal nose."""
    return float(np.interp(u, (0.45, 0.58, 0.66, 0.87, 0.97), (0.02, -0.027, -0.033, -0.042, -0.044)))


def _lip(u: float) -> float:
    """Height of the ideal line between the lips."""
    return float(np.interp(u, (0.58, 0.70, 0.80, 0.90, 0.958), (-0.290, -0.264, -0.254, -0.246, -0.222)))


@dataclass(frozen=True)
class Face:
    """The head of one dog: moves a point of the ideal head by all parameters of the head."""

    skeleton: Skeleton
    values: Values

    def at(self, u: float, v: float, *, lower: bool = False) -> Point:
        """Where the ideal head's point (u, v) lies, in H; `lower` marks points of the lower jaw."""
        return self.skeleton.head(*self.uv(u, v, lower=lower))

    def uv(self, u: float, v: float, *, lower: bool = False) -> UV:
        u, v = self._skull(u, v)
        if lower:
            u, v = self._jaw(u, v)
        v = self._depth(u, v)
        return self._length(u, v)

    def _skull(self, u: float, v: float) -> UV:
        """Stop and dome; only the upper line moves."""
        if v < -0.12:
            return u, v
        top = ramp(-0.12, -0.02, v)
        line = 0.073 - 0.109 * (u - 0.28) / 0.40
        reach = ramp(0.24, 0.33, u) * (1 - ramp(0.60, 0.72, u))
        v += top * reach * (self.values["stop"] - 1) * (max(min(v, 0.09), -0.05) - line)
        dome = self.values["skull_dome"]
        return u, v + top * dome * 0.075 * exp(-(((u - 0.27) / 0.15) ** 2))

    def _jaw(self, u: float, v: float) -> UV:
        """Chin and lower jaw, below the lip line."""
        strength, offset = self.values["underjaw"], self.values["jaw_offset"]
        front = ramp(0.62, 0.90, u)
        lip = _lip(u)
        v = lip + (v - lip) * (1 + (strength - 1) * 0.85 * front)
        u += front * ((0.048 if offset > 0 else 0.085) * offset + 0.030 * (strength - 1))
        return u, v + front * 0.010 * max(offset, 0.0)

    def _depth(self, u: float, v: float) -> float:
        deep = ramp(0.50, 0.70, u)
        bridge = _bridge(u)
        below = min(v - bridge, 0.0)
        return v + below * (self.values["muzzle_depth"] - 1) * deep

    def _length(self, u: float, v: float) -> UV:
        """Stretch the muzzle along its own axis, the nose pad moving as one piece."""
        sx, sy = self._skull(*STOP)
        length = hypot(NOSE[0] - sx, self._depth(*NOSE) - sy)
        ax, ay = (NOSE[0] - sx) / length, (self._depth(*NOSE) - sy) / length
        ahead = (u - sx) * ax + (v - sy) * ay
        share = float(np.interp(ahead, (0.0, 0.06, 0.40), (0.0, 0.06, 1.0)))
        extra = self.values["muzzle_ratio"] * hypot(sx, sy) - length
        return u + share * extra * ax, v + share * extra * ay


def head(s: Skeleton, v: Values) -> Contour:
    face = Face(s, v)
    loose = v["lips"]
    trace = Trace()
    for i, (u, w, weight) in enumerate(_OUTLINE):
        lower = 23 < i < 32
        # A hanging lip covers the line of the jaw.
        hang = 0.075 * loose * exp(-(((u - 0.76) / 0.13) ** 2)) if lower else 0.0
        trace.to(face.at(u, w - hang, lower=lower), weight)
    return trace.close()


def head_points(s: Skeleton, v: Values) -> dict[str, Point]:
    """The head's points with the names of the measures, except the ear's."""
    face = Face(s, v)
    return {
        "nose": face.at(*NOSE),
        "stop": face.at(*STOP),
        "occiput": s["occiput"],
        "jaw_corner": face.at(0.36, -0.462),
        "chin": face.at(0.934, -0.285, lower=True),
    }
