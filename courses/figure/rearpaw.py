"""A hind foot seen from behind: heel pad between the outer toes, sheared towards where they point."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians, tan

from .curves import Trace
from .face import area, line
from .plan import Mark
from .relief import Ridge
from .skeleton import Point, at

Values = Mapping[str, float]
_PAD = (70, 58, 52)
_LINE = (58, 42, 33)


class RearPaw:
    """`side` is +1 for the picture's right. Every height above the ground shifts by the turn of the toes."""

    def __init__(self, foot: Point, v: Values, side: float) -> None:
        self.foot, self.side = foot, side
        self.half = 0.0365 * (1 + 0.5 * (v["bone"] - 1))
        self.high = 0.052
        self.spread = v["toe_spread"]
        self.slope = tan(radians(v["rear_toe_turn"]))

    def at(self, across: float, up: float) -> Point:
        """`across` in half widths, outwards positive; `up` in heights of the foot."""
        y = up * self.high
        wide = 1 + 0.30 * self.spread * max(0.0, 1 - max(up, 0.0))
        turned = max(0.0, float(self.foot[1]) - y) * self.slope
        return at(self.side * (self.foot[0] + across * self.half * wide + turned), y)

    def trace(self, trace: Trace) -> None:
        """The outline from the outer side of the pastern, under the pads, to its inner side."""
        rows = [
            (0.60, 1.36),
            (0.82, 1.02),
            (1.02, 0.62),
            (1.08, 0.30),
            (0.98, 0.06),
            (0.74, 0.0),
            (0.52, 0.06),
        ]
        rows += [
            (0.26, 0.0),
            (0.0, 0.0),
            (-0.26, 0.0),
            (-0.52, 0.06),
            (-0.74, 0.0),
            (-0.98, 0.06),
            (-1.08, 0.30),
        ]
        rows += [(-1.00, 0.62), (-0.80, 1.02), (-0.60, 1.36)]
        for across, up in rows:
            trace.to(self.at(across, up))

    def marks(self) -> list[Mark]:
        pad = [
            (-0.44, 0.10),
            (-0.40, 0.34),
            (-0.16, 0.46),
            (0.16, 0.46),
            (0.40, 0.34),
            (0.44, 0.10),
            (0.20, 0.04),
            (-0.20, 0.04),
        ]
        out = [Mark("pad", area([self.at(a, b) for a, b in pad]), _PAD, 0.88, soft=0.0018)]
        for s in (1.0, -1.0):
            rows = [self.at(0.50 * s, 0.04), self.at(0.54 * s, 0.30), self.at(0.44 * s, 0.66)]
            out.append(Mark("furrow_shade", line(rows, (1, 0.8, 0.1)), _LINE, 0.30, soft=0.0024, pen=3.2))
            out.append(Mark("furrow", line(rows, (1, 0.8, 0.05)), _LINE, 0.8, pen=0.65))
        return out

    def forms(self) -> list[Ridge]:
        return [Ridge(self.at(0.76 * s, 0.14), self.at(0.74 * s, 0.48), 0.008, 0.0038) for s in (1.0, -1.0)]
