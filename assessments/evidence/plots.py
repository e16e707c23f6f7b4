"""Where everything stands in the two drawings of a quiz: its items, and the distribution of its marks.

Each has a drawing of its own for the phone, since words that are scaled down cannot be read. All positions
are in CSS pixels of the drawing's own size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from assessments.evidence.paper import ItemFigures
from assessments.statistics.item_analysis import EASY, HARD, WEAK

# Gap between two circles, and how far from its place a circle may be moved.
APART = 3
FARTHEST = 90
# With more items than this only those to look at carry their numbers.
NUMBERED = 40
BANDS = 10


@dataclass(frozen=True)
class Frame:
    """The area of a drawing in which values stand, from its left upper to its right lower corner."""

    width: int
    height: int
    left: int
    top: int
    right: int
    bottom: int

    @property
    def tight(self) -> bool:
        """Whether there is room for the unit only once on an axis."""
        return self.width < 400


WIDE = Frame(width=622, height=480, left=54, top=34, right=598, bottom=430)
NARROW = Frame(width=328, height=340, left=38, top=34, right=318, bottom=286)
WIDE_MARKS = Frame(width=622, height=210, left=54, top=12, right=598, bottom=160)
NARROW_MARKS = Frame(width=328, height=190, left=38, top=12, right=318, bottom=146)


@dataclass(frozen=True)
class Tick:
    """A value on an axis: where, and what is written there."""

    at: float
    text: str


@dataclass(frozen=True)
class Dot:
    """An item's circle. `spot_x`, `spot_y` are its true place, if the circle had to give way."""

    figures: ItemFigures
    number: str
    x: float
    y: float
    spot_x: float
    spot_y: float

    @property
    def moved(self) -> bool:
        """Whether a line must lead from the circle to its true place."""
        return math.hypot(self.x - self.spot_x, self.y - self.spot_y) > 1


@dataclass(frozen=True)
class ItemPlot:
    """Facility across, discrimination up; `sound_*` is the ground on which nothing need be looked at."""

    frame: Frame
    radius: int
    across: list[Tick]
    up: list[Tick]
    sound_left: float
    sound_right: float
    sound_bottom: float
    zero: float
    dots: list[Dot]


@dataclass(frozen=True)
class Bar:
    """So many people's marks in one band of ten points."""

    x: float
    y: float
    width: float
    height: float
    people: int
    low: int
    high: int

    @property
    def middle(self) -> float:
        """Where its number stands."""
        return self.x + self.width / 2


@dataclass(frozen=True)
class MarksPlot:
    """People by the mean of their marks, out of 100; `mean` is where the mean of all stands.

    `cut` is where the panel's cut stands, with the borderline band from `band_left`, `band_width` wide.
    """

    frame: Frame
    bars: list[Bar]
    across: list[Tick]
    mean: float
    cut: float | None = None
    band_left: float = 0
    band_width: float = 0

    @property
    def rise(self) -> int:
        """The height of the whole drawing area."""
        return self.frame.bottom - self.frame.top


def item_plot(items: Sequence[tuple[str, ItemFigures]], frame: Frame, radius: int) -> ItemPlot:
    """From (number, figures) of the items; those whose discrimination is not known are left out."""
    drawn = [(number, each) for number, each in items if each.discrimination is not None]
    values = [each.discrimination for _number, each in drawn]
    low = min(-0.2, math.floor(min(values, default=0) / 0.2 + 1e-9) * 0.2)
    high = max(0.6, math.ceil(max(values, default=0) / 0.2 - 1e-9) * 0.2)
    steps = round((high - low) / 0.2)

    def across(value: float) -> float:
        return round(frame.left + value * (frame.right - frame.left), 1)

    def up(value: float) -> float:
        return round(frame.bottom - (value - low) / (high - low) * (frame.bottom - frame.top), 1)

    spots = [(number, each, across(each.facility), up(each.discrimination)) for number, each in drawn]
    return ItemPlot(
        frame=frame,
        radius=radius,
        across=[
            Tick(across(value / 100), f"{value}" if frame.tight and value < 100 else f"{value} %")
            for value in range(0, 101, 20)
        ],
        up=[Tick(up(value), _signed(value)) for value in (low + 0.2 * step for step in range(steps + 1))],
        sound_left=across(HARD),
        sound_right=across(EASY),
        sound_bottom=up(WEAK),
        zero=up(0),
        dots=_set_apart(spots, frame, radius),
    )


def marks_plot(
    marks: Sequence[float], mean: float, frame: Frame, cut: float | None = None, sem: float | None = None
) -> MarksPlot:
    """From people's mean scores, 0 to 1; a band holds its lower limit, the last one also 100."""

    def across(value: float) -> float:
        return round(frame.left + value * (frame.right - frame.left), 1)

    counts = band_counts(marks)
    most = max(counts, default=0) or 1
    wide = (frame.right - frame.left) / BANDS
    rise = (frame.bottom - frame.top - 18) / most
    bars = [
        Bar(
            x=round(frame.left + band * wide + 1, 1),
            y=round(frame.bottom - n * rise, 1),
            width=round(wide - 2, 1),
            height=round(n * rise, 1),
            people=n,
            low=band * 10,
            high=band * 10 + 10,
        )
        for band, n in enumerate(counts)
    ]
    ticks = [Tick(round(frame.left + band * wide, 1), str(band * 10)) for band in range(0, BANDS + 1, 2)]
    plot = MarksPlot(frame, bars, ticks, across(mean))
    if cut is None:
        return plot
    low, high = across(max(0.0, cut - (sem or 0))), across(min(1.0, cut + (sem or 0)))
    return replace(plot, cut=across(cut), band_left=low, band_width=round(high - low, 1))


def band_counts(marks: Sequence[float]) -> list[int]:
    """How many marks lie in each band of ten points out of 100."""
    counts = [0] * BANDS
    for mark in marks:
        counts[min(BANDS - 1, int(mark * BANDS + 1e-9))] += 1
    return counts


def _signed(value: float) -> str:
    return "0" if abs(value) < 0.05 else f"{value:.1f}".replace("-", "−")


def _set_apart(
    spots: Sequence[tuple[str, ItemFigures, float, float]], frame: Frame, radius: int
) -> list[Dot]:
    """Circles that do not cover one another: where one lies already, the next goes to the nearest free place."""
    many = len(spots) > NUMBERED
    dots: list[Dot] = []
    for number, each, x, y in sorted(spots, key=lambda spot: not spot[1].flags):
        if many and not each.flags:
            dots.append(Dot(each, "", x, y, x, y))
            continue
        at = _free_place(x, y, [dot for dot in dots if dot.number], frame, radius)
        dots.append(Dot(each, number, *at, x, y))
    return dots


def _free_place(x: float, y: float, taken: list[Dot], frame: Frame, radius: int) -> tuple[float, float]:
    apart = 2 * radius + APART
    for reach in range(0, FARTHEST, 6):
        for turn in range(12 if reach else 1):
            angle = 2 * math.pi * turn / 12
            at = (round(x + reach * math.cos(angle), 1), round(y + reach * math.sin(angle), 1))
            inside = frame.left <= at[0] <= frame.right and frame.top <= at[1] <= frame.bottom
            if (inside or not reach) and all(
                math.hypot(at[0] - dot.x, at[1] - dot.y) >= apart for dot in taken
            ):
                return at
    return x, y
