"""Where items and marks stand in their drawings."""

import math

import pytest

from assessments.evidence.paper import ItemFigures
from assessments.evidence.plots import NARROW, WIDE, WIDE_MARKS, band_counts, item_plot, marks_plot


def item(facility, discrimination, flags=()):
    return ItemFigures(1, 40, facility, discrimination, None, None, tuple(flags))


def test_facility_runs_across_and_discrimination_up():
    plot = item_plot([("1", item(0.0, -0.2)), ("2", item(1.0, 0.6))], WIDE, 15)
    low, high = sorted(plot.dots, key=lambda dot: dot.number)
    assert (low.x, low.y) == (WIDE.left, WIDE.bottom)
    assert (high.x, high.y) == (WIDE.right, WIDE.top)
    assert [tick.text for tick in plot.up] == ["−0.2", "0", "0.2", "0.4", "0.6"]
    assert plot.across[-1].text == "100 %"
    assert plot.sound_left < plot.sound_right
    assert plot.sound_bottom < plot.zero


@pytest.mark.parametrize(("value", "ends"), [(-0.55, ("−0.6", "0.6")), (0.95, ("−0.2", "1.0"))])
def test_the_scale_reaches_as_far_as_the_items(value, ends):
    plot = item_plot([("1", item(0.5, value))], WIDE, 15)
    assert (plot.up[0].text, plot.up[-1].text) == ends
    assert WIDE.top <= plot.dots[0].y <= WIDE.bottom


@pytest.mark.parametrize(("frame", "radius"), [(WIDE, 15), (NARROW, 12)])
def test_no_circle_covers_another(frame, radius):
    plot = item_plot([(str(n), item(0.7 + n / 500, 0.3)) for n in range(14)], frame, radius)
    spots = [(dot.x, dot.y) for dot in plot.dots]
    apart = [math.dist(a, b) for i, a in enumerate(spots) for b in spots[:i]]
    assert min(apart) >= 2 * radius
    assert any(dot.moved for dot in plot.dots)


def test_among_very_many_items_only_those_to_look_at_are_numbered():
    items = [(str(n), item(0.5, 0.3)) for n in range(50)] + [("51", item(0.99, 0.05, ["easy"]))]
    assert [dot.number for dot in item_plot(items, WIDE, 15).dots if dot.number] == ["51"]


def test_an_item_without_discrimination_is_not_drawn():
    assert item_plot([("1", item(0.5, None))], WIDE, 15).dots == []


def test_a_band_holds_its_lower_limit_and_the_last_one_a_hundred():
    assert band_counts([0, 0.0999, 0.1, 0.3, 0.7, 0.95, 1.0]) == [2, 1, 0, 1, 0, 0, 0, 1, 0, 2]


def test_the_tallest_bar_has_room_for_its_number_and_all_stand_on_the_line():
    plot = marks_plot([0.05, 0.06, 0.95], 0.35, WIDE_MARKS)
    assert {round(bar.y + bar.height, 1) for bar in plot.bars} == {WIDE_MARKS.bottom}
    assert min(bar.y for bar in plot.bars) == WIDE_MARKS.top + 18
    assert plot.bars[-1].height == pytest.approx(plot.bars[0].height / 2, abs=0.1)
    assert plot.mean == pytest.approx(WIDE_MARKS.left + 0.35 * (WIDE_MARKS.right - WIDE_MARKS.left), abs=0.05)
