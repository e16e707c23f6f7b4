"""Marks by a rubric: a weighted mean, its lines, and what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.scoring.rubric import RubricPart, score_rubric

FIVE = ("nothing", "little", "half", "most", "all")


def part(name="Accuracy", weight=1.0, levels=FIVE):
    return RubricPart(name, weight, levels)


def test_the_example_worked_by_hand():
    found = score_rubric([part(weight=3), part("Language", 1)], [3, 2])
    assert found.score == 0.6875
    assert [(line.text, line.points, line.available) for line in found.lines] == [
        ("Accuracy: 3 of 4. most", 0.5625, 0.75),
        ("Language: 2 of 4. half", 0.125, 0.25),
    ]


def test_nothing_and_everything():
    parts = [part(weight=0.3), part("Completeness", 0.7, FIVE[:3])]
    assert score_rubric(parts, [0, 0]).score == 0
    assert score_rubric(parts, [4, 2]).score == pytest.approx(1, abs=1e-12)


@given(st.lists(st.tuples(st.floats(0.01, 100), st.integers(0, 4)), min_size=1, max_size=8))
def test_lines_sum_to_a_fraction(given):
    parts = [part(f"Part {n}", weight) for n, (weight, _level) in enumerate(given)]
    found = score_rubric(parts, [level for _weight, level in given])
    assert 0 <= found.score <= 1
    assert sum(line.points for line in found.lines) == pytest.approx(found.score, abs=1e-9)
    assert sum(line.available for line in found.lines) == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize(
    ("parts", "reached", "said"),
    [
        ([], [], "at least one part"),
        ([part()], [], "every part needs one"),
        ([part()], [5], "from 0 to 4, not 5"),
        ([part()], [-1], "from 0 to 4, not -1"),
        ([part()], [True], "not True"),
    ],
)
def test_what_cannot_be_marked_is_refused(parts, reached, said):
    with pytest.raises(ValueError, match=said):
        score_rubric(parts, reached)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"name": " "}, "has a name"),
        ({"levels": ("only",)}, "at least 2"),
        ({"weight": 0}, "above 0"),
        ({"weight": float("nan")}, "finite"),
    ],
)
def test_a_part_that_says_nothing_is_refused(fields, said):
    with pytest.raises(ValueError, match=said):
        part(**fields)
