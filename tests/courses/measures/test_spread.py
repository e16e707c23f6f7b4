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
