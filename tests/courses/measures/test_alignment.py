import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from courses.measures.alignment import align, differences
from courses.measures.measures import MissingPoint
from shared.geometry.planes import transformed
from tests.courses.measures.dogs import IDEAL, placed, without


def moved(points: dict, matrix: np.ndarray) -> dict:
    return {name: tuple(transformed(matrix, at)) for name, at in points.items()}


@given(
    scale=st.floats(0.2, 4),
    turn=st.floats(-179, 179),
    shift=st.tuples(st.floats(-1, 1), st.floats(-1, 1)),
    mirrored=st.booleans(),
)
def test_a_dog_that_was_moved_is_laid_back_over_itself(
    scale: float, turn: float, shift: tuple[float, float], mirrored: bool
) -> None:
    start = placed(IDEAL)
    way, cos, sin = -1 if mirrored else 1, math.cos(math.radians(turn)), math.sin(math.radians(turn))
    end = {
        name: (scale * (cos * way * x - sin * y) + shift[0], scale * (sin * way * x + cos * y) + shift[1])
        for name, (x, y) in start.items()
    }
    fit = align(start, end)
    assert fit.reflected is mirrored
    assert (fit.scale, fit.rotation_deg, fit.rms) == pytest.approx((scale, turn, 0), abs=1e-7)
    assert fit.translation == pytest.approx(shift, abs=1e-7)
    for name, (x, y) in start.items():
        assert fit.matrix @ (x, y, 1) == pytest.approx((*end[name], 1), abs=1e-7)


def test_only_shared_points_count_and_the_rest_is_in_target_units() -> None:
    start = {"withers": (0.0, 0.0), "elbow": (1.0, 0.0), "brisket": (0.0, 1.0), "nose": (9.0, 9.0)}
    end = {"withers": (0.0, 0.0), "elbow": (10.0, 0.0), "brisket": (0.0, 13.0), "stifle": (3.0, 3.0)}
    fit = align(start, end, reflect=False)
    left_over = [math.dist(transformed(fit.matrix, start[name]), end[name]) for name in start if name in end]
    assert fit.rms == pytest.approx(math.sqrt(sum(each**2 for each in left_over) / 3))
    for change in (1.001, 0.999):
        other = fit.matrix * [[change, change, 1], [change, change, 1], [1, 1, 1]]
        worse = [math.dist(transformed(other, start[name]), end[name]) for name in start if name in end]
        assert sum(each**2 for each in worse) > sum(each**2 for each in left_over)


def test_mirroring_is_done_when_it_leaves_less_and_not_when_forbidden() -> None:
    start, end = placed(IDEAL), placed(IDEAL, mirrored=True)
    assert align(start, end).reflected
    assert align(start, end).rms == pytest.approx(0, abs=1e-12)
    assert not align(start, end, reflect=False).reflected
    assert align(start, end, reflect=False).rms > 0.05
    assert align(start, start, reflect=True).rms > 0.05
    assert not align(start, start).reflected


def test_with_two_points_the_dogs_are_made_to_face_the_same_way() -> None:
    start, end = placed(IDEAL), placed(IDEAL, mirrored=True)
    two = {name: end[name] for name in ("withers", "point_of_buttock")}
    assert align(start, two).reflected
    assert not align(end, two).reflected
    assert not align(start, {"elbow": (0.1, 0.1), "wrist": (0.1, 0.5)}).reflected


def test_points_in_line_are_treated_as_two() -> None:
    line = {"nose": (3.0, 1.0), "withers": (2.0, 1.0), "set_on": (1.0, 1.0)}
    other = {"nose": (1.0, 1.0), "withers": (2.0, 1.0), "set_on": (3.0, 1.0)}
    fit = align(line, other)
    assert fit.reflected
    assert fit.rotation_deg == pytest.approx(0)


def test_a_square_mirrored_onto_itself() -> None:
    corners = {"withers": (0.0, 0.0), "elbow": (1.0, 0.0), "stifle": (1.0, 1.0), "brisket": (0.0, 1.0)}
    swapped = {**corners, "elbow": (0.0, 1.0), "brisket": (1.0, 0.0)}
    fit = align(corners, swapped)
    assert fit.reflected
    assert fit.rms == pytest.approx(0, abs=1e-12)


def test_too_few_shared_points_name_those_that_would_help() -> None:
    with pytest.raises(MissingPoint) as missing:
        align({"withers": (0, 0), "elbow": (1, 1)}, {"withers": (0, 0), "stifle": (1, 1)})
    assert missing.value.names == ("elbow", "stifle")
    with pytest.raises(MissingPoint, match="withers"):
        align({}, {})


def test_shared_points_that_coincide() -> None:
    with pytest.raises(ValueError, match="coincide"):
        align({"withers": (1, 1), "elbow": (1, 1)}, {"withers": (0, 0), "elbow": (1, 1)})


def test_differences_between_two_dogs() -> None:
    """The second dog has its blade 12° more upright; everything else is the same dog, mirrored."""
    x, y = IDEAL["point_of_shoulder"]
    blade = (x - 0.28 * math.sin(math.radians(23)), y + 0.28 * math.cos(math.radians(23)))
    first = placed(IDEAL)
    second = placed({**IDEAL, "blade_top": blade}, height=0.6, mirrored=True)
    found = {each.name: each for each in differences(first, second, cameras=("exact", "exact"))}
    assert found["layback"].difference == pytest.approx(-12, abs=0.02)
    assert found["layback"].sd == pytest.approx(
        math.hypot(found["layback"].source.sd, found["layback"].target.sd)
    )
    assert [name for name, each in found.items() if each.exceeds] == ["layback", "shoulder_angle"]
    by_photograph = {each.name: each for each in differences(first, second, cameras=("poor", "poor"))}
    assert not by_photograph["layback"].exceeds


def test_differences_list_what_both_allow() -> None:
    first, second = placed(IDEAL), without(placed(IDEAL), "stifle", "nose")
    assert [each.name for each in differences(first, second)] == [
        each.name
        for each in differences(second, second)
        if each.name not in ("stifle_angle", "hock_angle", "muzzle_to_skull")
    ]
