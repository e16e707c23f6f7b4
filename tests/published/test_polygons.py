"""Distances to polygons, against printed examples."""

import numpy as np
import pytest

from shared.geometry.polygons import distances, shape

SQUARE = ((0, 0), (10, 0), (10, 10), (0, 10))


def test_distance_of_a_point_to_a_polygon():
    """Shapely reference, shapely.distance: from (0, 0) to the polygon 3."""
    polygon = shape([((3, 0), (5, 0), (5, 5), (3, 5))])
    assert distances(np.array([[0.0, 0.0]]), [polygon]) == pytest.approx(3, abs=1e-9)


def test_inside_edge_and_outside_of_a_square():
    """Rosetta Code, Ray-casting algorithm: its square and test points. There a point on the edge is left to
    convention; here the edge belongs to the polygon."""
    points = np.array([(5, 5), (5, 8), (-10, 5), (0, 5), (10, 5), (8, 5), (10, 10)], dtype=float)
    assert distances(points, [shape([SQUARE])])[:, 0] == pytest.approx([0, 0, 10, 0, 0, 0, 0], abs=1e-6)
