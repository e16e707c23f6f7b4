"""Plane geometry against published examples."""

import numpy as np
import pytest
import shapely
from skimage.transform import SimilarityTransform

from courses.measures.alignment import align
from shared.geometry.planes import fit_similarity
from shared.geometry.polygons import distances, polygon, shape

# S. Umeyama, "Least-squares estimation of transformation parameters between two point patterns", IEEE
# Transactions on Pattern Analysis and Machine Intelligence 13 (1991), the worked example: inputs,
# rotation, translation and scale in three decimals, from memory; scikit-image confirms them below.
PATTERN = [(0, 0), (1, 0), (0, 2)]
OTHER = [(0, 0), (-1, 0), (0, 2)]
ROTATION, TRANSLATION, SCALE = [[0.832, 0.555], [-0.555, 0.832]], (-0.800, 0.400), 0.721
# Derived from the paper's formula, var(y) − tr(DS)² / var(x), with var = 10/9 for both patterns.
LEAST_ERROR = 10 / 9 * (1 - 0.52)


def test_umeyama_1991() -> None:
    fit = fit_similarity(PATTERN, OTHER)
    assert fit.matrix[:2, :2] / fit.scale == pytest.approx(np.array(ROTATION), abs=5e-4)
    assert fit.translation == pytest.approx(TRANSLATION, abs=5e-4)
    assert fit.scale == pytest.approx(SCALE, abs=5e-4)
    assert fit.rms**2 == pytest.approx(LEAST_ERROR)
    theirs = SimilarityTransform.from_estimate(np.array(PATTERN, float), np.array(OTHER, float))
    assert fit.matrix == pytest.approx(theirs.params)


def test_umeyama_1991_with_mirroring_allowed() -> None:
    """The other pattern is the mirror image, so nothing is left over."""
    names = ("withers", "elbow", "stifle")
    fit = align(dict(zip(names, PATTERN, strict=True)), dict(zip(names, OTHER, strict=True)))
    assert fit.reflected
    assert (fit.scale, fit.rotation_deg, fit.rms) == pytest.approx((1, 0, 0), abs=1e-12)


def test_distances_to_a_line_and_a_polygon() -> None:
    """T8-D-03: Shapely reference, shapely.distance."""
    line, area = shapely.LineString([(1, 1), (1, -1)]), shape([polygon([(3, 0), (5, 0), (5, 5), (3, 5)])])
    assert distances(np.array([[0.0, 0.0]]), [shapely.Point(10, 0), line, area]).tolist() == [[10, 1, 3]]


def test_the_edge_of_a_region_belongs_to_it() -> None:
    """T8-D-04: shapes and points of Rosetta Code, "Ray-casting algorithm"; the rule for edges is ours."""
    square = shape([polygon([(0, 0), (10, 0), (10, 10), (0, 10)])])
    points = np.array([(5, 5), (5, 8), (-10, 5), (0, 5), (10, 5), (8, 5), (10, 10)], float)
    assert distances(points, [square])[:, 0].tolist() == [0, 0, 10, 0, 0, 0, 0]
