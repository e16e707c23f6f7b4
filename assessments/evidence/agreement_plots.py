"""Where mentors stand in the two small drawings of their agreement with the keys.

Each line has its name above it, so that one size serves the phone as well. Positions are in CSS pixels of the
drawing's own size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext_lazy

from assessments.evidence.agreement import KeyRow
from assessments.evidence.plots import Tick

WIDTH, MARGIN, RISE, FOOT = 328, 16, 44, 56

# A figure with the ends of its 95 % interval; None while too little is known.
Known = tuple[float, float, float] | None


@dataclass(frozen=True)
class DotRow:
    """Somebody's line at `y`, with a dot and its interval; `dot` is None where the figure is not known."""

    member: int
    name: str
    y: int
    dot: float | None
    low: float = 0
    high: float = 0

    @property
    def above(self) -> int:
        """Where the name stands."""
        return self.y - 14


@dataclass(frozen=True)
class DotPlot:
    """One line for each person on a common axis; `middle` is where a dot should be."""

    title: str
    foot: str
    height: int
    middle: float
    rows: list[DotRow]
    across: list[Tick]
    width: int = WIDTH
    left: int = MARGIN
    right: int = WIDTH - MARGIN

    @property
    def bottom(self) -> int:
        """The height of the axis."""
        return self.height - FOOT + 8


TITLES = {
    "kappa": (gettext_lazy("Severity as the key, weighted κ"), gettext_lazy("1 is full agreement, 0 chance")),
    "bias": (gettext_lazy("Lighter or heavier than the key"), gettext_lazy("levels; 0 is as the key")),
}


def kappa_plot(rows: Sequence[KeyRow]) -> DotPlot:
    """Linear weighted kappa, from 0 to 1 and below 0 where an interval reaches there."""
    people = []
    for row in rows:
        known = row.told and row.kappa is not None and row.kappa.enough
        people.append((row, (row.kappa.value, *row.kappa.interval) if known and row.kappa else None))
    return dot_plot("kappa", people, low=0, high=1, step=0.2, middle=1)


def bias_plot(rows: Sequence[KeyRow]) -> DotPlot:
    """The mean of given less key, half a level either way or as far as an interval reaches."""
    people = []
    for row in rows:
        known = row.told and row.bias is not None and row.bias.enough
        people.append((row, (row.bias.mean, row.bias.low, row.bias.high) if known and row.bias else None))
    return dot_plot("bias", people, low=-0.5, high=0.5, step=0.25, middle=0)


def dot_plot(
    name: str,
    people: Sequence[tuple[KeyRow, Known]],
    *,
    low: float,
    high: float,
    step: float,
    middle: float,
) -> DotPlot:
    """The axis reaches from `low` to `high`, and further in steps where an interval does."""
    values = [value for _row, known in people if known for value in known]
    low = min(low, math.floor(min(values, default=low) / step + 1e-9) * step)
    high = max(high, math.ceil(max(values, default=high) / step - 1e-9) * step)

    def across(value: float) -> float:
        return round(MARGIN + (value - low) / (high - low) * (WIDTH - 2 * MARGIN), 1)

    rows = []
    for place, (row, known) in enumerate(people):
        at = [across(value) for value in known] if known else []
        y = RISE * place + 32
        rows.append(DotRow(row.member, row.name, y, *at) if at else DotRow(row.member, row.name, y, None))
    ticks = [low + step * number for number in range(round((high - low) / step) + 1)]
    title, foot = TITLES[name]
    return DotPlot(
        title=str(title),
        foot=str(foot),
        height=RISE * len(people) + FOOT,
        middle=across(middle),
        rows=rows,
        across=[Tick(across(value), _tick(value)) for value in ticks],
    )


def _tick(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "−")
