"""What was asked for is what can be measured on the points of the drawing.

The arithmetic here is written out anew from the definitions and shares nothing with the figure; a second
pass goes through `courses.measures`.
"""

from math import atan2, degrees, hypot

import numpy as np
import pytest

from courses.figure import PARAMETERS, ideal
from courses.figure.drawing import plan
from courses.figure.skeleton import solve
from courses.figure.trunk import tail_line
from courses.measures import measures

from .figures import described, random_settings

FIGURES = list(random_settings(20260701, 24))


class Picture:
    """Points of a drawing, turned y up and scaled so that the height at the withers is 1."""

    def __init__(self, view, figure):
        self.points = described(view, figure).points
        ground = self.points.get("ground_front", self.points.get("ground_l"))
        withers = self.points.get("withers")
        self.height = ground[1] - withers[1] if withers else 1.0

    def at(self, name):
        x, y = self.points[name]
        return np.array([x, -y]) / self.height

    def step(self, a, b):
        return self.at(b) - self.at(a)

    def plumb(self, upper, lower):
        """Angle of the line down from `upper` to `lower` from plumb, forward (to the right) positive."""
        x, y = self.step(upper, lower)
        return degrees(atan2(x, -y))

    def angle(self, a, b, c):
        first, second = self.step(b, a), self.step(b, c)
        turn = degrees(atan2(first[1], first[0]) - atan2(second[1], second[0])) % 360
        return min(turn, 360 - turn)

    def length(self, a, b):
        return hypot(*self.step(a, b))


@pytest.mark.parametrize("figure", FIGURES, ids=range(len(FIGURES)))
def test_profile_measures_are_what_was_asked(figure):
    p = Picture("profile", figure)
    found = {
        "layback": p.plumb("blade_top", "point_of_shoulder"),
        "upper_arm_angle": -p.plumb("point_of_shoulder", "elbow"),
        "arm_ratio": p.length("point_of_shoulder", "elbow") / p.length("point_of_shoulder", "blade_top"),
        "pastern_slope": p.plumb("wrist", "front_foot"),
        "wrist_set": p.step("elbow", "wrist")[0] - 0.014,
        "pelvis_slope": 90 + p.plumb("hip_bone", "point_of_buttock"),
        "stifle_angle": p.angle("hip_joint", "stifle", "hock_joint"),
        "hock_angle": p.angle("stifle", "hock_joint", "rear_foot"),
        "rear_pastern": p.plumb("hock_joint", "rear_foot"),
        "rear_pastern_length": p.length("hock_joint", "rear_foot"),
        "body_length": p.step("point_of_buttock", "point_of_shoulder")[0],
        "chest_depth": p.step("brisket", "withers")[1],
        "neck_length": p.length("withers", "occiput"),
        "neck_angle": degrees(atan2(*p.step("withers", "occiput")[::-1])),
        "muzzle_ratio": p.length("nose", "stop") / p.length("stop", "occiput"),
    }
    for name, value in found.items():
        assert value == pytest.approx(figure[name], abs=1e-6), name
    assert p.at("withers")[1] - p.at("ground_front")[1] == pytest.approx(1.0, abs=1e-9)
    assert p.at("ground_rear")[1] == pytest.approx(p.at("ground_front")[1], abs=1e-9)


@pytest.mark.parametrize("figure", FIGURES[:10], ids=range(10))
def test_spacings_and_turns_are_what_was_asked(figure):
    front, rear = Picture("front", figure), Picture("rear", figure)
    frame = plan("rear", figure).frame(96)
    rear.height = frame.scale / max(frame.width, frame.height)
    for view, joint, name in (
        (front, "point_of_shoulder", "shoulder_spacing"),
        (front, "elbow", "elbow_spacing"),
        (front, "wrist", "wrist_spacing"),
        (front, "foot", "forefoot_spacing"),
        (rear, "hip", "hip_spacing"),
        (rear, "stifle", "stifle_spacing"),
        (rear, "hock", "hock_spacing"),
        (rear, "rear_foot", "hindfoot_spacing"),
    ):
        assert abs(view.step(f"{joint}_l", f"{joint}_r")[0]) == pytest.approx(figure[name], abs=1e-6), name
    assert front.plumb("foot_l", "toe_l") == pytest.approx(figure["front_toe_turn"], abs=1e-6)
    assert -front.plumb("foot_r", "toe_r") == pytest.approx(figure["front_toe_turn"], abs=1e-6)
    assert rear.plumb("rear_foot_r", "toe_r") == pytest.approx(figure["rear_toe_turn"], abs=1e-6)
    assert -rear.plumb("rear_foot_l", "toe_l") == pytest.approx(figure["rear_toe_turn"], abs=1e-6)


@pytest.mark.parametrize("figure", FIGURES[:4], ids=range(4))
@pytest.mark.parametrize(
    ("name", "parameter", "tolerance"),
    [
        ("layback", "layback", 1e-6),
        ("upper_arm_to_blade", "arm_ratio", 1e-6),
        ("front_pastern", "pastern_slope", 1e-6),
        ("pelvis_slope", "pelvis_slope", 1e-6),
        ("stifle_angle", "stifle_angle", 1e-6),
        ("hock_angle", "hock_angle", 1e-6),
        ("rear_pastern", "rear_pastern", 1e-6),
        ("depth_of_chest", "chest_depth", 1e-6),
        ("muzzle_to_skull", "muzzle_ratio", 1e-6),
    ],
)
def test_the_measures_of_the_house_agree(figure, name, parameter, tolerance):
    points = dict(described("profile", figure).points)
    value = measures.measure(points, name, camera="exact").value
    assert value == pytest.approx(figure[parameter], abs=tolerance)


def test_head_plate_and_profile_agree_on_the_muzzle():
    for figure in FIGURES[:10]:
        plate = Picture("head", figure)
        assert plate.length("nose", "stop") / plate.length("stop", "occiput") == pytest.approx(
            figure["muzzle_ratio"], abs=1e-6
        )


def test_the_tail_heads_where_it_should():
    for figure in FIGURES:
        figure = figure.with_(tail_curl=min(figure["tail_curl"], 1.0))
        line = tail_line(solve(figure), figure)
        step = line[14] - line[13]
        heading = degrees(atan2(-step[0], -step[1]))
        expected = figure["tail_base"] - 4 * figure["tail_curl"]
        assert heading == pytest.approx(expected, abs=1.5)


def test_the_rump_is_as_high_as_asked():
    for rise in (-0.05, 0.04):
        higher = described("profile", ideal().with_(rump_height=rise))
        level = described("profile", ideal())
        scale = level.points["ground_front"][1] - level.points["withers"][1]
        moved = (level.points["hip_bone"][1] - higher.points["hip_bone"][1]) / scale
        assert moved == pytest.approx(rise, abs=1e-6)


def test_ideal_values_lie_within_their_ranges():
    for parameter in PARAMETERS.values():
        assert parameter.low <= parameter.ideal <= parameter.high
