import io
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from shapely import MultiPoint, Polygon

from shared.pictures.blanking import COVER, Box, blank
from shared.pictures.renditions import renditions
from tests.shared.pictures.making import scene

WIDTH, HEIGHT = 90, 60
Corner = tuple[float, float]
places = st.tuples(st.integers(-100, 1100), st.integers(-100, 800)).map(
    lambda at: (at[0] / 1000, at[1] / 1000)
)


def covered(image: Image.Image) -> np.ndarray:
    return np.all(np.asarray(image) == COVER, axis=2)


X, Y = np.meshgrid(np.arange(WIDTH), np.arange(HEIGHT))


def touched(shape: shapely.Geometry) -> np.ndarray:
    """Pixels of which `shape` (in pixels) covers some area, by Shapely."""
    return shapely.area(shapely.intersection(shape, shapely.box(X, Y, X + 1, Y + 1))) > 1e-6


def near(shape: shapely.Geometry) -> np.ndarray:
    """Pixels no further from `shape` than one that it grazes at a corner."""
    return shapely.distance(shape, shapely.points(X + 0.5, Y + 0.5)) < 0.7072


@settings(max_examples=50)
@given(corners=st.lists(places, min_size=3, max_size=6))
def test_every_pixel_that_a_polygon_touches_is_covered_and_none_further_off(corners: list[Corner]) -> None:
    shown = covered(blank(Image.new("RGB", (WIDTH, HEIGHT)), [corners]))
    scaled = [(x * WIDTH, y * WIDTH) for x, y in corners]
    shape = Polygon(scaled)
    if shape.is_valid:
        assert not np.any(touched(shape) & ~shown)
        assert not np.any(shown & ~near(shape))
    assert not np.any(shown & ~near(MultiPoint(scaled).convex_hull))


@settings(max_examples=50)
@given(one=places, other=places)
def test_every_pixel_that_a_box_touches_is_covered_and_none_further_off(one: Corner, other: Corner) -> None:
    shown = covered(blank(Image.new("RGB", (WIDTH, HEIGHT)), [Box(*one, *other)]))
    corners = [(x * WIDTH, y * WIDTH) for x in (one[0], other[0]) for y in (one[1], other[1])]
    expected = MultiPoint(corners).convex_hull
    assert not np.any(touched(expected) & ~shown)
    assert not np.any(shown & ~near(expected))


def test_the_middle_of_a_star_is_covered_too() -> None:
    star = [
        (0.5 + 0.3 * math.sin(4 * math.pi * k / 5), 0.35 - 0.3 * math.cos(4 * math.pi * k / 5))
        for k in range(5)
    ]
    assert covered(blank(Image.new("RGB", (WIDTH, HEIGHT)), [star]))[31, 45]


def test_a_shape_that_runs_over_the_edge_covers_what_is_inside() -> None:
    assert covered(blank(Image.new("RGB", (WIDTH, HEIGHT)), [Box(-3, -3, 3, 3)])).all()
    assert not covered(blank(Image.new("RGB", (WIDTH, HEIGHT)), [Box(1.1, 0, 2, 2)])).any()


def test_the_rest_of_the_picture_is_untouched_and_so_is_the_original() -> None:
    picture = scene(WIDTH, HEIGHT)
    before = picture.copy()
    shown = blank(picture, [Box(0.1, 0.1, 0.3, 0.2), [(0.6, 0.2), (0.8, 0.2), (0.7, 0.4)]])
    assert np.array_equal(picture, before)
    differs = np.any(np.asarray(shown) != np.asarray(picture), axis=2)
    assert np.array_equal(differs, covered(shown) & ~covered(picture))
    assert 200 < differs.sum() < 700


def test_what_was_blanked_cannot_be_read_in_any_rendition() -> None:
    picture = Image.new("RGB", (400, 300), "white")
    picture.paste("red", (100, 100, 200, 160))
    shown = blank(picture, [Box(0.25, 0.25, 0.5, 0.4)])
    for made in renditions(shown, widths=[400, 200]):
        pixels = np.asarray(Image.open(io.BytesIO(made.data)).convert("RGB"), int)
        assert (pixels[..., 0] - pixels[..., 1]).max() < 40


@pytest.mark.parametrize(
    "shape", [[(0.1, 0.1), (0.2, 0.2)], [(0, 0), (1, 0), (math.nan, 1)], Box(0, 0, math.inf, 1)]
)
def test_a_shape_that_is_none_is_an_error(shape: object) -> None:
    with pytest.raises(ValueError, match="blanked"):
        blank(Image.new("RGB", (10, 10)), [shape])
