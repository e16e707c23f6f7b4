"""A forefoot seen from the front: four toes, sheared towards where they point."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians, tan

from .curves import Trace
from .face import area, line
from .plan import Mark
from .relief import Ridge
from .skeleton import Point, at

Values = Mapping[str, float]
_NAIL = (64, 54, 48)
_LINE = (58, 42, 33)
# Toes from the inner to the outer side: middle, half width and height, in half widths of the foot.
_TOES = ((-0.74, 0.255, 0.70), (-0.26, 0.255, 1.0), (0.26, 0.255, 1.0), (0.74, 0.255, 0.70))


class FrontPaw:
    """`side` is +1 for the picture's right. Every height above the ground shifts by the turn of the toes."""

    def __init__(self, foot: Point, v: Values, side: float) -> None:
        self.foot, self.side = foot, side
        self.half = 0.0425 * (1 + 0.5 * (v["bone"] - 1))
        self.high = 0.058 * (0.62 + 0.38 * v["foot_arch"])
        self.spread, self.nail = v["toe_spread"], v["nail_length"]
        self.slope = tan(radians(v["front_toe_turn"]))

    def at(self, across: float, up: float, level: float | None = None) -> Point:
        """`across` in half widths, outwards positive; `up` in heights of the foot.

        Spread toes stand apart most at the ground; `level` is the height whose spread applies, if not `up`.
        """
        y = up * self.high
        wide = 1 + 0.42 * self.spread * max(0.0, 1 - max(up if level is None else level, 0.0) / 1.1)
        turned = max(0.0, float(self.foot[1]) - y) * self.slope
        return at(self.side * (self.foot[0] + across * self.half * wide + turned), y)

    def trace(self, trace: Trace) -> None:
        """The outline from the outer side of the pastern, under the toes, to its inner side."""
        gap = 0.07 + 0.42 * self.spread * (1 - min(0.75, 1.3 * abs(self.slope)))
        trace.to(self.at(0.72, 1.26)).to(self.at(0.90, 1.00)).to(self.at(1.03, 0.66)).to(self.at(1.06, 0.32))
        toes = _TOES[::-1]
        for i, (middle, close, _) in enumerate(toes):
            wide = close - 0.075 * self.spread
            low = 0.05 if i in (0, 3) else 0.0
            trace.to(self.at(middle + 0.86 * wide, low + 0.09)).to(self.at(middle, low))
            trace.to(self.at(middle - 0.86 * wide, low + 0.09))
            if i < 3:
                trace.to(self.at((middle + toes[i + 1][0]) / 2, gap, 0.10))
        trace.to(self.at(-1.06, 0.32)).to(self.at(-1.02, 0.66)).to(self.at(-0.88, 1.00)).to(
            self.at(-0.70, 1.26)
        )

    def marks(self) -> list[Mark]:
        out: list[Mark] = []
        for i, top in enumerate((0.74, 0.98, 0.74)):
            middle = (_TOES[i][0] + _TOES[i + 1][0]) / 2
            bow = 0.05 * (i - 1)
            rows = [self.at(middle * 0.86 - bow, top), self.at(middle + bow, 0.55), self.at(middle, 0.08)]
            out.append(
                Mark(
                    "furrow_shade",
                    line(rows, (0.1, 0.9, 1)),
                    _LINE,
                    0.26 + 0.2 * self.spread,
                    soft=0.0024,
                    pen=3.4,
                )
            )
            out.append(Mark("furrow", line(rows, (0.1, 0.8, 1)), _LINE, 0.85, pen=0.7))
        for i, (middle, _, _) in enumerate(_TOES):
            out += self._nail(middle, 0.05 if i in (0, 3) else 0.0)
        return out

    def _nail(self, middle: float, low: float) -> list[Mark]:
        long = 0.055 * (self.nail - 1)
        rows = [(middle - 0.070, low + 0.17), (middle - 0.042, low + 0.235), (middle + 0.042, low + 0.235)]
        rows += [(middle + 0.070, low + 0.17), (middle + 0.052, low + 0.05 - 0.6 * long)]
        rows += [(middle + 0.012, low - 0.012 - long), (middle - 0.020, low - 0.010 - long)]
        rows += [(middle - 0.055, low + 0.05 - 0.6 * long)]
        shine = [self.at(middle - 0.022, low + 0.19), self.at(middle - 0.028, low + 0.05 - 0.5 * long)]
        return [
            Mark("nail", area([self.at(a, b) for a, b in rows]), _NAIL, 0.92, soft=0.0003),
            Mark("nail_shine", line(shine, (0.8, 0.1)), (150, 136, 124), 0.5, soft=0.0003, pen=0.7),
        ]

    def forms(self) -> list[Ridge]:
        swell = [
            Ridge(self.at(m, 0.28), self.at(m * 0.92, 0.62 * top), 0.0085, 0.0042) for m, _, top in _TOES
        ]
        knuckles = [
            Ridge(self.at(m * 0.95, 0.72 * top), self.at(m * 0.95, 0.76 * top), 0.0075, 0.0034)
            for m, _, top in _TOES
        ]
        return swell + knuckles
