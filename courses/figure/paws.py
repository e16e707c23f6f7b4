"""Toes and nails of a foot seen from the side."""

from __future__ import annotations

from collections.abc import Mapping

from .face import area, line
from .plan import Mark
from .relief import Ridge
from .skeleton import Point, at

Values = Mapping[str, float]
_NAIL = (64, 54, 48)
_TOE_LINE = (58, 42, 33)
# The two furrows between the toes, and where the nails leave them: x ahead of the foot joint, y.
_FURROWS = (
    ((0.026, 0.062), (0.043, 0.051), (0.055, 0.031), (0.057, 0.005)),
    ((0.004, 0.050), (0.018, 0.042), (0.028, 0.025), (0.027, 0.004)),
)
_TIPS = ((0.084, 1.0), (0.054, 0.95), (0.025, 0.8))


class Paw:
    """Places the parts of one foot: `ahead` of the foot joint and `up` from the ground."""

    def __init__(self, foot: Point, v: Values, shape: str, *, hind: bool, ground: float = 0.0) -> None:
        self.shape = shape
        self.flat = 1 - v["foot_arch"]
        size = 1 + 0.6 * (v["bone"] - 1)
        self.long = size * v["foot_length"] * (0.88 if hind else 1.0)
        self.size, self.nail = size, v["nail_length"]
        self.foot, self.ground = foot, ground

    def at(self, ahead: float, up: float) -> Point:
        flat = self.flat * max(0.0, min(1.0, (ahead + 0.01) / 0.05))
        x = (ahead + 0.016 * flat) * (self.long if ahead > 0 else self.size)
        y = up * (1 - 0.26 * flat) * self.size
        return at(self.foot[0] + x, self.ground + y)

    def marks(self) -> list[Mark]:
        out: list[Mark] = []
        for row in _FURROWS:
            points = [self.at(x, y) for x, y in row]
            out.append(
                Mark("furrow_shade", line(points, (0, 0.6, 1, 0.9)), _TOE_LINE, 0.26, soft=0.0024, pen=3.2)
            )
            out.append(Mark("furrow", line(points, (0.05, 0.6, 0.9, 0.8)), _TOE_LINE, 0.82, pen=0.62))
        sole = [
            (-0.028, 0.004),
            (-0.020, 0.011),
            (-0.004, 0.009),
            (0.020, 0.010),
            (0.050, 0.010),
            (0.074, 0.010),
        ]
        sole += [(0.080, 0.005), (0.060, -0.002), (0.020, -0.002), (-0.018, -0.002)]
        pads = Mark(
            "pads", area([self.at(a, b) for a, b in sole]), _NAIL, 0.50, soft=0.0022, within=self.shape
        )
        return [pads, *out, *(mark for x, k in _TIPS for mark in self._nail(x, k))]

    def _nail(self, x: float, k: float) -> list[Mark]:
        reach = 0.0125 * (self.nail - 1)
        rows = [(x - 0.006, 0.0150), (x + 0.002, 0.0152), (x + 0.0085 + 0.7 * reach, 0.0110 + 0.10 * reach)]
        rows += [
            (x + 0.0130 + reach, 0.0020 - 0.04 * reach),
            (x + 0.0115 + 0.95 * reach, 0.0002 - 0.04 * reach),
        ]
        rows += [(x + 0.0060 + 0.55 * reach, 0.0050 + 0.06 * reach), (x + 0.000, 0.0068), (x - 0.006, 0.0085)]
        shine = [self.at(x - 0.002, 0.0136 * k), self.at(x + 0.006 + 0.6 * reach, 0.0105 * k)]
        return [
            Mark("nail", area([self.at(a, b * k) for a, b in rows]), _NAIL, 0.95, soft=0.0003),
            Mark("nail_shine", line(shine, (0.3, 0.6)), (150, 136, 124), 0.55, soft=0.0003, pen=0.7),
        ]

    def forms(self) -> list[Ridge]:
        """The toes swell between the furrows."""
        rows = (
            ((0.038, 0.060), (0.072, 0.026)),
            ((0.018, 0.046), (0.042, 0.018)),
            ((-0.006, 0.034), (0.012, 0.014)),
        )
        swell = [Ridge(self.at(*a), self.at(*b), 0.0085 * self.size, 0.0056 * self.size) for a, b in rows]
        dents = [Ridge(self.at(*row[1]), self.at(*row[3]), 0.0035, -0.0028) for row in _FURROWS]
        return swell + dents
