"""Simple polygons: their outlines checked, distances of points to them, the ground several share.

A polygon is a tuple of (x, y) corners without a closing point; its inside and its edge both belong to it.
A region is one or more polygons; their union counts. Shapes are Shapely geometries, made once with
`shape` and used many times.
"""

from collections.abc import Iterable, Sequence
from math import isfinite
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

Point = tuple[float, float]
Polygon = tuple[Point, ...]
Shape = Any

# Ground smaller than this is the dust that floating point leaves between two edges that should coincide
# (coordinates of the order of 1).
DUST = 1e-9


def polygon(corners: Iterable[Sequence[float]]) -> Polygon:
    """Return the corners as a polygon, without the closing point if there is one.

    Raises ValueError for a corner that is not two finite numbers, for fewer than three corners, and for
    an outline that crosses or touches itself or encloses nothing.
    """
    points = tuple(_point(corner) for corner in corners)
    if len(points) > 1 and points[0] == points[-1]:
        points = points[:-1]
    if len(set(points)) < 3:
        raise ValueError(f"polygon {points} has {len(set(points))} different corners; it needs at least 3")
    drawn = shapely.Polygon(points)
    if not drawn.is_valid or drawn.area == 0:
        raise ValueError(
            f"polygon {points} is not simple: its outline must enclose ground and must not cross or touch "
            f"itself ({shapely.is_valid_reason(drawn)})"
        )
    return points


def polygons(region: Iterable[Any]) -> tuple[Polygon, ...]:
    """Return a region, given as one polygon or as a sequence of polygons, as a tuple of polygons.

    Raises ValueError for an empty region and for whatever `polygon` refuses.
    """
    parts = list(region)
    if not parts:
        raise ValueError("region () is empty: a region is at least one polygon")
    return tuple(polygon(part) for part in parts) if _is_polygon(parts[0]) else (polygon(parts),)


def shape(region: Iterable[Polygon]) -> Shape:
    """Return the union of a region's polygons as one prepared shape."""
    parts = [shapely.Polygon(part) for part in region]
    united = parts[0] if len(parts) == 1 else shapely.union_all(parts)
    shapely.prepare(united)
    return united


def within(
    x: NDArray[np.float64], y: NDArray[np.float64], shapes: Sequence[Shape], reach: float
) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.float64]]:
    """Find every pair of a point and a shape that lie at most `reach` apart.

    x, y: the coordinates of n points; a NaN is near nothing. Returns three arrays of one length, shape by
    shape: the index of the point, the index of the shape, and the distance between them, 0 inside and on the edge.
    """
    found = []
    for number, each in enumerate(shapes):
        left, upper, right, lower = each.bounds
        beside = (x >= left - reach) & (x <= right + reach) & (y >= upper - reach) & (y <= lower + reach)
        near = np.flatnonzero(beside)
        apart = shapely.distance(shapely.points(x[near], y[near]), each)
        close = apart <= reach
        found.append((near[close], np.full(close.sum(), number), apart[close]))
    if not found:
        return np.empty(0, np.intp), np.empty(0, np.intp), np.empty(0)
    points, which, apart = (np.concatenate(column) for column in zip(*found, strict=True))
    return points, which, apart


def distances(points: NDArray[np.float64], shapes: Sequence[Shape]) -> NDArray[np.float64]:
    """Return the (n, k) distances of n points, given as (n, 2), to k shapes; 0 inside and on the edge."""
    every = shapely.distance(
        shapely.points(points)[:, np.newaxis], np.asarray(shapes, dtype=object)[np.newaxis, :]
    )
    return np.asarray(every, dtype=np.float64)


def gap(first: Shape, second: Shape) -> float:
    """Return the smallest distance between two shapes, 0 where they touch or overlap."""
    return float(shapely.distance(first, second))


def common_ground(shapes: Sequence[Shape], at_least: int) -> tuple[Polygon, ...]:
    """Return the ground that at least so many of the shapes cover, holes filled; () where there is none.

    Each shape counts once. `at_least=1` gives the union. Raises ValueError unless 1 ≤ at_least ≤ len(shapes).
    """
    if not 1 <= at_least <= len(shapes):
        raise ValueError(f"at_least is {at_least}; it must lie between 1 and the {len(shapes)} shapes given")
    # covered[c] is the ground that at least c + 1 of the shapes seen so far cover.
    covered = [shapely.Polygon()] * at_least
    for each in shapes:
        for count in range(at_least - 1, 0, -1):
            shared = covered[count - 1].intersection(each)
            covered[count] = shapely.union_all([covered[count], *_solid_parts(shared)])
        covered[0] = covered[0].union(each)
    return _outlines(covered[-1])


def _outlines(ground: Shape) -> tuple[Polygon, ...]:
    """The outer outlines of some ground, left to right, without dust."""
    solid = shapely.union_all([shapely.Polygon(part.exterior) for part in _solid_parts(ground)])
    rings = [tuple(shapely.normalize(part).exterior.coords)[:-1] for part in _solid_parts(solid)]
    return tuple(sorted(tuple((float(x), float(y)) for x, y in ring) for ring in rings))


def _solid_parts(ground: Shape) -> list[Shape]:
    return [part for part in shapely.get_parts(ground) if part.geom_type == "Polygon" and part.area > DUST]


def _is_polygon(value: Any) -> bool:
    """Whether the value is a polygon rather than a corner: its first member is a sequence itself."""
    try:
        return len(value[0]) > 0
    except (TypeError, IndexError):
        return False


def _point(corner: Sequence[float]) -> Point:
    try:
        x, y = (float(value) for value in corner)
    except (TypeError, ValueError) as error:
        raise ValueError(f"corner {corner!r} is not a point: a point is two numbers, x and y") from error
    if not (isfinite(x) and isfinite(y)):
        raise ValueError(f"corner ({x}, {y}) is not a point: both coordinates must be finite numbers")
    return x, y
