"""What is drawn over an exhibit: fault regions with their clause, and measures with their lines and values.

Everything comes out ready for SVG. Places are given twice: in thousandths of the picture's longer side for
what scales with the picture (outlines, bones, arcs), and in per cent of its width and height for what keeps
its size on the screen (hatching, words, dots). A word stands on empty paper where there is any: the nearest
place that covers neither the dog nor another word nor the edge, for the narrowest screen.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, cos, dist, pi, sin

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import make_valid, unary_union
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from courses.measures.construction import Arc, Construction, Segment, construction
from courses.measures.measures import measure, verdict
from courses.measures.wording import value_of

Place = tuple[float, float]
Corners = Sequence[Sequence[float]]
Floats = NDArray[np.float64]

# The size of a word in thousandths of the longer side, when the picture is 330 px wide on a phone.
LETTER, LINE = 23.0, 46.0
EDGE, CLEAR, CELL = 12.0, 14.0, 10.0
# Where a word may stand about its place: so far away, in so many directions.
_AROUND: Floats = np.array(
    [
        (far * cos(2 * pi * way / 24), far * sin(2 * pi * way / 24))
        for far in range(60, 420, 30)
        for way in range(24)
    ]
)
FAR: Floats = np.hypot(*_AROUND.T)


@dataclass(frozen=True)
class Sheet:
    """The picture's own shape, in thousandths of its longer side."""

    width: float
    height: float

    @classmethod
    def of(cls, width: int, height: int) -> Sheet:
        longer = max(width, height, 1)
        return cls(1000 * width / longer, 1000 * height / longer)

    def per_cent(self, place: Place) -> tuple[str, str]:
        return f"{100 * place[0] / self.width:.2f}%", f"{100 * place[1] / self.height:.2f}%"


@dataclass(frozen=True)
class Label:
    """A word at the end of a leader; places in per cent. `anchor` is SVG's text-anchor."""

    text: str
    x: str
    y: str
    anchor: str
    x1: str
    y1: str
    x2: str
    y2: str


@dataclass(frozen=True)
class Region:
    """A hatched polygon: `points` in thousandths, `clip` in shares of width and height."""

    points: str
    clip: str
    label: Label | None


@dataclass(frozen=True)
class Stroke:
    """A line by its kind: bone, plumb, level, ground, drop, span, square."""

    kind: str
    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True)
class Lines:
    """One measure on the picture: its strokes, the path of its arcs, its end points, its value."""

    strokes: list[Stroke]
    arcs: list[str]
    dots: list[tuple[str, str]]
    label: Label
    words: str


@dataclass(frozen=True)
class Shown:
    """A fault as it is to be drawn: its polygons in picture units, and the word at them."""

    word: str
    regions: Sequence[Corners]


@dataclass(frozen=True)
class Asked:
    """A measure with the range that a clause asks."""

    name: str
    label: str
    clause: str
    low: float | None
    high: float | None


class Words:
    """Finds places for words, each clear of the dog, of the lines and of the words before it.

    The picture is laid out in cells that say how bad it would be to cover them.
    """

    def __init__(self, sheet: Sheet, dog: BaseGeometry) -> None:
        self.sheet = sheet
        columns, rows = ceil(sheet.width / CELL), ceil(sheet.height / CELL)
        self.cells = np.zeros((rows, columns))
        self.lines = np.zeros((rows, columns))
        self.cover(dog.buffer(CLEAR), 0.2)

    def cover(self, shape: BaseGeometry, cost: float = 3.0) -> None:
        """Keep words off a shape."""
        rows, columns = np.indices(self.cells.shape)
        shapely.prepare(shape)
        self.cells[shapely.contains_xy(shape, (columns + 0.5) * CELL, (rows + 0.5) * CELL)] += cost

    def strike(self, start: Place, end: Place) -> None:
        """Keep words and leaders off a line."""
        rows, columns = self._cells_of(np.linspace(start, end, 1 + int(dist(start, end) / CELL * 2)))
        self.lines[rows, columns] = 1
        self.cells[rows, columns] += 3.0

    def place(self, text: str, at: Place) -> Label:
        """The best place for a word that belongs to `at`; it is kept clear from then on."""
        ends = np.array(at) + _AROUND
        leftwards = _AROUND[:, 0] < 0
        left = np.where(leftwards, ends[:, 0] - LETTER * len(text), ends[:, 0])
        rooms = np.stack([left, ends[:, 1] - LINE / 2, left + LETTER * len(text), ends[:, 1] + LINE / 2], 1)
        best = int(np.argmin(FAR + self._covered(rooms) + self._crossed(at, ends)))
        end = float(ends[best, 0]), float(ends[best, 1])
        self.cover(shapely.box(*rooms[best]).buffer(CELL))
        self.strike(at, end)
        return self._label(text, at, end, bool(leftwards[best]))

    def _covered(self, rooms: Floats) -> Floats:
        """What the words would cover, and twice what of them falls off the paper."""
        height, width = self.sheet.height, self.sheet.width
        low = np.array([EDGE, EDGE, EDGE, EDGE])
        inside = np.clip(rooms, low, np.array([width, height, width, height]) - EDGE)
        areas = [(each[:, 2] - each[:, 0]) * (each[:, 3] - each[:, 1]) for each in (rooms, inside)]
        sums = np.pad(self.cells, ((1, 0), (1, 0))).cumsum(axis=0).cumsum(axis=1)
        x1, y1, x2, y2 = np.rint(inside / CELL).astype(int).T
        covered = sums[y2, x2] - sums[y1, x2] - sums[y2, x1] + sums[y1, x1]
        return CELL**2 * covered + 2.0 * (areas[0] - areas[1])

    def _crossed(self, at: Place, ends: Floats) -> Floats:
        """What the leaders would go over, but for the line at which they begin."""
        along = np.linspace(0.2, 1, 24)[:, None, None]
        rows, columns = self._cells_of(np.array(at) + along * (ends - np.array(at)))
        return 25.0 * self.lines[rows, columns].sum(axis=0)

    def _cells_of(self, places: Floats) -> tuple[NDArray[np.int_], NDArray[np.int_]]:
        cells = (places / CELL).astype(int)
        rows, columns = self.cells.shape
        return np.clip(cells[..., 1], 0, rows - 1), np.clip(cells[..., 0], 0, columns - 1)

    def _label(self, text: str, at: Place, end: Place, leftwards: bool) -> Label:
        gap = -LETTER / 3 if leftwards else LETTER / 3
        places = (end[0] + gap, end[1]), at, end
        (x, y), (x1, y1), (x2, y2) = (self.sheet.per_cent(place) for place in places)
        return Label(text, x, y, "end" if leftwards else "start", x1, y1, x2, y2)


def fault_regions(sheet: Sheet, words: Words, faults: Sequence[Shown]) -> list[Region]:
    """Each polygon of each fault; the word stands at the largest of a fault's polygons."""
    drawn = []
    for fault in faults:
        shapes = [(each, Polygon([(1000 * x, 1000 * y) for x, y in each])) for each in fault.regions]
        largest = max((shape.area for _each, shape in shapes), default=0)
        for _corners, shape in shapes:
            words.cover(make_valid(shape))
            label = words.place(fault.word, _spot(shape)) if shape.area == largest else None
            drawn.append(_region(sheet, shape, label))
    return drawn


def measure_lines(
    sheet: Sheet,
    words: Words,
    points: Mapping[str, Sequence[float]],
    asked: Sequence[Asked],
    *,
    placement_sd: float,
    camera: str,
    said: Mapping[str, str],
) -> list[Lines]:
    """Lines and value of each measure. `said` gives the words for within, outside and cannot tell.

    One measure stands on the picture with its verdict; of several only the values do, and `words` says all.
    """
    built = [construction(points, each.name) for each in asked]
    for each in built:
        for segment in each.segments:
            words.strike(_thousandths(segment.start), _thousandths(segment.end))
    drawn = []
    for each, lines in zip(asked, built, strict=True):
        taken = measure(points, each.name, placement_sd=placement_sd, camera=camera)
        value = value_of(taken)
        text = f"{value}, {said[verdict(taken, each.low, each.high)]}"
        drawn.append(
            Lines(
                [_stroke(segment) for segment in lines.segments],
                [_arc(arc) for arc in lines.arcs],
                _dots(sheet, lines),
                words.place(text if len(asked) == 1 else value, _thousandths(lines.label_at)),
                f"{each.clause} {each.label} {text}",
            )
        )
    return drawn


def dog_of(outline: Sequence[Corners], points: Iterable[Sequence[float]]) -> BaseGeometry:
    """The ground the dog covers, in thousandths: its outline, or what its points span."""
    if outline:
        shapes = [make_valid(Polygon([(1000 * x, 1000 * y) for x, y in part])) for part in outline]
        return unary_union(shapes)
    spots = [Point(1000 * place[0], 1000 * place[1]) for place in points]
    return unary_union(spots).convex_hull.buffer(40) if spots else Polygon()


def _region(sheet: Sheet, shape: Polygon, label: Label | None) -> Region:
    corners = list(shape.exterior.coords)[:-1]
    return Region(
        " ".join(f"{x:.1f},{y:.1f}" for x, y in corners),
        " ".join(f"{x / sheet.width:.4f},{y / sheet.height:.4f}" for x, y in corners),
        label,
    )


def _spot(shape: Polygon) -> Place:
    inside = make_valid(shape).representative_point()
    return inside.x, inside.y


def _thousandths(place: Place) -> Place:
    return 1000 * place[0], 1000 * place[1]


def _stroke(segment: Segment) -> Stroke:
    (x1, y1), (x2, y2) = _thousandths(segment.start), _thousandths(segment.end)
    return Stroke(segment.kind, round(x1, 1), round(y1, 1), round(x2, 1), round(y2, 1))


def _arc(arc: Arc) -> str:
    (x1, y1), (x2, y2) = _thousandths(arc.start), _thousandths(arc.end)
    radius = 1000 * arc.radius
    return f"M{x1:.1f} {y1:.1f}A{radius:.1f} {radius:.1f} 0 0 {int(arc.clockwise)} {x2:.1f} {y2:.1f}"


def _dots(sheet: Sheet, built: Construction) -> list[tuple[str, str]]:
    ends = {
        end for segment in built.segments if segment.kind == "bone" for end in (segment.start, segment.end)
    }
    return [sheet.per_cent(_thousandths(end)) for end in sorted(ends)]
