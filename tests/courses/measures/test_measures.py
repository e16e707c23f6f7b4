"""Values, signs and verdicts, against trigonometry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from courses.measures.measures import (
    MEASURES,
    Measurement,
    MissingPoint,
    measurable,
    measure,
    verdict,
)
from courses.measures.points import BONES, POINTS, point_label
from tests.courses.measures.dogs import FRONT, IDEAL, REAR, placed, without


def value(points: dict, name: str) -> float:
    return measure(points, name).value


# The design of the figure, "Parameters" and "Skeleton": what the ideal is drawn with.
IDEAL_VALUES = {
    "layback": 35,
    "shoulder_angle": 105,
    "upper_arm_to_blade": 0.95,
    "front_pastern": 16,
    "pelvis_slope": 28,
    "stifle_angle": 118,
    "hock_angle": 140,
    "rear_pastern": 0,
    "length_to_height": 1.09,
    "depth_of_chest": 0.515,
    "length_of_leg": 0.532,
}


@pytest.mark.parametrize("name", IDEAL_VALUES)
def test_the_ideal_measures_as_it_was_drawn(name: str) -> None:
    tolerance = 0.02 if MEASURES[name].unit == "°" else 0.0011
    assert value(placed(IDEAL), name) == pytest.approx(IDEAL_VALUES[name], abs=tolerance)


@given(
    name=st.sampled_from(measurable(placed(IDEAL))),
    height=st.floats(0.1, 0.9),
    roll=st.floats(-20, 20),
    mirrored=st.booleans(),
)
def test_size_roll_and_facing_of_the_dog_change_no_measure(
    name: str, height: float, roll: float, mirrored: bool
) -> None:
    seen = placed(IDEAL, height=height, roll=roll, mirrored=mirrored)
    ours, plain = measure(seen, name), measure(placed(IDEAL), name)
    assert (ours.value, ours.sd) == pytest.approx((plain.value, plain.sd), abs=1e-6)


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("degrees", [-12.0, 0.0, 30.0, 45.0])
def test_leans_are_positive_when_the_upper_end_lies_further_back(degrees: float, mirrored: bool) -> None:
    """A line of length 0.2 that leans back by so many degrees, by sine and cosine."""
    back, up = 0.2 * math.sin(math.radians(degrees)), 0.2 * math.cos(math.radians(degrees))
    for name, upper, lower in (
        ("layback", "blade_top", "point_of_shoulder"),
        ("front_pastern", "wrist", "front_foot"),
        ("rear_pastern", "hock_joint", "rear_foot"),
    ):
        x, y = IDEAL[lower]
        dog = placed({**IDEAL, upper: (x - back, y + up)}, mirrored=mirrored)
        assert value(dog, name) == pytest.approx(degrees, abs=1e-9)


@pytest.mark.parametrize("degrees", [-5.0, 0.0, 30.0])
def test_slopes_are_positive_when_the_line_falls_to_the_rear(degrees: float) -> None:
    x, y = IDEAL["hip_bone"]
    rear = (x - 0.25 * math.cos(math.radians(degrees)), y - 0.25 * math.sin(math.radians(degrees)))
    dog = placed({**IDEAL, "point_of_buttock": rear, "set_on": rear})
    assert value(dog, "pelvis_slope") == pytest.approx(degrees, abs=1e-9)
    assert value(dog, "croup_slope") == pytest.approx(degrees, abs=1e-9)


@pytest.mark.parametrize("degrees", [40.0, 90.0, 118.0, 179.0])
def test_joints_measure_the_inner_angle(degrees: float) -> None:
    x, y = IDEAL["stifle"]
    turned = math.radians(70 + degrees)
    dog = {
        **IDEAL,
        "hip_joint": (x + 0.3 * math.cos(math.radians(70)), y + 0.3 * math.sin(math.radians(70))),
        "hock_joint": (x + 0.3 * math.cos(turned), y + 0.3 * math.sin(turned)),
    }
    assert value(placed(dog), "stifle_angle") == pytest.approx(degrees, abs=1e-9)


def test_the_same_shoulder_from_plumb_and_from_horizontal() -> None:
    shoulder = measure(placed(IDEAL), "layback")
    assert shoulder.value + (shoulder.from_horizontal or 0) == 90
    assert measure(placed(IDEAL), "stifle_angle").from_horizontal is None


def test_lengths_over_the_height() -> None:
    dog = {**IDEAL, "elbow": (0.0394, 0.45), "rear_foot": (-1.0, 0.06), "loin_top": (-0.4, 1.05)}
    dog |= {"withers": (-0.0106, 1.0), "set_on": (-0.82, 1.0)}
    seen = placed(dog)
    assert value(seen, "elbow_set") == pytest.approx(0.05)
    assert value(seen, "length_of_leg") == pytest.approx(0.45)
    assert value(seen, "hind_reach") == pytest.approx(0.12)
    assert value(seen, "topline_rise") == pytest.approx(0.05)
    dipped = placed({**dog, "loin_top": (-0.4, 0.97)}, mirrored=True)
    assert value(dipped, "topline_rise") == pytest.approx(-0.03)


@pytest.mark.parametrize("mirrored", [False, True])
def test_legs_seen_from_the_front(mirrored: bool) -> None:
    """The left foot stands 0.008 nearer to the middle than the wrist 0.112 above it; the right is plumb."""
    seen = placed(FRONT, roll=3, mirrored=mirrored)
    lean = math.degrees(math.atan2(0.008, 0.112))
    assert value(seen, "front_parallel") == pytest.approx(lean)
    assert value(seen, "front_width") == pytest.approx(0.224)
    turn = math.degrees(math.atan2(0.006, 0.056))
    assert value(seen, "apparent_toe_turn_l") == pytest.approx(turn)
    assert value(seen, "apparent_toe_turn_r") == pytest.approx(turn)
    turned_in = placed({**FRONT, "toe_l": (0.084, 0.010)}, mirrored=mirrored)
    assert value(turned_in, "apparent_toe_turn_l") == pytest.approx(-turn)


@pytest.mark.parametrize("mirrored", [False, True])
def test_legs_seen_from_behind(mirrored: bool) -> None:
    """The left foot stands wide, so the lines diverge; the right toes point in."""
    seen = placed(REAR, roll=-2, mirrored=mirrored)
    assert value(seen, "rear_parallel") == pytest.approx(-math.degrees(math.atan2(0.006, 0.202)))
    assert value(seen, "apparent_toe_turn_l") == pytest.approx(math.degrees(math.atan2(0.010, 0.056)))
    assert value(seen, "apparent_toe_turn_r") == pytest.approx(-math.degrees(math.atan2(0.004, 0.056)))


def test_one_foot_alone_is_read_as_the_view_has_it() -> None:
    """Seen from the front the dog's left is on the right of the picture, from behind on the left."""
    front = without(placed(FRONT), "foot_r", "toe_r")
    rear = without(placed(REAR), "rear_foot_r", "toe_r")
    assert value(front, "apparent_toe_turn_l") > 0
    assert value(rear, "apparent_toe_turn_l") > 0


def test_a_head_alone_has_proportions() -> None:
    head = {"nose": (0.9, 0.5), "stop": (0.5, 0.4), "occiput": (0.1, 0.4)}
    assert value(head, "muzzle_to_skull") == pytest.approx(math.hypot(0.4, 0.1) / 0.4)
    assert measurable(head, "head") == ["muzzle_to_skull"]


class TestWithoutGround:
    def test_the_horizontal_of_the_picture_serves(self) -> None:
        seen = without(placed(IDEAL, roll=4, mirrored=True), "ground_front", "ground_rear")
        shoulder = measure(seen, "layback")
        assert shoulder.value == pytest.approx(35 - -4, abs=0.1)
        assert shoulder.axis == "from the picture's vertical"
        assert measure(placed(IDEAL), "layback").axis == "from plumb"

    @pytest.mark.parametrize(
        "name", ["layback", "pelvis_slope", "croup_slope", "rear_pastern", "front_pastern"]
    )
    def test_two_degrees_of_roll_take_the_place_of_the_ground(self, name: str) -> None:
        own = {key: (*at, 0.002, 0.002) for key, at in placed(IDEAL).items()}
        exact_ground = own | {key: (*own[key][:2], 0, 0) for key in ("ground_front", "ground_rear")}
        level = measure(exact_ground, name, camera="exact").sd
        rolled = measure(without(own, "ground_front", "ground_rear"), name, camera="exact").sd
        assert rolled == pytest.approx(math.hypot(level, 2))

    @pytest.mark.parametrize("name", ["shoulder_angle", "stifle_angle", "hock_angle", "upper_arm_to_blade"])
    def test_what_is_not_measured_against_the_ground_does_not_feel_the_roll(self, name: str) -> None:
        own = {key: (*at, 0.002, 0.002) for key, at in placed(IDEAL).items()}
        with_ground, without_ground = own, without(own, "ground_front", "ground_rear")
        assert measure(with_ground, name).sd == measure(without_ground, name).sd

    def test_one_ground_point_gives_the_height(self) -> None:
        seen = without(placed(IDEAL), "ground_front")
        assert value(seen, "length_of_leg") == pytest.approx(0.5319)
        assert measure(seen, "length_of_leg").axis == "along the picture's vertical, over the height"
        with pytest.raises(MissingPoint) as missing:
            measure(without(seen, "ground_rear"), "length_of_leg")
        assert missing.value.names == ("ground_front", "ground_rear")

    def test_a_dog_of_which_nothing_tells_the_facing(self) -> None:
        pastern = {name: placed(IDEAL)[name] for name in ("wrist", "front_foot")}
        with pytest.raises(MissingPoint, match="ground_front, ground_rear"):
            measure(pastern, "front_pastern")
        assert measurable(pastern) == []

    @pytest.mark.parametrize("mirrored", [False, True])
    @pytest.mark.parametrize(
        "names",
        [
            ("blade_top", "point_of_shoulder"),
            ("wrist", "front_foot", "withers", "prosternum"),
            ("wrist", "front_foot", "nose", "occiput"),
            ("wrist", "front_foot", "stifle"),
        ],
    )
    def test_the_facing_comes_from_the_points_at_hand(self, names: tuple[str, ...], mirrored: bool) -> None:
        points = {name: placed(IDEAL, mirrored=mirrored)[name] for name in names}
        name, expected = ("layback", 35) if "blade_top" in names else ("front_pastern", 16)
        assert value(points, name) == pytest.approx(expected, abs=0.02)


class TestCamera:
    CAMERA_SD = {
        "layback": 2,
        "shoulder_angle": 2.5,
        "front_pastern": 2,
        "pelvis_slope": 1.5,
        "croup_slope": 1.5,
        "stifle_angle": 3,
        "hock_angle": 4,
        "rear_pastern": 2,
        "elbow_set": 0.01,
        "hind_reach": 0.01,
        "topline_rise": 0.01,
        "length_to_height": 0.03 * 1.089,
        "depth_of_chest": 0.03 * 0.515,
        "length_of_leg": 0.03 * 0.5319,
        "tail_reach": 0.03 * 1.127,
        "front_parallel": 2,
        "rear_parallel": 2,
        "apparent_toe_turn_l": 5,
        "apparent_toe_turn_r": 5,
        "front_width": 0.03 * 0.224,
    }

    @pytest.mark.parametrize("name", CAMERA_SD)
    @pytest.mark.parametrize(("camera", "times"), [("unknown", 1), ("good", 0.4), ("poor", 2), ("exact", 0)])
    def test_its_part_of_the_error(self, name: str, camera: str, times: float) -> None:
        dog = {"front": FRONT, "rear": REAR}.get(MEASURES[name].views[0], IDEAL)
        only_camera = measure(placed(dog), name, placement_sd=0, camera=camera)
        assert only_camera.sd == pytest.approx(times * self.CAMERA_SD[name], rel=0.01)

    def test_it_is_added_in_quadrature_and_the_interval_is_of_95_per_cent(self) -> None:
        both = measure(placed(IDEAL), "stifle_angle")
        placing = measure(placed(IDEAL), "stifle_angle", camera="exact").sd
        assert both.sd == pytest.approx(math.sqrt(placing**2 + 9))
        assert (both.low, both.high) == pytest.approx(
            (both.value - 1.96 * both.sd, both.value + 1.96 * both.sd)
        )

    def test_an_unknown_word_for_it(self) -> None:
        with pytest.raises(ValueError, match="unknown, good, poor, exact, not 'fine'"):
            measure(placed(IDEAL), "layback", camera="fine")


def result(low: float, high: float) -> Measurement:
    return Measurement("layback", (low + high) / 2, (high - low) / 3.92, low, high, "°", "from plumb")


@pytest.mark.parametrize(
    ("interval", "expected"),
    [
        ((29, 34), "within"),
        ((28, 35), "within"),
        ((27.9, 34), "cannot tell"),
        ((20, 27.9), "outside"),
        ((20, 28), "cannot tell"),
        ((35, 40), "cannot tell"),
        ((35.1, 40), "outside"),
        ((20, 40), "cannot tell"),
    ],
)
def test_the_verdict_on_a_clause(interval: tuple[float, float], expected: str) -> None:
    assert verdict(result(*interval), 28, 35) == expected


def test_a_range_that_is_open_at_one_end() -> None:
    assert verdict(result(29, 34), 28, None) == "within"
    assert verdict(result(29, 34), None, 28) == "outside"
    with pytest.raises(ValueError, match="ends before it begins"):
        verdict(result(29, 34), 35, 28)


class TestBadInput:
    def test_all_missing_points_are_named(self) -> None:
        with pytest.raises(MissingPoint) as missing:
            measure({"point_of_shoulder": (0.5, 0.5)}, "shoulder_angle")
        assert missing.value.names == ("blade_top", "elbow")
        assert isinstance(missing.value, ValueError)
        assert str(missing.value) == "Shoulder angle needs blade_top, elbow."

    def test_a_zero_length(self) -> None:
        dog = placed(IDEAL)
        with pytest.raises(ValueError, match="is zero"):
            measure(dog | {"blade_top": dog["point_of_shoulder"]}, "upper_arm_to_blade")
        with pytest.raises(ValueError, match="coincide"):
            measure(dog | {"blade_top": dog["point_of_shoulder"]}, "shoulder_angle")

    @pytest.mark.parametrize(
        ("change", "words"),
        [
            ({"withers": (0.6, 0.7)}, "withers lie on the ground line or below"),
            ({"ground_front": (0.22, 0.1)}, "steeper than 45°"),
            ({"elbow": (math.nan, 0.5)}, "elbow must be"),
            ({"elbow": (0.5, 0.5, 0.1)}, "elbow must be"),
            ({"elbow": (0.5, 0.5, -0.1, 0.1)}, "elbow has a negative"),
        ],
    )
    def test_points_that_cannot_be(self, change: dict, words: str) -> None:
        with pytest.raises(ValueError, match=words):
            measure(placed(IDEAL) | change, "length_of_leg")

    def test_a_measure_that_is_none(self) -> None:
        with pytest.raises(ValueError, match="no measure called 'charm'"):
            measure(placed(IDEAL), "charm")

    @pytest.mark.parametrize("sd", [-0.1, math.nan, math.inf])
    def test_a_placing_error_that_is_none(self, sd: float) -> None:
        with pytest.raises(ValueError, match="0 or more"):
            measure(placed(IDEAL), "layback", placement_sd=sd)


def test_measures_and_bones_use_points_of_their_view_and_say_so_in_words() -> None:
    for each in MEASURES.values():
        assert each.definition
        for view in each.views:
            assert set(each.points[view]) <= {point.name for point in POINTS[view]}
    for view, bones in BONES.items():
        assert {name for bone in bones for name in bone} <= {point.name for point in POINTS[view]}


@pytest.mark.parametrize("view", POINTS)
def test_no_two_points_of_a_view_share_a_word(view: str) -> None:
    labels = [point.label for point in POINTS[view]]
    assert len(set(labels)) == len(labels) == len({point.name for point in POINTS[view]})
    assert point_label(view, POINTS[view][0].name) == labels[0]


def test_what_a_view_allows() -> None:
    assert len(measurable(placed(IDEAL))) == 17
    assert measurable(placed(FRONT), "front") == [
        "front_parallel",
        "front_width",
        "apparent_toe_turn_l",
        "apparent_toe_turn_r",
    ]
    assert measurable(placed(IDEAL), "rear") == []
