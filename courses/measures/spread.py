"""What several people placed, pooled point by point, and how far they were apart.

Points placed on photographs repeat well for one person and badly between people, so the spread between
people, not the steadiness of one hand, is the error that counts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

# From two or three people the spread is itself mostly chance: the usual error counts as so many more.
USUAL_COUNTS = 4


@dataclass(frozen=True, slots=True)
class PooledPoint:
    """Mean place, and the standard deviation between people per axis (None from one person alone)."""

    x: float
    y: float
    sd_x: float | None
    sd_y: float | None
    people: int

    @property
    def place(self) -> tuple[float, ...]:
        """As `measure` takes it: with the error of the mean when there is one."""
        if self.sd_x is None or self.sd_y is None:
            return self.x, self.y
        return self.x, self.y, self.sd_x / self.people**0.5, self.sd_y / self.people**0.5

    def steadied(self, usual: float) -> tuple[float, float, float, float]:
        """As `measure` takes it, with the spread held to the `usual` standard deviation of one person.

        Two people who agree by luck would otherwise count as certain. The pooled variance
        (k · usual² + (n − 1) · sd²) / (k + n − 1), k = `USUAL_COUNTS`, leans on the usual while people are
        few and leaves it behind as they grow many.
        """
        return self.x, self.y, self._error(self.sd_x, usual), self._error(self.sd_y, usual)

    def _error(self, sd: float | None, usual: float) -> float:
        seen = self.people - 1
        variance = (USUAL_COUNTS * usual**2 + seen * (sd or 0.0) ** 2) / (USUAL_COUNTS + seen)
        return math.sqrt(variance / self.people)


def pooled(placements: Sequence[Mapping[str, Sequence[float]]]) -> dict[str, PooledPoint]:
    """Each point that anyone placed; one mapping of name to (x, y) for each person."""
    names = dict.fromkeys(name for each in placements for name in each)
    return {name: _pool([each[name] for each in placements if name in each]) for name in names}


def _pool(places: Sequence[Sequence[float]]) -> PooledPoint:
    xs, ys = [place[0] for place in places], [place[1] for place in places]
    several = len(places) > 1
    return PooledPoint(
        fmean(xs), fmean(ys), stdev(xs) if several else None, stdev(ys) if several else None, len(xs)
    )
