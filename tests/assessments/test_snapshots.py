"""What the pure packages are given of a picture."""

from __future__ import annotations

import pytest

from assessments.snapshots import height_at_withers
from courses.models import Placement
from tests import makers


@pytest.mark.parametrize(
    ("points", "height"),
    [
        ({"withers": [0.3, 0.2], "ground_front": [0.2, 0.7], "ground_rear": [0.8, 0.7]}, 0.5),
        # A picture that is not level: four by three, the withers square above the lower end; 3-4-5 by hand.
        ({"withers": [0.0, 0.5], "ground_front": [0.0, 0.0], "ground_rear": [0.4, 0.3]}, 0.4),
        ({"withers": [0.3, 0.2], "ground_front": [0.2, 0.7], "ground_rear": None}, 0.5),
        ({"withers": [0.3, 0.2], "ground_front": [0.2, 0.7], "ground_rear": [0.2, 0.7]}, 0.5),
        ({"withers": [0.3, 0.2]}, None),
        ({"ground_front": [0.2, 0.7], "ground_rear": [0.8, 0.7]}, None),
    ],
)
def test_the_height_is_square_to_the_ground_line_and_of_finished_points_alone(cast, points, height):
    exhibit = makers.make_exhibit(cast.club, cast.educator)
    Placement.objects.create(exhibit=exhibit, points={"withers": [0, 0], "ground_front": [0, 1]})
    Placement.objects.create(exhibit=exhibit, points=points, exact=True)
    assert height_at_withers(exhibit) == (None if height is None else pytest.approx(height))
