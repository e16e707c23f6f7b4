"""The lines drawn for a measure are the lines it is measured between."""

import math

import pytest

from courses.measures.club_measures import angle_to_axis
from courses.measures.construction import Arc, construction
from courses.measures.measures import MEASURES, measurable, measure
from tests.courses.measures.dogs import FRONT, IDEAL, REAR, placed, without

ANGLES = [name for name, each in MEASURES.items() if each.unit == "°" and "parallel" not in name]


def sweep(arc: Arc) -> float:
    start = math.atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0])
    end = math.atan2(arc.end[1] - arc.centre[1], arc.end[0] - arc.centre[0])
    turned = math.degrees(end - start if arc.clockwise else start - end) % 360
    return min(turned, 360 - turned) if turned > 359.999 else turned


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("name", ANGLES)
def test_an_arc_spans_the_angle_that_is_measured(name: str, mirrored: bool) -> None:
    dog = placed(FRONT if "toe" in name else IDEAL, roll=4, mirrored=mirrored)
    (arc,) = construction(dog, name).arcs
    assert sweep(arc) == pytest.approx(abs(measure(dog, name).value), abs=1e-6)
    for place in (arc.start, arc.end, arc.middle):
        assert math.dist(place, arc.centre) == pytest.approx(arc.radius)


@pytest.mark.parametrize("dog", [IDEAL, FRONT, REAR])
def test_every_measure_can_be_drawn_with_or_without_ground(dog: dict) -> None:
    grounds = [name for name in dog if name.startswith("ground")]
    for points in (placed(dog), without(placed(dog), *grounds)):
        for name in measurable(points):
            drawn = construction(points, name)
            assert drawn.segments
            assert all(
                math.isfinite(number) for segment in drawn.segments for number in segment.start + segment.end
            )


def test_a_height_is_dropped_square_to_the_ground() -> None:
    dog = placed(IDEAL, roll=6)
    drops = [each for each in construction(dog, "length_of_leg").segments if each.kind == "drop"]
    assert [math.dist(each.start, each.end) / 0.43 for each in drops] == pytest.approx([0.5319, 1.0])
    (ground,) = [each for each in construction(dog, "length_of_leg").segments if each.kind == "ground"]
    for drop in drops:
        along = ground.end[0] - ground.start[0], ground.end[1] - ground.start[1]
        down = drop.end[0] - drop.start[0], drop.end[1] - drop.start[1]
        assert along[0] * down[0] + along[1] * down[1] == pytest.approx(0, abs=1e-9)


def test_a_length_along_the_ground_is_as_long_as_measured() -> None:
    dog = placed(IDEAL, roll=6, mirrored=True)
    (span,) = [each for each in construction(dog, "length_to_height").segments if each.kind == "span"]
    assert math.dist(span.start, span.end) / 0.43 == pytest.approx(measure(dog, "length_to_height").value)


def test_the_rise_of_the_topline_stands_square_on_its_line() -> None:
    dog = placed(IDEAL, roll=6)
    (square,) = [each for each in construction(dog, "topline_rise").segments if each.kind == "square"]
    assert math.dist(square.start, square.end) / 0.43 == pytest.approx(measure(dog, "topline_rise").value)


def test_the_clubs_own_measure_is_drawn_too() -> None:
    forearm = angle_to_axis("forearm", "Forearm", "wrist", "elbow", "plumb")
    drawn = construction(placed(IDEAL), forearm)
    assert [each.kind for each in drawn.segments] == ["bone", "plumb"]
    assert sweep(drawn.arcs[0]) == pytest.approx(abs(measure(placed(IDEAL), forearm).value))
    arc = drawn.arcs[0]
    assert math.dist(drawn.label_at, arc.centre) == pytest.approx(1.4 * arc.radius)


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_arc_of_the_blade_lies_above_the_withers_and_plumb_reaches_it(mirrored: bool) -> None:
    dog = placed(IDEAL, mirrored=mirrored)
    drawn = construction(dog, "layback")
    (arc,) = drawn.arcs
    assert max(arc.start[1], arc.end[1], arc.middle[1]) < dog["withers"][1]
    (plumb,) = [each for each in drawn.segments if each.kind == "plumb"]
    assert plumb.start == dog["point_of_shoulder"]
    assert math.dist(plumb.start, plumb.end) > arc.radius
    assert math.dist(drawn.label_at, arc.centre) == pytest.approx(1.05 * arc.radius)
