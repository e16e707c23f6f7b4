import random
import statistics

import pytest

from courses.measures.measures import measure
from courses.measures.spread import pooled
from tests.courses.measures.dogs import IDEAL, placed

THREE = [{"elbow": (0.50, 0.40)}, {"elbow": (0.52, 0.43)}, {"elbow": (0.54, 0.40), "nose": (0.9, 0.1)}]


def test_people_are_pooled_point_by_point() -> None:
    elbow = pooled(THREE)["elbow"]
    assert (elbow.x, elbow.y, elbow.people) == (pytest.approx(0.52), pytest.approx(0.41), 3)
    assert elbow.sd_x == pytest.approx(statistics.stdev([0.50, 0.52, 0.54]))
    assert elbow.sd_y == pytest.approx(statistics.stdev([0.40, 0.43, 0.40]))


def test_the_mean_is_surer_than_one_person() -> None:
    elbow = pooled(THREE)["elbow"]
    assert elbow.place[2:] == pytest.approx((0.02 / 3**0.5, elbow.sd_y / 3**0.5))


def test_one_person_alone_shows_no_spread() -> None:
    nose = pooled(THREE)["nose"]
    assert (nose.sd_x, nose.people, nose.place) == (None, 1, (0.9, 0.1))


def test_pooled_points_can_be_measured() -> None:
    hands = [placed(IDEAL), placed(IDEAL, roll=1), placed(IDEAL, roll=-1)]
    points = {name: each.place for name, each in pooled(hands).items()}
    assert measure(points, "stifle_angle").value == pytest.approx(118, abs=0.1)


def test_a_single_person_has_the_usual_error():
    nose = pooled(THREE)["nose"]
    assert nose.steadied(0.01) == pytest.approx((0.9, 0.1, 0.01, 0.01))


def test_two_who_agree_by_luck_are_not_certain():
    elbow = pooled([{"elbow": (0.5, 0.4)}, {"elbow": (0.5, 0.4)}])["elbow"]
    assert elbow.place[2:] == (0, 0)
    assert elbow.steadied(0.01)[2] == pytest.approx(0.01 * (4 / 5) ** 0.5 / 2**0.5)


def test_many_people_speak_for_themselves():
    chance = random.Random(3)
    many = [{"elbow": (chance.gauss(0.5, 0.03), 0.4)} for _ in range(200)]
    elbow = pooled(many)["elbow"]
    assert elbow.steadied(0.01)[2] == pytest.approx(elbow.place[2], rel=0.02)


@pytest.mark.parametrize("people", [1, 2, 3, 6])
def test_the_interval_of_the_mean_holds_the_truth_as_often_as_it_says(people):
    """Monte Carlo where placing is as sure as usual: 95 % to within chance and the few people."""
    chance = random.Random(people)
    held = 0
    for _ in range(1500):
        hands = [{"elbow": (chance.gauss(0.5, 0.01), 0.4)} for _ in range(people)]
        x, _y, sd, _sd = pooled(hands)["elbow"].steadied(0.01)
        held += abs(x - 0.5) <= 1.96 * sd
    assert 0.92 < held / 1500 < 0.98
