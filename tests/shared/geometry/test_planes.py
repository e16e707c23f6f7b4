import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.transform import SimilarityTransform

from shared.geometry.planes import (
    composed,
    fit_similarity,
    from_pixels,
    inverse,
    similarity_matrix,
    svg_transform,
    transformed,
)

moves = st.builds(
    similarity_matrix,
    st.floats(0.1, 10),
    st.floats(-360, 360),
    st.tuples(st.floats(-5, 5), st.floats(-5, 5)),
    reflected=st.booleans(),
)
POINTS = np.array([[0.0, 0.0], [1.0, 0.0], [0.3, 0.8], [-2.0, 1.5]])


@given(move=moves)
def test_what_was_moved_can_be_moved_back(move: np.ndarray) -> None:
    assert transformed(inverse(move), transformed(move, POINTS)) == pytest.approx(POINTS, abs=1e-9)
    assert composed(move, inverse(move)) == pytest.approx(np.eye(3), abs=1e-9)


@given(first=moves, then=moves)
def test_moves_are_made_in_the_order_they_are_named(first: np.ndarray, then: np.ndarray) -> None:
    assert transformed(composed(first, then), POINTS) == pytest.approx(
        transformed(then, transformed(first, POINTS))
    )


def test_a_positive_turn_is_clockwise_on_the_screen() -> None:
    """y points down: what lay to the right now lies below."""
    assert transformed(similarity_matrix(rotation_deg=90), (1, 0)) == pytest.approx((0, 1))


def test_mirroring_comes_first() -> None:
    move = similarity_matrix(2, 90, (5, 0), reflected=True)
    assert transformed(move, (1, 0)) == pytest.approx((5, -2))


@given(move=moves)
def test_the_fit_finds_the_move(move: np.ndarray) -> None:
    reflected = bool(np.linalg.det(move) < 0)
    fit = fit_similarity(POINTS, transformed(move, POINTS), reflected=reflected)
    assert fit.matrix == pytest.approx(move, abs=1e-8)
    assert similarity_matrix(
        fit.scale, fit.rotation_deg, fit.translation, reflected=reflected
    ) == pytest.approx(fit.matrix)


@pytest.mark.parametrize("seed", range(5))
def test_the_fit_is_that_of_another_library(seed: int) -> None:
    """scikit-image, SimilarityTransform: least squares after Umeyama."""
    chance = np.random.default_rng(seed)
    source, target = chance.normal(size=(8, 2)), chance.normal(size=(8, 2))
    theirs = SimilarityTransform.from_estimate(source, target)
    assert fit_similarity(source, target).matrix == pytest.approx(theirs.params)


def test_picture_units_count_the_longer_side_as_one() -> None:
    assert transformed(from_pixels(3000, 2000), (3000, 2000)) == pytest.approx((1, 2 / 3))
    assert transformed(from_pixels(2000, 4000), (2000, 4000)) == pytest.approx((0.5, 1))
    with pytest.raises(ValueError, match="size"):
        from_pixels(0, 0)


def test_the_words_of_svg() -> None:
    assert svg_transform(np.array([[1, 3, 5], [2, 4, 6], [0, 0, 1]])) == "matrix(1 2 3 4 5 6)"


@pytest.mark.parametrize("points", [[], [[1, 1]], [[1, 1], [1, 1]]])
def test_too_little_to_fit(points: list) -> None:
    with pytest.raises(ValueError, match="points"):
        fit_similarity(points, points)
