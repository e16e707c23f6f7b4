"""Numbers that know how they hang on the coordinates they came from: value and exact slopes.

The error of a result follows to first order, sd² = Σ (slope · sd of the coordinate)², for coordinates
whose errors are independent (JCGM 100:2008, "Guide to the expression of uncertainty", 5.1.2).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Uncertain:
    """`slopes` maps the name of a coordinate to the derivative of `value` by it."""

    value: float
    slopes: Mapping[str, float] = field(default_factory=dict)

    def __add__(self, other: Uncertain) -> Uncertain:
        return _chain(self.value + other.value, (1, self), (1, other))

    def __sub__(self, other: Uncertain) -> Uncertain:
        return _chain(self.value - other.value, (1, self), (-1, other))

    def __neg__(self) -> Uncertain:
        return _chain(-self.value, (-1, self))

    def __abs__(self) -> Uncertain:
        return -self if self.value < 0 else self

    def __mul__(self, other: Uncertain) -> Uncertain:
        return _chain(self.value * other.value, (other.value, self), (self.value, other))

    def __truediv__(self, other: Uncertain) -> Uncertain:
        if not other.value:
            raise ValueError("A length that the others are set against is zero.")
        quotient = self.value / other.value
        return _chain(quotient, (1 / other.value, self), (-quotient / other.value, other))

    def sd(self, sds: Mapping[str, float]) -> float:
        """Standard deviation, given that of each coordinate."""
        return math.hypot(*(slope * sds[source] for source, slope in self.slopes.items()))


def _chain(value: float, *terms: tuple[float, Uncertain]) -> Uncertain:
    slopes: dict[str, float] = {}
    for factor, term in terms:
        for source, slope in term.slopes.items():
            slopes[source] = slopes.get(source, 0.0) + factor * slope
    return Uncertain(value, slopes)


def angle_of(y: Uncertain, x: Uncertain) -> Uncertain:
    """atan2(y, x) in degrees; ValueError when both are zero, for then there is no direction."""
    square = x.value**2 + y.value**2
    if not square:
        raise ValueError("Two of the points coincide, so there is no direction between them.")
    degrees = math.degrees(1 / square)
    return _chain(math.degrees(math.atan2(y.value, x.value)), (degrees * x.value, y), (-degrees * y.value, x))


@dataclass(frozen=True, slots=True)
class Vector:
    x: Uncertain
    y: Uncertain

    def __sub__(self, other: Vector) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def __neg__(self) -> Vector:
        return Vector(-self.x, -self.y)

    def dot(self, other: Vector) -> Uncertain:
        return self.x * other.x + self.y * other.y

    def cross(self, other: Vector) -> Uncertain:
        """Positive when `other` lies clockwise from here on the screen (y down)."""
        return self.x * other.y - self.y * other.x

    def length(self) -> Uncertain:
        value = math.hypot(self.x.value, self.y.value)
        if not value:
            return Uncertain(0.0)
        return _chain(value, (self.x.value / value, self.x), (self.y.value / value, self.y))

    def unit(self) -> Vector:
        length = self.length()
        return Vector(self.x / length, self.y / length)
