"""The leather of an ear that tips over: cut across and laid down over itself."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, radians, sin

import numpy as np

from .curves import Array, Contour, centripetal
from .skeleton import Point

SHOWS = 0.02


def ring(points: Array, ink: Sequence[float]) -> Contour:
    return centripetal(points, np.array(ink, np.float64))


def fold(
    whole: Contour, root: Point, tip: Point, amount: float, side: float, tilt: float, draw: float
) -> tuple[Contour, Contour | None, Point]:
    """What still stands, what has tipped over (None below `SHOWS`), and where the tip has come to lie.

    The crease lies across the ear, `tilt` degrees off square, the lower the larger the amount 0..1; `side`
    is +1 when the flap is drawn to the picture's right, by `draw` of its height.
    """
    if amount < SHOWS:
        return whole, None, tip
    height = float(np.hypot(*(tip - root)))
    axis = (tip - root) / height
    crease = root + axis * height * (1 - 0.60 * amount)
    across = np.array([axis[1], -axis[0]]) * side
    lean = across * cos(radians(tilt)) - axis * sin(radians(tilt))
    normal = np.array([-lean[1], lean[0]]) * side
    rise = (whole.points - crease) @ normal
    start = int(np.argmin(rise))
    points, ink, rise = (np.roll(a, -start, axis=0) for a in (whole.points, whole.ink, rise))
    up = np.flatnonzero(rise > 0)
    first, last = int(up[0]), int(up[-1])
    enter, leave = _crossing(points, rise, first), _crossing(points, rise, last + 1)

    def over(p: Array) -> Array:
        """Mirrored in the crease, a little foreshortened, and drawn to one side."""
        h = ((p - crease) @ normal)[:, None]
        return np.asarray(p - h * normal - h * (0.90 * normal) + h * draw * lean)

    tipped = over(points[up][4:-4:5])
    flap = ring(np.vstack([enter, tipped, leave]), [1.0] * (len(tipped) + 2))
    arc = [enter + (leave - enter) * t + normal * 0.009 * sin(t * pi) for t in (0.33, 0.67)]
    before, after = slice(0, max(first - 3, 1), 4), slice(last + 4, None, 4)
    rest = np.vstack([points[before], enter, *arc, leave, points[after]])
    weights = [*ink[before].tolist(), 1.0, 1.0, 1.0, 1.0, *ink[after].tolist()]
    return ring(rest, weights), flap, over(tip[None])[0]


def _crossing(points: Array, rise: Array, i: int) -> Point:
    """Where the edge meets the crease, between points i − 1 and i."""
    a, b = rise[i - 1], rise[i]
    return np.asarray(points[i - 1] + (points[i] - points[i - 1]) * (a / (a - b)))
