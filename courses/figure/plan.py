"""What a view is made of, before any pixel: layers from back to front, points, and the sheet's extent."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from .curves import Array, Contour
from .frame import Frame
from .raster import Field
from .relief import Ridge
from .skeleton import Point

Fields = Mapping[str, Field]
FieldOf = Callable[[Array, Array], Array]
"""From grid coordinates x (1, n) and y (m, 1) in H to a field (m, n)."""


@dataclass(frozen=True)
class Proud:
    """A shape that stands before the rest of its layer, by this much, where `fade` is 1."""

    shape: str
    amount: float
    fade: FieldOf


@dataclass(frozen=True)
class Fringe:
    """Hair over a stretch of contour, lying along it towards its end and lifted off it by some degrees.

    `line` runs the way the hair lies; `outside` is +1 if paper is on its left, −1 if on its right; length
    in H, density in hairs per H, jitter in degrees. `hidden` names shapes that lie over it; `rooted` hair
    springs from the line itself instead of from within. Without a colour each hair takes the coat's own,
    somewhat darker, where it is rooted.
    """

    line: Contour
    outside: float
    length: float
    density: float
    lift: float
    jitter: float
    opacity: float
    hidden: tuple[str, ...] = ()
    colour: tuple[int, int, int] | None = None
    rooted: bool = False


@dataclass(frozen=True)
class Mark:
    """A small painted shape: a filled area or, if `pen` is set, a line.

    `soft` blurs it (in H); `within` confines it to a shape, `within_area` to an area.
    """

    name: str
    contour: Contour
    colour: tuple[int, int, int]
    opacity: float = 1.0
    soft: float = 0.0
    pen: float = 0.0
    within: str | None = None
    within_area: Contour | None = None


@dataclass(frozen=True)
class Shadow:
    """What a layer casts on those behind it: shifted by (dx, dy), blurred, this strong."""

    dx: float
    dy: float
    blur: float
    amount: float


@dataclass(frozen=True)
class Layer:
    """Shapes that are filled as one, modelled together and inked.

    `clip` is how opaque the layer lies over what is already drawn (1 where there is only paper);
    `keep` cuts away where it is 0; `haze` draws what is far off towards the paper.
    """

    name: str
    shapes: Mapping[str, Contour]
    tone: float = 1.0
    forms: tuple[Ridge, ...] = ()
    prouds: tuple[Proud, ...] = ()
    occlusion: tuple[tuple[Point, Point, float, float], ...] = ()
    flow: tuple[tuple[Point, Point], ...] = ()
    hidden: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    fringes: tuple[Fringe, ...] = ()
    marks: tuple[Mark, ...] = ()
    coat: Mapping[str, FieldOf] = field(default_factory=dict)
    shadow: Shadow | None = None
    clip: FieldOf | None = None
    keep: FieldOf | None = None
    ink_width: float = 1.0
    light: tuple[float, float, float] | None = None
    haze: float = 0.0


@dataclass(frozen=True)
class Plan:
    """A whole view. `points` are in H and carry the names of the measures; `guides` are further places.

    `window` are the corners of the area in which a plate shows the figure whole; empty for the whole dog,
    whose sheet grows if need be.
    """

    view: str
    box: tuple[float, float, float, float]
    ratio: float
    layers: tuple[Layer, ...]
    points: Mapping[str, Point]
    feet: tuple[tuple[float, float, float], ...]
    fade: FieldOf | None = None
    guides: Mapping[str, Point] = field(default_factory=dict)
    window: tuple[Point, ...] = ()

    def knows(self, name: str) -> bool:
        return name in self.points or name in self.guides

    def place(self, name: str) -> Point:
        return self.points[name] if name in self.points else self.guides[name]

    def frame(self, width: int) -> Frame:
        """The sheet at this width; it grows beyond its usual extent when the figure would leave it."""
        left, bottom, right, top = self.box
        if not self.window:
            reach = np.vstack([c.points for layer in self.layers for c in layer.shapes.values()])
            (x0, _), (x1, y1) = reach.min(axis=0) - 0.02, reach.max(axis=0) + 0.02
            left, right, top = min(left, float(x0)), max(right, float(x1)), max(top, float(y1))
        return Frame.around((left, bottom, right, top), width, self.ratio)
