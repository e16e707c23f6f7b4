"""Outlines as a browser sends them: taken whole, or refused by the rule that they break."""

import json
import math

import pytest
import shapely
from hypothesis import example, given
from hypothesis import strategies as st

from shared.geometry.outlines import Canvas, OutlineRefused, as_drawn, read_outlines

WIDE = Canvas(1600, 1200, most=3, corners=12)
SQUARE = [[0.1, 0.1], [0.3, 0.1], [0.3, 0.3], [0.1, 0.3]]


@pytest.mark.parametrize(
    ("sent", "code", "outline"),
    [
        ("region", "unreadable", 0),
        ({"0": SQUARE}, "unreadable", 0),
        ([SQUARE, "square"], "unreadable", 1),
        ([[[0.1, 0.1], [0.3, 0.1], [0.3]]], "unreadable", 0),
        ([[[0.1, 0.1], [0.3, 0.1], [0.3, "0.3"]]], "unreadable", 0),
        ([[[0.1, 0.1], [0.3, 0.1], [0.3, True]]], "unreadable", 0),
        ([[[0.1, 0.1], [0.3, 0.1], [0.3, math.nan]]], "unreadable", 0),
        ([[[0.1, 0.1], [0.3, 0.1], [0.3, 10**400]]], "unreadable", 0),
        ([SQUARE] * 4, "many", 3),
        ([[[0.01 * i, 0.001 * i * i] for i in range(13)]], "corners", 0),
        ([[]], "few", 0),
        ([[[0.1, 0.1], [0.3, 0.1], [0.1, 0.1]]], "few", 0),
        ([SQUARE, [[0.1, 0.1], [0.3, 0.1], [0.3, 0.76]]], "outside", 1),
        ([[[0.1, 0.1], [1.001, 0.1], [0.3, 0.3]]], "outside", 0),
        ([[[0.1, -0.01], [0.3, 0.1], [0.3, 0.3]]], "outside", 0),
        ([[[0.1, 0.1], [0.3, 0.3], [0.3, 0.1], [0.1, 0.3]]], "crossing", 0),
        ([[[0.1, 0.1], [0.2, 0.2], [0.3, 0.3]]], "crossing", 0),
        ([[[0.1, 0.1], [0.3, 0.1], [0.3, 0.3], [0.2, 0.1]]], "crossing", 0),
    ],
)
def test_what_cannot_be_used_is_refused_by_its_rule(sent, code, outline):
    with pytest.raises(OutlineRefused) as caught:
        read_outlines(sent, WIDE)
    assert (caught.value.code, caught.value.outline) == (code, outline)


def test_what_can_be_used_is_kept_as_it_is():
    hocks = [SQUARE, [[0.5, 0.5], [0.7, 0.5], [0.6, 0.75]]]
    assert read_outlines(hocks, WIDE) == hocks
    assert read_outlines([], WIDE) == []
    assert read_outlines([[*SQUARE, SQUARE[0]]], WIDE) == [SQUARE]


def test_the_edge_belongs_to_the_picture_whichever_way_it_stands():
    whole = [[[0, 0], [1, 0], [1, 0.75], [0, 0.75]]]
    assert read_outlines(whole, WIDE) == whole
    tall = [[[0, 0], [0.75, 0], [0.75, 1], [0, 1]]]
    assert read_outlines(tall, Canvas(1200, 1600, most=1, corners=4)) == tall
    with pytest.raises(OutlineRefused, match="outside"):
        read_outlines(whole, Canvas(1200, 1600, most=1, corners=4))


corner = st.tuples(st.floats(-0.2, 1.2), st.floats(-0.2, 1.2)).map(list)


@given(sent=st.lists(st.lists(corner, max_size=8), max_size=4))
@example(sent=[[[0.1, 0.1], [0.3, 0.1], [0.2, 0.1 + 2e-6]]])
def test_what_is_taken_can_always_be_scored(sent):
    """Shapely, from outside the project, finds each outline simple, solid and within the picture."""
    try:
        outlines = read_outlines(sent, WIDE)
    except OutlineRefused:
        return
    assert len(outlines) == len(sent)
    for outline in outlines:
        drawn = shapely.Polygon(outline)
        assert drawn.is_valid
        assert drawn.area > 0
        assert shapely.box(0, 0, 1, 0.75).covers(drawn)
    assert read_outlines(json.loads(json.dumps(outlines)), WIDE) == outlines


@given(
    centre=st.tuples(st.floats(0.2, 0.8), st.floats(0.2, 0.55)),
    radii=st.lists(st.floats(0.02, 0.19), min_size=3, max_size=12),
)
def test_every_star_round_a_point_is_taken(centre, radii):
    """Corners at rising angles round a point never cross: common geometry."""
    turns = [2 * math.pi * i / len(radii) for i in range(len(radii))]
    star = [
        [centre[0] + r * math.cos(turn), centre[1] + r * math.sin(turn)]
        for r, turn in zip(radii, turns, strict=True)
    ]
    [kept] = read_outlines([star], WIDE)
    assert kept == [pytest.approx(spot, abs=1e-5) for spot in star]


class TestComputedGround:
    """What is computed is kept as what a person could have drawn."""

    def test_a_plain_part_stays_as_it_is(self):
        part = ((0.1, 0.1), (0.3, 0.1), (0.2, 0.3))
        assert as_drawn([part], WIDE) == [[[0.1, 0.1], [0.3, 0.1], [0.2, 0.3]]]

    def test_the_largest_parts_are_kept(self):
        parts = [
            ((x, 0.1), (x + 0.02 * n, 0.1), (x, 0.2)) for n, x in enumerate((0.1, 0.2, 0.3, 0.4, 0.5), 1)
        ]
        few = Canvas(1600, 1200, most=2, corners=10)
        assert [outline[0][0] for outline in as_drawn(parts, few)] == [0.5, 0.4]

    @pytest.mark.parametrize("corners", [4, 12, 60])
    def test_too_many_corners_are_smoothed_into_what_is_taken(self, corners):
        turns = [2 * math.pi * i / 400 for i in range(400)]
        round_part = tuple((0.5 + 0.2 * math.cos(t), 0.4 + 0.2 * math.sin(t)) for t in turns)
        canvas = Canvas(1600, 1200, most=3, corners=corners)
        [outline] = as_drawn([round_part], canvas)
        assert len(outline) <= corners
        assert read_outlines([outline], canvas) == [outline]
        assert shapely.Polygon(outline).area == pytest.approx(math.pi * 0.04, rel=0.3)

    def test_dust_is_left_out(self):
        speck = ((0.1, 0.1), (0.1 + 1e-7, 0.1), (0.1, 0.1 + 1e-7))
        assert as_drawn([speck], WIDE) == []
