"""The lines and arcs that show a measure on the picture, ready to be drawn, in picture units."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from courses.measures.catalogue import Measure, found
from courses.measures.stance import Stance

if TYPE_CHECKING:
    from collections.abc import Callable

    from courses.measures.measures import Points

Place = tuple[float, float]

# The radius of an arc as a share of the shorter line: between the lines, or beyond their ends.
WITHIN, FAR = 0.6, 1.45


@dataclass(frozen=True, slots=True)
class Segment:
    """`kind`: bone (between two points), plumb, level, ground, drop (square to the ground), span, square."""

    kind: str
    start: Place
    end: Place


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle about `centre`, the short way from `start` to `end`; `clockwise` on the screen."""

    centre: Place
    radius: float
    start: Place
    end: Place
    clockwise: bool
    middle: Place


@dataclass(frozen=True, slots=True)
class Construction:
    """`label_at` is a place for the value that lies clear of the angle's own lines."""

    segments: tuple[Segment, ...]
    arcs: tuple[Arc, ...]
    label_at: Place


def construction(points: Points, name: str | Measure) -> Construction:
    """What to draw for a measure that `measure` can take from these points."""
    chosen = found(name)
    drawing = _Drawing(Stance(points, chosen.view_of(points)))
    strokes = chosen.strokes or _own_lines(chosen, drawing.stance)
    made = [part for kind, *names in strokes for part in drawing.kinds[kind](*names)]
    segments = tuple(part for part in made if isinstance(part, Segment))
    arcs = tuple(part for part in made if isinstance(part, Arc))
    clear = 0.05 if any(kind.startswith("far") for kind, *_names in strokes) else 0.4
    return Construction(segments, arcs, _beyond(arcs[0], clear) if arcs else _middle(segments[0]))


def _own_lines(chosen: Measure, stance: Stance) -> tuple[tuple[str, ...], ...]:
    """From straight down to the line between the two points of the view at hand."""
    foot, toe = chosen.points[stance.view]
    return ("bone", foot, toe), ("plumb", foot), ("arc plumb", foot, toe)


class _Drawing:
    def __init__(self, stance: Stance) -> None:
        self.stance = stance
        self.forward = stance.forward.x.value, stance.forward.y.value
        self.up = stance.up.x.value, stance.up.y.value
        xs, ys = zip(*(at[:2] for at in stance.points.values()), strict=True)
        self.extent = max(max(xs) - min(xs), max(ys) - min(ys))
        self.kinds: dict[str, Callable[..., list[Segment | Arc]]] = {
            "bone": self._bone,
            "plumb": self._plumb,
            "level": self._level,
            "ground": self._ground,
            "drop": self._drop,
            "span": self._span,
            "square": self._square,
            "arc": self._arc,
            "arc plumb": self._arc_plumb,
            "arc level": self._arc_level,
            "far plumb": self._far_plumb,
            "far arc plumb": self._far_arc_plumb,
        }

    def _at(self, name: str) -> Place:
        x, y = self.stance.points[name][:2]
        return x, y

    def _bone(self, first: str, second: str) -> list[Segment | Arc]:
        return [Segment("bone", self._at(first), self._at(second))]

    def _plumb(self, name: str) -> list[Segment | Arc]:
        return [self._through("plumb", name, self.up, 0.18)]

    def _level(self, name: str) -> list[Segment | Arc]:
        return [self._through("level", name, self.forward, 0.22)]

    def _through(self, kind: str, name: str, way: Place, reach: float) -> Segment:
        at, half = self._at(name), reach * self.extent
        return Segment(kind, _moved(at, way, -half), _moved(at, way, half))

    def _ground(self) -> list[Segment | Arc]:
        places = [self._foot(at[:2]) for at in self.stance.points.values()]
        places.sort(key=lambda place: place[0])
        return [Segment("ground", places[0], places[-1])]

    def _drop(self, name: str) -> list[Segment | Arc]:
        return [Segment("drop", self._at(name), self._foot(self._at(name)))]

    def _foot(self, at: tuple[float, ...]) -> Place:
        """Where plumb from `at` meets the ground line."""
        ground = self._at(self.stance.ground[0])
        above = (at[0] - ground[0]) * self.up[0] + (at[1] - ground[1]) * self.up[1]
        return _moved((at[0], at[1]), self.up, -above)

    def _span(self, first: str, second: str) -> list[Segment | Arc]:
        """Along the ground, at the height of the first point, from plumb to plumb."""
        start, other = self._at(first), self._at(second)
        along = (other[0] - start[0]) * self.forward[0] + (other[1] - start[1]) * self.forward[1]
        end = _moved(start, self.forward, along)
        return [Segment("span", start, end), Segment("plumb", end, other)]

    def _square(self, name: str, first: str, second: str) -> list[Segment | Arc]:
        at, start, end = self._at(name), self._at(first), self._at(second)
        length = math.dist(start, end)
        way = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        along = (at[0] - start[0]) * way[0] + (at[1] - start[1]) * way[1]
        return [Segment("square", at, _moved(start, way, along))]

    def _arc(self, at: str, first: str, second: str) -> list[Segment | Arc]:
        return [self._arc_between(at, self._way(at, first), self._way(at, second), first, second)]

    def _arc_plumb(self, at: str, end: str) -> list[Segment | Arc]:
        return [self._arc_from(at, end, self.up)]

    def _far_plumb(self, at: str, end: str) -> list[Segment | Arc]:
        """From the point up to a little beyond the far arc."""
        start, length = self._at(at), math.dist(self._at(at), self._at(end))
        return [Segment("plumb", start, _moved(start, self.up, (FAR + 0.12) * length))]

    def _far_arc_plumb(self, at: str, end: str) -> list[Segment | Arc]:
        """Beyond the end of the line, outside the body."""
        return [self._arc_from(at, end, self.up, FAR)]

    def _arc_level(self, at: str, end: str) -> list[Segment | Arc]:
        return [self._arc_from(at, end, self.forward)]

    def _arc_from(self, at: str, end: str, axis: Place, share: float = WITHIN) -> Arc:
        """From whichever end of the axis lies nearer to the line."""
        way = self._way(at, end)
        if way[0] * axis[0] + way[1] * axis[1] < 0:
            axis = -axis[0], -axis[1]
        return self._arc_between(at, axis, way, end, share=share)

    def _way(self, start: str, end: str) -> Place:
        (x0, y0), (x1, y1) = self._at(start), self._at(end)
        length = math.hypot(x1 - x0, y1 - y0)
        return (x1 - x0) / length, (y1 - y0) / length

    def _arc_between(self, at: str, first: Place, second: Place, *ends: str, share: float = WITHIN) -> Arc:
        centre = self._at(at)
        radius = share * min(math.dist(centre, self._at(end)) for end in ends)
        between = first[0] + second[0], first[1] + second[1]
        size = math.hypot(*between)
        halfway = (between[0] / size, between[1] / size) if size > 1e-9 else (-first[1], first[0])
        return Arc(
            centre,
            radius,
            _moved(centre, first, radius),
            _moved(centre, second, radius),
            first[0] * second[1] - first[1] * second[0] > 0,
            _moved(centre, halfway, radius),
        )


def _moved(at: Place, way: Place, distance: float) -> Place:
    return at[0] + distance * way[0], at[1] + distance * way[1]


def _beyond(arc: Arc, clear: float) -> Place:
    """Outside the arc, where the value covers none of its lines."""
    return _moved(arc.middle, (arc.middle[0] - arc.centre[0], arc.middle[1] - arc.centre[1]), clear)


def _middle(segment: Segment) -> Place:
    return (segment.start[0] + segment.end[0]) / 2, (segment.start[1] + segment.end[1]) / 2
