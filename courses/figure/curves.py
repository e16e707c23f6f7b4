"""Smooth contours through listed points, each with the weight of the ink line at that place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .skeleton import Point, Skeleton, along, at, bisector

Array = NDArray[np.float64]
SAMPLES = 10


def smooth(a: float, b: float, x: Array | float) -> Array:
    """Cubic step: 0 at a, 1 at b."""
    t = np.clip((np.asarray(x, dtype=np.float64) - a) / (b - a), 0.0, 1.0)
    return np.asarray(t * t * (3 - 2 * t))


def ramp(a: float, b: float, x: float) -> float:
    """`smooth` of one number, without the cost of an array."""
    t = min(max((x - a) / (b - a), 0.0), 1.0)
    return t * t * (3 - 2 * t)


@dataclass(frozen=True)
class Contour:
    """A closed or open line: points (n, 2) in H, and the ink weight 0..1 at each."""

    points: Array
    ink: Array
    closed: bool = True

    def moved(self, dx: float, dy: float) -> Contour:
        return Contour(self.points + np.array([dx, dy]), self.ink, self.closed)

    def mirrored(self) -> Contour:
        """The same contour on the other side of x = 0, still running the same way round."""
        return Contour(self.points[::-1] * np.array([-1.0, 1.0]), self.ink[::-1], self.closed)


def centripetal(points: Array, ink: Array, closed: bool = True, samples: int = SAMPLES) -> Contour:
    """Centripetal Catmull–Rom spline (Barry and Goldman's pyramid) through the points."""
    if closed:
        p = np.vstack([points[-1:], points, points[:2]])
        w = np.append(ink, ink[0])
    else:
        p = np.vstack([2 * points[:1] - points[1:2], points, 2 * points[-1:] - points[-2:-1]])
        w = ink
    step = np.maximum(np.hypot(*np.diff(p, axis=0).T) ** 0.5, 1e-9)
    p0, p1, p2, p3 = (p[i : len(p) - 3 + i, None, :] for i in range(4))
    d0, d1, d2 = (step[i : len(step) - 2 + i, None, None] for i in range(3))
    u = (np.arange(samples) / samples)[None, :, None]
    t = d0 + u * d1
    a1 = p0 + (p1 - p0) * (t / d0)
    a2 = p1 + (p2 - p1) * ((t - d0) / d1)
    a3 = p2 + (p3 - p2) * ((t - d0 - d1) / d2)
    b1 = a1 + (a2 - a1) * (t / (d0 + d1))
    b2 = a2 + (a3 - a2) * ((t - d0) / (d1 + d2))
    curve = (b1 + (b2 - b1) * u).reshape(-1, 2)
    weight = (w[:-1, None] * (1 - u[0, :, 0]) + w[1:, None] * u[0, :, 0]).ravel()
    if not closed:
        curve, weight = np.vstack([curve, points[-1:]]), np.append(weight, ink[-1])
    return Contour(curve, weight, closed)


class Trace:
    """Collects the points of a contour in the order in which the pen would follow them."""

    def __init__(self, skeleton: Skeleton | None = None) -> None:
        self._points: list[Point] = []
        self._ink: list[float] = []
        self._skeleton = skeleton

    def to(self, point: Point, ink: float = 1.0) -> Trace:
        self._points.append(point)
        self._ink.append(ink)
        return self

    def xy(self, origin: Point, *rows: tuple[float, float, float]) -> Trace:
        """Points at an offset (dx, dy, ink) from an origin."""
        for dx, dy, ink in rows:
            self.to(origin + at(dx, dy), ink)
        return self

    def bone(self, a: Point, b: Point, *rows: tuple[float, float, float], k: float = 1.0) -> Trace:
        """Points (t, d, ink) beside the bone A→B; d is multiplied by k."""
        for t, d, ink in rows:
            self.to(along(a, b, t, d * k), ink)
        return self

    def bend(self, a: Point, joint: Point, b: Point, d: float, ink: float = 1.0) -> Trace:
        return self.to(bisector(a, joint, b, d), ink)

    def head(self, rows: Iterable[Sequence[float]]) -> Trace:
        """Points (u, v, ink) in the frame of the head."""
        assert self._skeleton is not None
        for u, v, ink in rows:
            self.to(self._skeleton.head(u, v), ink)
        return self

    def close(self) -> Contour:
        return centripetal(np.array(self._points), np.array(self._ink))

    def open(self) -> Contour:
        return centripetal(np.array(self._points), np.array(self._ink), closed=False)
