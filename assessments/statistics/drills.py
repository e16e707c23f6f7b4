"""Drills: a series of two-picture choices that closes in on the smallest difference an eye can tell."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import isfinite, sqrt
from statistics import fmean, stdev
from typing import Literal, NamedTuple

import numpy as np
from scipy.special import ndtr, ndtri

# The threshold is the mean of these last reversals; those before them lead the way.
REVERSALS_USED = 6
# House rule: steps in a row that the floor or the ceiling holds back before a drill gives up.
STEPS_HELD_BACK = 4
# The grid of `likely_range`, and the share of answers that what is seen decides (half are guessed right).
PLACES, SLOPES = 121, 9
TOLD = 0.49


class Threshold(NamedTuple):
    """The smallest difference told reliably, in the unit of the drill, and the standard error of that mean.

    The error is that of the six reversals alone. They hang together, so that it is often two to three
    times too small as an account of the eye: what to show is `Staircase.likely_range`.
    """

    value: float
    standard_error: float


class _Walk(NamedTuple):
    """Where the answers so far have led."""

    level: float
    shown: tuple[float, ...]
    turns: tuple[float, ...]
    held_back: int


@dataclass(frozen=True)
class Staircase:
    """A transformed up-and-down series: easier after a wrong answer, harder after `down` right ones in a row.

    start, step, floor, ceiling: differences between the two pictures, in the unit of the drill (degrees, a
    ratio), larger is easier. The step is halved once, after the second reversal; the drill is done after
    `reversals` of them, or when the floor or the ceiling has held it back again and again.
    answers: those given so far, oldest first; with the settings they are all there is to store.

    Three down, one up closes in on 79.4 % right answers, two down on 70.7 %: Levitt (1971), Journal of the
    Acoustical Society of America 49:467–477. Raises ValueError for settings that allow no such series.
    """

    start: float
    step: float
    floor: float
    ceiling: float
    down: int = 3
    reversals: int = 8
    answers: tuple[bool, ...] = ()

    def __post_init__(self) -> None:
        if not all(map(isfinite, (self.start, self.step, self.floor, self.ceiling))):
            raise ValueError(f"{self}: start, step, floor and ceiling are finite numbers")
        if self.step <= 0:
            raise ValueError(f"step = {self.step}: must be above 0")
        if not self.floor < self.ceiling:
            raise ValueError(f"floor = {self.floor}: must be below the ceiling, {self.ceiling}")
        if not self.floor <= self.start <= self.ceiling:
            raise ValueError(f"start = {self.start}: must lie from {self.floor} to {self.ceiling}")
        if self.down < 2:
            raise ValueError(f"down = {self.down}: must be at least 2, for 1 is guessed right half the time")
        if self.reversals < REVERSALS_USED:
            raise ValueError(f"reversals = {self.reversals}: the threshold is the mean of {REVERSALS_USED}")

    def answer(self, correct: bool) -> "Staircase":
        """The drill after one more answer; an answer after its end changes nothing."""
        return self if self.done else replace(self, answers=(*self.answers, bool(correct)))

    @property
    def level(self) -> float:
        """The difference that the next pair shows."""
        return self._walk.level

    @property
    def turns(self) -> tuple[float, ...]:
        """The levels at which the series turned back, oldest first."""
        return self._walk.turns

    @property
    def done(self) -> bool:
        return len(self.turns) >= self.reversals or self.held_at is not None

    @property
    def held_at(self) -> Literal["floor", "ceiling"] | None:
        """The end of the range that made the drill give up: the eye is finer, or coarser, than it goes."""
        if self._walk.held_back < STEPS_HELD_BACK:
            return None
        return "floor" if self.level == self.floor else "ceiling"

    @property
    def threshold(self) -> Threshold | None:
        """Mean of the last 6 reversals with its standard error; None until there are enough reversals."""
        if len(self.turns) < self.reversals:
            return None
        used = self.turns[-REVERSALS_USED:]
        return Threshold(fmean(used), stdev(used) / sqrt(REVERSALS_USED))

    @property
    def enough(self) -> bool:
        """Whether there is a threshold, and neither floor nor ceiling cut off what it is made from."""
        used = self.turns[-REVERSALS_USED:]
        return self.threshold is not None and self.floor not in used and self.ceiling not in used

    @property
    def target(self) -> float:
        """The share of right answers that the threshold stands for: where `down` in a row are a toss-up."""
        return float(0.5 ** (1 / self.down))

    @property
    def likely_range(self) -> tuple[float, float]:
        """90 % interval of the difference told with the share `target` of right answers, from all answers.

        A posterior over even places from floor to ceiling and slopes that span 1/64 to 1/4 of them, for
        an eye that guesses half of what it cannot tell, errs 1 time in 100 whatever it sees, and between
        the two follows a cumulative normal curve. Before the first answer it is nearly the whole range.
        """
        places = np.linspace(self.floor, self.ceiling, PLACES)
        slopes = (self.ceiling - self.floor) * np.geomspace(1 / 64, 1 / 4, SLOPES)
        distances = (np.array(self._walk.shown) - places[:, None, None]) / slopes[:, None]
        right = 0.5 + TOLD * ndtr(distances + ndtri((self.target - 0.5) / TOLD))
        fit = np.log(np.where(self.answers, right, 1 - right)).sum(axis=2)
        weight = np.exp(fit - fit.max()).sum(axis=1).cumsum()
        low, high = np.searchsorted(weight / weight[-1], (0.05, 0.95))
        return float(places[low]), float(places[high])

    @cached_property
    def _walk(self) -> _Walk:
        level, way, run, held_back = self.start, 0, 0, 0
        shown: list[float] = []
        turns: list[float] = []
        for correct in self.answers:
            shown.append(level)
            run = run + 1 if correct else 0
            if correct and run < self.down:
                continue
            run, before, way = 0, way, -1 if correct else 1
            if before == -way:
                turns.append(level)
            step = self.step if len(turns) < 2 else self.step / 2
            moved = min(max(level + way * step, self.floor), self.ceiling)
            held_back = held_back + 1 if moved == level else 0
            level = moved
        return _Walk(level, tuple(shown), tuple(turns), held_back)
