"""Outlines that someone drew on a picture, as a browser sends them: taken only if they can be used as they are.

Positions are in units of the picture's longer side, origin top left.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from typing import Literal

import shapely

from .polygons import Polygon, polygon

Code = Literal["unreadable", "many", "few", "corners", "outside", "crossing"]

# Five decimals are a twentieth of a pixel on a picture of 5,000.
DECIMALS = 5
# What rounding at the right and lower edge may leave over.
SLACK = 1e-5
# How far, in units of the longer side, a computed outline may be smoothed until it can be drawn.
COARSER = (0.0005, 0.001, 0.002, 0.004, 0.008)


@dataclass(frozen=True, slots=True)
class Canvas:
    """The picture that is drawn on: its pixels, and how many outlines of how many corners it takes."""

    width: int
    height: int
    most: int
    corners: int

    @property
    def right(self) -> float:
        """The picture's right edge in units of its longer side."""
        return self.width / max(self.width, self.height, 1)

    @property
    def foot(self) -> float:
        """Its lower edge."""
        return self.height / max(self.width, self.height, 1)


class OutlineRefused(ValueError):
    """An outline that cannot be used. `code` is the rule it breaks, `outline` which of them, from 0.

    unreadable: not lists of pairs of finite numbers. many: more outlines than allowed. few: fewer than three
    corners. corners: more corners than allowed. outside: a corner beyond the picture's edge. crossing: the
    outline crosses or touches itself, or encloses nothing.
    """

    def __init__(self, code: Code, outline: int = 0) -> None:
        super().__init__(f"outline {outline} is refused: {code}")
        self.code = code
        self.outline = outline


def read_outlines(sent: object, canvas: Canvas) -> list[list[list[float]]]:
    """The outlines as lists of [x, y], rounded to five decimals; an empty list for none.

    Raises OutlineRefused.
    """
    if not isinstance(sent, list):
        raise OutlineRefused("unreadable")
    if len(sent) > canvas.most:
        raise OutlineRefused("many", canvas.most)
    return [_read_outline(each, canvas, place) for place, each in enumerate(sent)]


def as_drawn(ground: Iterable[Polygon], canvas: Canvas) -> list[list[list[float]]]:
    """Computed ground as outlines that the canvas takes: the largest parts, with fewer corners where needed.

    A part with too many corners, or one that rounding would make cross itself, is drawn more coarsely, in the
    last resort as the rectangle about it. Parts too small to be drawn are left out.
    """
    largest = sorted(ground, key=lambda part: -shapely.Polygon(part).area)[: canvas.most]
    drawn = (_coarsened(part, canvas) for part in largest)
    return [outline for outline in drawn if outline is not None]


def _coarsened(part: Polygon, canvas: Canvas) -> list[list[float]] | None:
    whole = shapely.Polygon(part)
    coarser = (whole.simplify(tolerance) for tolerance in COARSER)
    for each in (whole, *coarser, whole.envelope):
        try:
            return _read_outline([list(corner) for corner in each.exterior.coords[:-1]], canvas, 0)
        except OutlineRefused:
            continue
    return None


def _read_outline(sent: object, canvas: Canvas, place: int) -> list[list[float]]:
    if not isinstance(sent, list):
        raise OutlineRefused("unreadable", place)
    if len(sent) > canvas.corners:
        raise OutlineRefused("corners", place)
    corners = [_read_corner(corner, canvas, place) for corner in sent]
    if len({tuple(corner) for corner in corners}) < 3:
        raise OutlineRefused("few", place)
    try:
        return [list(corner) for corner in polygon(corners)]
    except ValueError as error:
        raise OutlineRefused("crossing", place) from error


def _read_corner(sent: object, canvas: Canvas, place: int) -> list[float]:
    if not isinstance(sent, list) or len(sent) != 2 or not all(map(_number, sent)):
        raise OutlineRefused("unreadable", place)
    x, y = (float(value) for value in sent)
    if not (-SLACK <= x <= canvas.right + SLACK and -SLACK <= y <= canvas.foot + SLACK):
        raise OutlineRefused("outside", place)
    return [
        round(min(max(value, 0.0), edge), DECIMALS) for value, edge in ((x, canvas.right), (y, canvas.foot))
    ]


def _number(value: object) -> bool:
    if isinstance(value, float):
        return isfinite(value)
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) <= 1
