"""Contours stay clean over the whole range of the parameters: they do not cross themselves and do not kink."""

import numpy as np
import pytest
from shapely.geometry import Polygon

from courses.figure import apply_faults, ideal
from courses.figure.curves import centripetal
from courses.figure.drawing import plan
from courses.figure.presets import PRESETS

from .figures import random_settings

FIGURES = list(random_settings(20260702, 40))
# Between one sample and the next; a span has ten samples. Clefts between toes and the crease of a tipped
# ear are corners in life too.
SHARPEST = 60.0
CORNERED = ("foot_front", "leg_l", "leg_r", "ear_flap", "far_ear_flap", "ear_l_flap", "ear_r_flap")


def turns(contour):
    """Change of direction at each sample whose ink shows, in degrees."""
    points = np.vstack([contour.points, contour.points[:2]])
    heading = np.unwrap(np.arctan2(*np.diff(points, axis=0).T[::-1]))
    turn = np.degrees(np.abs(np.diff(heading)))
    return turn[np.roll(contour.ink, -1) > 0.05]


@pytest.mark.parametrize("view", ["profile", "front", "rear", "feet"])
def test_no_contour_crosses_itself_or_kinks(view):
    for figure in FIGURES:
        for layer in plan(view, figure).layers:
            for name, contour in layer.shapes.items():
                assert Polygon(contour.points).is_valid, (name, figure)
                if name not in CORNERED or (view == "rear" and name.startswith("leg")):
                    assert turns(contour).max(initial=0) < SHARPEST, (name, figure)


@pytest.mark.parametrize("key", PRESETS)
def test_every_fault_keeps_the_legs_and_the_trunk_smooth(key):
    figure = apply_faults({key: 1.0})
    for layer in plan("profile", figure).layers:
        for name in ("trunk", "foreleg", "hindleg", "far_foreleg", "far_hindleg", "head"):
            if name in layer.shapes:
                assert turns(layer.shapes[name]).max() < 32


def test_the_spline_passes_through_its_points():
    rng = np.random.default_rng(5)
    points = rng.normal(size=(9, 2))
    curve = centripetal(points, np.ones(9))
    assert curve.points[::10] == pytest.approx(points)


def test_the_spline_of_points_on_a_line_stays_on_it():
    points = np.stack([np.array([0.0, 0.1, 0.9, 1.0]), np.zeros(4)], axis=1)
    curve = centripetal(points, np.ones(4), closed=False)
    assert np.abs(curve.points[:, 1]).max() < 1e-12
    assert np.all(np.diff(curve.points[:, 0]) > 0)


def test_far_legs_are_no_copies_of_the_near_ones():
    layers = {layer.name: layer for layer in plan("profile", ideal()).layers}
    for far, near in (("far_foreleg", "foreleg"), ("far_hindleg", "hindleg")):
        a, b = layers[far].shapes[far].points, layers["near"].shapes[near].points
        shift = (a - a.mean(axis=0)) - (b - b.mean(axis=0))
        assert np.abs(shift).max() > 0.015
