"""The drawings themselves: the finished plate and the quick preview."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from PIL import Image
from shapely import make_valid
from shapely.geometry import Polygon

from .curves import Array
from .frame import Frame
from .front import front
from .plan import Plan
from .plates import feet, head
from .profile import profile
from .rear import rear
from .render import render
from .settings import Settings

Place = tuple[float, float]


@dataclass(frozen=True)
class Drawing:
    """A picture with the points it was built from and its outline.

    `points` and `outline` are in picture units: the longer side is 1, the origin top left, y runs down.
    `outline` holds the closed polygons whose union is the animal.
    """

    image: Image.Image
    points: Mapping[str, Place]
    outline: tuple[tuple[Place, ...], ...]
    view: str


_PLANS: Mapping[str, Callable[[Settings], Plan]] = {
    "profile": profile,
    "front": front,
    "rear": rear,
    "head": head,
    "feet": feet,
}


@lru_cache(maxsize=8)
def plan(view: str, settings: Settings) -> Plan:
    """The plan of this view. Raises `KeyError` for a view that is not in `VIEWS`.

    The last ones are remembered, since points, outline and regions all ask for the same.
    """
    return _PLANS[view](settings)


def draw(view: str, settings: Settings, width: int = 1600) -> Drawing:
    """The finished plate, `width` pixels wide; its height follows the shape of the view's sheet."""
    return _draw(view, settings, width, plain=False)


def preview(view: str, settings: Settings, width: int = 640) -> Drawing:
    """Contour and flat tone, for trying values; points and outline as in `draw`."""
    return _draw(view, settings, width, plain=True)


def drawing_of(view: str, settings: Settings, image: Image.Image) -> Drawing:
    """The drawing whose finished plate was kept: points and outline are computed, the picture is not."""
    drawn = plan(view, settings)
    return _described(view, drawn, drawn.frame(image.width), image)


def _draw(view: str, settings: Settings, width: int, *, plain: bool) -> Drawing:
    drawn = plan(view, settings)
    frame = drawn.frame(width)
    return _described(view, drawn, frame, render(drawn, settings, frame, plain=plain))


def _described(view: str, drawn: Plan, frame: Frame, image: Image.Image) -> Drawing:
    points = {name: _place(frame, p) for name, p in drawn.points.items()}
    outline = tuple(tuple(map(tuple, frame.picture(ring).tolist())) for ring in _rings(drawn))
    return Drawing(image, points, outline, view)


def _rings(drawn: Plan) -> Iterator[Array]:
    """The shapes of the animal, cut off where a plate lets it run out."""
    window = Polygon([tuple(p) for p in drawn.window])
    for layer in drawn.layers:
        for shape in layer.shapes.values():
            if not drawn.window:
                yield shape.points
                continue
            seen = make_valid(Polygon(shape.points)).intersection(window)
            for part in getattr(seen, "geoms", [seen]):
                if isinstance(part, Polygon) and not part.is_empty:
                    yield np.array(part.exterior.coords)[:-1]


def _place(frame: Frame, point: Array) -> Place:
    x, y = frame.picture(point)
    return float(x), float(y)
