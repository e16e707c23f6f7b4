"""The picture itself carries the measures: read from its pixels, within 1.5° or 1 % of the height."""

from math import atan, degrees

import numpy as np
import pytest
from scipy.ndimage import distance_transform_edt

from courses.figure import COATS, MARKINGS, VIEWS, apply_faults, draw, ideal, preview
from courses.figure.frame import PAPER

WIDTH = 560


class Sheet:
    """A picture read as what is dog and what is paper, in H with y up from the ground."""

    def __init__(self, view, figure, width=WIDTH):
        self.drawing = draw(view, figure, width)
        self.pixels = np.asarray(self.drawing.image, np.int16)
        self.side = max(self.drawing.image.size)
        self.dog = np.abs(self.pixels - np.array(PAPER)).max(axis=2) > 30
        points = self.drawing.points
        ground = points.get("ground_front", points.get("ground_l", (0.0, 0.0)))
        self.ground = ground[1] * self.side
        if "withers" in points:
            self.scale = self.ground - points["withers"][1] * self.side

    def at(self, name):
        """Column and row of a point."""
        x, y = self.drawing.points[name]
        return x * self.side, y * self.side

    def height(self, row):
        return (self.ground - row) / self.scale

    def top(self, column):
        """Height of the uppermost pixel of dog in a column."""
        return self.height(np.flatnonzero(self.dog[:, round(column)])[0])

    def runs(self, row):
        """First and last column of every run of dog in a row."""
        cells = np.concatenate([[False], self.dog[round(row)], [False]])
        return np.flatnonzero(np.diff(cells.astype(int))).reshape(-1, 2)

    def slope(self, near, high, low):
        """Angle from plumb of the middle line of a leg between two heights, forwards positive.

        The middle is where the distance from the edge is greatest, which does not depend on how rows
        cut a leg that stands aslant.
        """
        depth = distance_transform_edt(self.dog)
        rows = np.arange(round(self.ground - high * self.scale), round(self.ground - low * self.scale))
        middles, here = [], near
        for row in rows:
            first, last = min(self.runs(row), key=lambda run, at=here: abs(run.mean() - at))
            run = depth[row, first:last]
            weight = np.maximum(run - run.max() / 2, 0)
            here = first + float(weight @ np.arange(len(run)) / weight.sum()) + 0.5
            middles.append(here)
        return degrees(atan(np.polyfit(rows, middles, 1)[0]))


def test_the_withers_stand_at_the_full_height():
    sheet = Sheet("profile", ideal())
    assert sheet.top(sheet.at("withers")[0]) == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize("pastern", [0.0, 9.0, 17.0])
def test_the_rear_pastern_slopes_as_asked(pastern):
    sheet = Sheet("profile", ideal().with_(rear_pastern=pastern))
    column = sheet.at("hock_joint")[0]
    assert sheet.slope(column, 0.21, 0.12) == pytest.approx(pastern, abs=1.5)


@pytest.mark.parametrize("pastern", [4.0, 16.0, 32.0])
def test_the_front_pastern_slopes_as_asked(pastern):
    figure = ideal().with_(pastern_slope=pastern)
    sheet = Sheet("feet", figure, 420)
    wrist, foot = sheet.at("wrist"), sheet.at("front_foot")
    sheet.scale = np.hypot(wrist[0] - foot[0], wrist[1] - foot[1]) / 0.112
    high, low = sheet.height(wrist[1]), sheet.height(foot[1])
    measured = sheet.slope(
        wrist[0] * 0.5 + foot[0] * 0.5, high - 0.25 * (high - low), low + 0.30 * (high - low)
    )
    assert measured == pytest.approx(pastern, abs=1.5)


@pytest.mark.parametrize("depth", [0.46, 0.515, 0.57])
def test_the_chest_is_as_deep_as_asked(depth):
    sheet = Sheet("profile", ideal().with_(chest_depth=depth))
    column = round(sheet.at("elbow")[0] - 0.11 * sheet.scale)
    above = sheet.dog[: round(sheet.ground - 0.2 * sheet.scale), column]
    assert 1 - sheet.height(np.flatnonzero(above)[-1]) == pytest.approx(depth, abs=0.01)


@pytest.mark.parametrize("roach", [0.0, 0.03, 0.06])
def test_the_back_rises_by_the_roach(roach):
    level, sheet = Sheet("profile", ideal()), Sheet("profile", ideal().with_(roach=roach))
    column = sheet.at("loin_top")[0]
    rise = sheet.top(column) - level.top(column)
    expected = roach * np.exp(-((0.04 / 0.27) ** 2)) - 0.1 * roach * 0.26
    assert rise == pytest.approx(expected, abs=0.01)


def test_the_body_is_longer_by_what_was_asked():
    def reach(figure):
        sheet = Sheet("profile", figure.with_(tail_base=120, tail_curl=1.7))
        row = sheet.at("point_of_buttock")[1] + 0.05 * sheet.scale
        first, last = sheet.runs(row)[0][0], sheet.runs(row)[-1][1]
        return (last - first) / sheet.scale

    longer = reach(ideal().with_(body_length=1.125)) - reach(ideal().with_(body_length=1.025))
    assert longer == pytest.approx(0.100, abs=0.01)


@pytest.mark.parametrize(
    ("joint", "name", "value"),
    [
        ("wrist", "wrist_spacing", 0.17),
        ("wrist", "wrist_spacing", 0.23),
        ("hock", "hock_spacing", 0.12),
        ("hock", "hock_spacing", 0.22),
    ],
)
def test_legs_stand_as_far_apart_as_asked(joint, name, value):
    view = "front" if joint == "wrist" else "rear"
    sheet = Sheet(view, ideal().with_(**{name: value, "tail_length": 0.3}))
    left, right = sheet.at(f"{joint}_l"), sheet.at(f"{joint}_r")
    scale = abs(left[0] - right[0]) / value
    # The legs of the far pair peep out beside the near ones; the near ones are outlined in ink.
    dark = sheet.pixels.sum(axis=2) < 330
    edges = []
    for x, y in (left, right):
        row = dark[round(y)]
        reach = round(0.034 * scale)
        inner = np.flatnonzero(row[round(x) - reach : round(x) + reach + 1]) + round(x) - reach
        edges.append((inner.min() + inner.max()) / 2)
    assert abs(edges[0] - edges[1]) / scale == pytest.approx(value, abs=0.01)


def test_points_of_the_contour_lie_on_the_edge_of_the_picture():
    sheet = Sheet("head", ideal(), 640)
    for name in ("stop", "nose"):
        x, y = (round(c) for c in sheet.at(name))
        around = sheet.dog[y - 4 : y + 5, x - 4 : x + 5]
        assert 0.1 < around.mean() < 0.9, name


@pytest.mark.parametrize("view", VIEWS)
def test_the_ground_of_the_picture_is_the_paper_of_the_page(view):
    image = draw(view, ideal(), 200).image
    assert image.mode == "RGB"
    corners = [image.getpixel((x, y)) for x in (0, image.width - 1) for y in (0, 4)]
    assert corners == [(0xF7, 0xF1, 0xE4)] * 4


def test_the_profile_has_the_shape_of_a_plate():
    image = draw("profile", ideal(), 400).image
    assert image.width == 400
    assert image.width / image.height == pytest.approx(1.41, abs=0.01)


def test_same_figure_same_picture_and_another_seed_another():
    figure = apply_faults({"roached_back": 0.5}, ideal().with_(coat="brindle", markings="chest", seed=4))
    first, again = draw("profile", figure, 240), draw("profile", figure, 240)
    other = draw("profile", figure.with_(seed=5), 240)
    assert first.image.tobytes() == again.image.tobytes()
    assert first.points == again.points == other.points
    assert first.image.tobytes() != other.image.tobytes()


def test_preview_and_plate_agree_on_points_and_outline():
    for view in VIEWS:
        plate, quick = draw(view, ideal(), 160), preview(view, ideal(), 160)
        assert plate.points == quick.points
        assert plate.outline == quick.outline
        assert plate.image.size == quick.image.size


@pytest.mark.parametrize("coat", COATS)
def test_every_coat_and_marking_gives_another_picture(coat):
    seen = {preview("profile", ideal().with_(coat=coat, markings=m), 120).image.tobytes() for m in MARKINGS}
    seen.add(preview("profile", ideal().with_(coat="saddle", white=0.5), 120).image.tobytes())
    assert len(seen) == len(MARKINGS) + 1


def test_a_tail_out_of_the_usual_sheet_is_still_drawn_whole():
    figure = ideal().with_(tail_base=100, tail_curl=0, tail_length=0.82, body_length=1.2)
    drawing = preview("profile", figure, 200)
    assert all(x >= 0 for ring in drawing.outline for x, _ in ring)
