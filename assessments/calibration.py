"""Severities given against those of the key: the table of both, and where everything stands in its drawing.

The drawing is small enough for a phone and has one size everywhere. Levels of the key go across, levels given
go up, both from the lightest: what is weighed too heavily stands above the diagonal, too lightly below it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import mean

Pairs = Iterable[tuple[int, int]]

# In CSS pixels of the drawing's own size.
WIDTH = 328
TOP, RIGHT, BELOW = 30, 6, 64
# What a letter of the words takes on average, and how much of the width the words at the left may take.
LETTER, WORDS_AT_MOST = 7.2, 130
# A circle narrower than this has its number beside it.
NUMBER_WITHIN = 10


@dataclass(frozen=True)
class CalibrationRow:
    """One level of the key: how often each level was given, whether that is the key's, and the mean given.

    `mean` counts levels from 0, `apart` from the key's; None where the key's level was never weighed.
    """

    label: str
    cells: tuple[tuple[int, bool], ...]
    mean: float | None
    apart: float | None


def calibration(pairs: Pairs, labels: Sequence[str]) -> list[CalibrationRow]:
    """From (given, key) levels, one row for each level of the key."""
    counted = Counter(pairs)
    levels = range(len(labels))
    rows = []
    for key in levels:
        cells = tuple((counted[given, key], given == key) for given in levels)
        given_levels = [given for given in levels for _each in range(counted[given, key])]
        middle = mean(given_levels) if given_levels else None
        rows.append(CalibrationRow(labels[key], cells, middle, None if middle is None else middle - key))
    return rows


@dataclass(frozen=True)
class Circle:
    """So many faults of one level in the key that were given one level; its area goes by their number."""

    x: float
    y: float
    r: float
    n: int

    @property
    def roomy(self) -> bool:
        """Whether its number stands within it."""
        return self.r >= NUMBER_WITHIN

    @property
    def number_x(self) -> float:
        """Where its number stands: in the middle, or begins right of it."""
        return self.x if self.roomy else round(self.x + self.r + 3, 1)


@dataclass(frozen=True)
class Word:
    """A level's name at one side; every other one across stands a line lower, so that both can be read."""

    x: float
    y: float
    text: str


@dataclass(frozen=True)
class CalibrationPlot:
    """The square from `left`, `top` to `right`, `bottom`; divided at `lines` and `rises`.

    `means` are lines from x to x at a height y."""

    width: int
    height: float
    left: float
    top: float
    right: float
    bottom: float
    lines: list[float]
    rises: list[float]
    circles: list[Circle]
    means: list[tuple[float, float, float]]
    across: list[Word]
    up: list[Word]


def calibration_plot(rows: Sequence[CalibrationRow]) -> CalibrationPlot:
    """Where the rows of a calibration stand; at least one level."""
    longest = max(len(row.label) for row in rows)
    left = round(min(longest * LETTER, WORDS_AT_MOST) + 10, 1)
    side = (WIDTH - RIGHT - left) / len(rows)
    bottom = round(TOP + side * len(rows), 1)
    most = max((n for row in rows for n, _same in row.cells), default=0) or 1

    def across(level: float) -> float:
        return round(left + (level + 0.5) * side, 1)

    def up(level: float) -> float:
        return round(bottom - (level + 0.5) * side, 1)

    circles = [
        Circle(across(key), up(given), round((side / 2 - 2) * math.sqrt(n / most), 1), n)
        for key, row in enumerate(rows)
        for given, (n, _same) in enumerate(row.cells)
        if n
    ]
    means = [
        (across(key - 0.5), across(key + 0.5), up(row.mean))
        for key, row in enumerate(rows)
        if row.mean is not None
    ]
    return CalibrationPlot(
        width=WIDTH,
        height=bottom + BELOW,
        left=left,
        top=TOP,
        right=WIDTH - RIGHT,
        bottom=bottom,
        lines=[round(left + level * side, 1) for level in range(1, len(rows))],
        rises=[round(bottom - level * side, 1) for level in range(1, len(rows))],
        circles=circles,
        means=means,
        across=_across([(across(key), row.label) for key, row in enumerate(rows)], bottom),
        up=[Word(left - 8, up(given), row.label) for given, row in enumerate(rows)],
    )


def _across(words: Sequence[tuple[float, str]], bottom: float) -> list[Word]:
    """In one line if they have room there, else in two; none leaves the drawing at the right."""
    halves = [len(text) * LETTER / 2 for _x, text in words]
    crowded = any(
        x + half + LETTER > next_x - next_half
        for ((x, _), half), ((next_x, _), next_half) in pairwise(zip(words, halves, strict=True))
    )
    return [
        Word(
            round(min(x, WIDTH - half), 1),
            bottom + (38 if crowded and place % 2 else 20),
            text,
        )
        for place, ((x, text), half) in enumerate(zip(words, halves, strict=True))
    ]
