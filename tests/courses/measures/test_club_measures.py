import math

import pytest

from courses.measures.club_measures import angle_at, angle_to_axis, ratio_of_lengths
from courses.measures.measures import MissingPoint, measure
from tests.courses.measures.dogs import FRONT, IDEAL, placed, without

STIFLE = angle_at("our_stifle", "Our stifle", "stifle", "hip_bone", "point_of_hock")
FOREARM = angle_to_axis("forearm", "Forearm", "wrist", "elbow", "plumb")
BACK = angle_to_axis("back", "Back", "set_on", "withers", "ground")
NECK = ratio_of_lengths(
    "neck", "Neck to body", ("withers", "occiput"), ("point_of_shoulder", "point_of_buttock")
)


def test_an_angle_at_a_point_of_the_clubs_choice() -> None:
    (ax, ay), (bx, by), (cx, cy) = (IDEAL[name] for name in ("hip_bone", "stifle", "point_of_hock"))
    expected = math.degrees(math.atan2(ay - by, ax - bx) - math.atan2(cy - by, cx - bx)) % 360
    taken = measure(placed(IDEAL), STIFLE)
    assert taken.value == pytest.approx(min(expected, 360 - expected))
    assert (taken.name, taken.unit) == ("our_stifle", "°")
    assert STIFLE.definition == "at stifle, between hip bone and point of hock"


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("turned", [False, True])
def test_a_line_from_plumb_or_ground_whichever_way_round(turned: bool, mirrored: bool) -> None:
    dog = placed({**IDEAL, "elbow": (-0.10, 0.5), "wrist": (0.0, 0.2)}, roll=5, mirrored=mirrored)
    forearm = angle_to_axis("a", "a", *("elbow", "wrist")[:: -1 if turned else 1], "plumb")
    back = angle_to_axis("b", "b", *("withers", "set_on")[:: -1 if turned else 1], "ground")
    assert measure(dog, forearm).value == pytest.approx(math.degrees(math.atan2(0.1, 0.3)))
    assert measure(dog, back).value == pytest.approx(math.degrees(math.atan2(0.125, 0.8154)))


def test_from_the_front_a_line_has_no_sign() -> None:
    expected = math.degrees(math.atan2(0.008, 0.112))
    for side in "lr":
        leg = angle_to_axis("leg", "Leg", f"wrist_{side}", f"foot_{side}", "plumb", view="front")
        value = measure(placed({**FRONT, "foot_r": (-0.090, 0.066)}, roll=2), leg).value
        assert value == pytest.approx(expected)
    assert (
        measure(placed(FRONT), angle_to_axis("w", "W", "foot_l", "foot_r", "ground", view="front")).value == 0
    )


def test_a_ratio_of_lengths() -> None:
    expected = math.dist(IDEAL["withers"], IDEAL["occiput"]) / math.dist(
        IDEAL["point_of_shoulder"], IDEAL["point_of_buttock"]
    )
    taken = measure(placed(IDEAL), NECK, placement_sd=0)
    assert (taken.value, taken.sd) == pytest.approx((expected, 0.03 * expected))


def test_what_is_missing_is_named_with_the_clubs_word() -> None:
    with pytest.raises(MissingPoint, match="Our stifle needs hip_bone"):
        measure(without(placed(IDEAL), "hip_bone"), STIFLE)


def test_the_camera_counts_and_so_does_the_roll() -> None:
    grounded, floating = placed(IDEAL), without(placed(IDEAL), "ground_front", "ground_rear")
    assert measure(grounded, STIFLE, placement_sd=0).sd == 3
    assert measure(grounded, FOREARM, placement_sd=0).sd == 2
    assert measure(floating, BACK, placement_sd=0).sd == pytest.approx(math.hypot(2, 2))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: angle_at("a", "A", "stifle", "stifle", "elbow"), "must differ"),
        (lambda: angle_at("a", "A", "knee", "stifle", "elbow"), "no point called knee"),
        (lambda: ratio_of_lengths("a", "A", ("nose", "nose"), ("stop", "nose")), "must differ"),
        (lambda: angle_to_axis("a", "A", "nose", "stop", "sky"), "ground or plumb"),
        (lambda: angle_to_axis("a", "A", "nose", "stop", "plumb", view="mouth"), "mouth view has no point"),
    ],
)
def test_a_measure_that_cannot_be(make: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        make()
