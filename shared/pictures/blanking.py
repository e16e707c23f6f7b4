"""Faces, armbands and ring numbers painted over in the pixels, where no one can lift the paint again."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from PIL import Image

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

# Between ink and paper: plainly covered, and not taken for a part of the dog.
COVER = (0x5A, 0x51, 0x45)

# From the middle of a pixel to its corner: nearer than this, a shape may touch it.
_REACH = 0.5**0.5
_FURTHEST = 1000.0


class Box(NamedTuple):
    """Two opposite corners, in picture units: x right, y down, 1 = the longer side of the picture."""

    left: float
    top: float
    right: float
    bottom: float


def blank(
    image: Image.Image,
    shapes: Sequence[Box | Sequence[tuple[float, float]]],
    *,
    colour: tuple[int, int, int] = COVER,
) -> Image.Image:
    """A copy of `image` (RGB) with each box or polygon (three corners or more, picture units) filled solid.

    Every pixel that a shape touches is covered, also where the outline crosses itself; what lies
    outside the picture is ignored. Raises ValueError for fewer than three corners or an impossible one.
    """
    covered = image.copy()
    for shape in shapes:
        corners = _corners(shape) * max(image.size)
        left, top = np.clip(np.floor(corners.min(axis=0)).astype(int) - 1, 0, image.size)
        right, bottom = np.clip(np.ceil(corners.max(axis=0)).astype(int) + 1, 0, image.size)
        if left < right and top < bottom:
            mask = Image.fromarray(_touched(corners - (left, top), right - left, bottom - top))
            covered.paste(colour, (int(left), int(top)), mask)
    return covered


def _corners(shape: Box | Sequence[tuple[float, float]]) -> Floats:
    if isinstance(shape, Box):
        left, top, right, bottom = shape
        shape = [(left, top), (right, top), (right, bottom), (left, bottom)]
    corners = np.array(shape, float)
    if corners.ndim != 2 or corners.shape[1] != 2 or len(corners) < 3:
        raise ValueError("A shape to be blanked needs three corners or more.")
    if not np.all(np.abs(corners) <= _FURTHEST):
        raise ValueError("A corner of a shape to be blanked is far outside the picture or not a number.")
    return corners


def _touched(corners: Floats, width: int, height: int) -> NDArray[np.bool_]:
    """Pixels inside the outline by its winding number, or grazed by it; corners in pixels."""
    x: Floats = np.arange(0.5, width)
    y: Floats = np.arange(0.5, height)[:, None]
    winding = np.zeros((height, width), np.int32)
    grazed = np.zeros((height, width), np.bool_)
    for start, end in pairwise([*corners, corners[0]]):
        lower, upper = np.sort([start, end], axis=0)
        columns = (x > lower[0] - 1) & (x < upper[0] + 1)
        rows = ((y > lower[1] - 1) & (y < upper[1] + 1))[:, 0]
        winding[rows] += _crossed(start, end, x, y[rows])
        grazed[np.ix_(rows, columns)] |= _distance(start, end, x[columns], y[rows]) < _REACH
    touched: NDArray[np.bool_] = (winding != 0) | grazed
    return touched


def _crossed(start: Floats, end: Floats, x: Floats, y: Floats) -> NDArray[np.int32]:
    """+1 where a ray to the left crosses the edge going down, −1 going up."""
    (x0, y0), (x1, y1) = start, end
    if y0 == y1:
        return np.zeros((len(y), len(x)), np.int32)
    level = (min(y0, y1) <= y) & (y < max(y0, y1))
    beyond = x > x0 + (y - y0) * (x1 - x0) / (y1 - y0)
    return np.where(level & beyond, 1 if y1 > y0 else -1, 0).astype(np.int32)


def _distance(start: Floats, end: Floats, x: Floats, y: Floats) -> Floats:
    """From each pixel's middle to the edge."""
    along = end - start
    length = float(along @ along)
    share = ((x - start[0]) * along[0] + (y - start[1]) * along[1]) / (length or 1.0)
    share = np.clip(share, 0, 1)
    return np.asarray(np.hypot(x - start[0] - share * along[0], y - start[1] - share * along[1]))
