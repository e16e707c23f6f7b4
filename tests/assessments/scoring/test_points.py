"""Placed points by the rules, worked by hand and as properties."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring.points import (
    DEFAULT_POINT_RULES,
    KeyPoint,
    PointKey,
    PointRules,
    height_of,
    points_in_words,
    score_points,
    settle,
    whole_within,
)

some = settings(max_examples=60)
HEIGHT = 0.5
KEY = PointKey(
    {
        "withers": KeyPoint("Withers", (0.30, 0.20)),
        "elbow": KeyPoint("Elbow joint", (0.30, 0.45), spread=0.03),
        "tail_tip": KeyPoint("Tip of tail", None),
    },
    HEIGHT,
)
RIGHT = {"withers": (0.30, 0.20), "elbow": (0.30, 0.45), "tail_tip": None}


@pytest.mark.parametrize(
    ("name", "place", "credit", "words"),
    [
        ("withers", (0.30, 0.205), 1, "Withers: 1.0 % of the height away, whole to 1.0 %"),
        (
            "withers",
            (0.32, 0.20),  # 4 % away: 3 of 5 beyond the 1 % that count whole
            0.4,
            "Withers: 4.0 % of the height away; whole to 1.0 %, nothing from 6.0 %",
        ),
        ("withers", (0.30, 0.25), 0, "Withers: 10.0 % of the height away; nothing from 6.0 %"),
        ("elbow", (0.309, 0.462), 1, "Elbow joint: 3.0 % of the height away, whole to 3.0 %"),
        (
            "elbow",
            (0.32, 0.45),  # 4 % away: 1 of 5 beyond the spread of 3 %
            0.8,
            "Elbow joint: 4.0 % of the height away; whole to 3.0 %, nothing from 8.0 %",
        ),
        ("elbow", None, 0, "Elbow joint: said not to be visible; the key has it"),
        ("tail_tip", (0.9, 0.3), 0, "Tip of tail: placed, where the key says that it is not visible"),
        ("tail_tip", None, 1, "Tip of tail: not visible, as the key has it"),
    ],
)
def test_one_point(name, place, credit, words):
    score = score_points(KEY, RIGHT | {name: place})
    assert score.score == pytest.approx((2 + credit) / 3)
    place_in_key = list(KEY.points).index(name)
    assert score.points[place_in_key].credit == pytest.approx(credit, abs=1e-9)
    assert score.lines[place_in_key].text == words
    assert score.lines[place_in_key].points == pytest.approx(credit / 3)


def test_a_point_left_out_earns_nothing_and_is_not_the_same_as_not_visible():
    score = score_points(KEY, {"withers": (0.30, 0.20)})
    assert [each.credit for each in score.points] == [1, 0, 0]
    assert [line.text for line in score.lines[1:]] == ["Elbow joint: not placed", "Tip of tail: not placed"]


def test_all_right_and_blank():
    assert score_points(KEY, RIGHT).score == 1
    blank = score_points(KEY, {})
    assert (blank.score, blank.answered) == (0, False)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: PointRules(least=0), "least is 0; it must be a finite number above 0"),
        (lambda: PointRules(fading=math.inf), "fading is inf"),
        (lambda: PointRules(widest=0.001), "widest is 0.001; it must not lie below least, 0.01"),
        (lambda: KeyPoint("Nose", (0.1, math.nan)), "Nose lies at"),
        (lambda: KeyPoint("Nose", (0.1, 0.1), -0.1), "the spread of Nose is -0.1"),
        (lambda: PointKey({}, 0.5), "asks for no point"),
        (lambda: PointKey(KEY.points, 0), "the height at the withers is 0"),
        (lambda: score_points(KEY, {"nose": (0, 0)}), "nose is not asked: the key has withers, elbow"),
        (lambda: score_points(KEY, {"elbow": (0, math.inf)}), "elbow lies at"),
        (lambda: settle("Nose", [], 0.5), "nobody has placed Nose"),
        (lambda: settle("Nose", [(0, 0)], 0), "the height at the withers is 0"),
        (lambda: height_of((0, 0), []), "a height needs the ground"),
        (lambda: height_of((0, 0), [(1, 1), (1, 1)]), r"both ground points lie at \(1, 1\)"),
    ],
)
def test_refuses(make, message):
    with pytest.raises(ValueError, match=message):
        make()


def test_the_key_is_the_middle_of_those_who_placed_it_and_reaches_to_the_furthest():
    """Three people: medians 0.30 and 0.46, the furthest (0.33, 0.50) five hundredths away, a tenth of 0.5."""
    point = settle("Elbow joint", [(0.30, 0.45), (0.29, 0.46), (0.33, 0.50)], 0.5)
    assert point.place == (0.30, 0.46)
    assert point.spread == pytest.approx(0.1)
    assert whole_within(point, DEFAULT_POINT_RULES) == pytest.approx(0.1)


def test_a_point_is_not_visible_where_more_than_half_say_so():
    assert settle("Tip of tail", [None, None, (0.9, 0.3)], 0.5).place is None
    assert settle("Tip of tail", [None, (0.9, 0.3)], 0.5).place == (0.9, 0.3)
    assert settle("Withers", [(0.3, 0.2)], 0.5).spread == 0


def test_the_height_is_square_to_the_ground():
    assert height_of((0.3, 0.2), [(0.2, 0.7), (0.8, 0.7)]) == pytest.approx(0.5)
    assert height_of((0.3, 0.2), [(0.2, 0.7)]) == pytest.approx(0.5)
    # A 3-4-5 triangle: the ground rises by 3 in 4.
    assert height_of((0, 5), [(0, 0), (4, 3)]) == pytest.approx(4)


def test_the_rules_in_words_give_their_numbers():
    words = " ".join(points_in_words(PointRules(least=0.02, fading=0.04)))
    assert "always within 2 %" in words
    assert "nothing 4 % further out" in words


# ---- properties ------------------------------------------------------------------------------------------

spots = st.tuples(st.floats(0, 1), st.floats(0, 1))
heights = st.floats(0.05, 1)
rules = st.builds(PointRules, least=st.floats(0.001, 0.05), fading=st.floats(0.01, 0.3))


@st.composite
def keys(draw):
    places = draw(st.lists(st.none() | spots, min_size=1, max_size=5))
    points = {f"p{n}": KeyPoint(f"P{n}", at, draw(st.floats(0, 0.05))) for n, at in enumerate(places)}
    return PointKey(points, draw(heights))


@st.composite
def answered(draw):
    key = draw(keys())
    placed = {name: draw(st.none() | spots) for name in key.points if draw(st.booleans())}
    return key, placed


@some
@given(answered(), rules)
def test_the_lines_sum_to_the_score_which_is_a_fraction(answer, by):
    score = score_points(*answer, by)
    assert 0 <= score.score <= 1
    assert math.fsum(line.points for line in score.lines) == pytest.approx(score.score, abs=1e-12)
    assert math.fsum(line.available for line in score.lines) == pytest.approx(1)


@some
@given(answered(), rules, st.floats(0.2, 5), st.floats(-3, 3), st.booleans())
def test_framing_and_facing_do_not_change_the_mark(answer, by, scale, shift, mirror):
    key, placed = answer

    def moved(at):
        return at and ((-1 if mirror else 1) * scale * at[0] + shift, scale * at[1] - shift)

    points = {name: KeyPoint(p.label, moved(p.place), p.spread) for name, p in key.points.items()}
    turned = PointKey(points, key.height * scale)
    again = score_points(turned, {name: moved(at) for name, at in placed.items()}, by)
    assert again.score == pytest.approx(score_points(key, placed, by).score, abs=1e-6)


@some
@given(keys(), rules, spots, st.floats(0, 1))
def test_nearer_never_scores_less(key, by, start, step):
    for name, point in key.points.items():
        if point.place is None:
            continue
        nearer = tuple(a + step * (b - a) for a, b in zip(start, point.place, strict=True))
        assert (
            score_points(key, {name: nearer}, by).score >= score_points(key, {name: start}, by).score - 1e-9
        )


@some
@given(st.lists(spots, min_size=1, max_size=7), heights, rules)
def test_whoever_placed_the_key_has_it_right(places, height, by):
    key = PointKey({"p": settle("P", places, height)}, height)
    assert all(score_points(key, {"p": at}, by).score == 1 for at in places)


@some
@given(st.data(), st.lists(st.none() | spots, min_size=1, max_size=7), heights)
def test_the_order_of_people_does_not_matter(data, places, height):
    assert settle("P", data.draw(st.permutations(places)), height) == settle("P", places, height)


@some
@given(answered(), rules, st.floats(1, 3))
def test_a_wider_spread_never_scores_less(answer, by, factor):
    key, placed = answer
    wider = {n: KeyPoint(p.label, p.place, p.spread * factor) for n, p in key.points.items()}
    assert score_points(PointKey(wider, key.height), placed, by).score >= score_points(key, placed, by).score
