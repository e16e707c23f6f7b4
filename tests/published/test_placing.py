"""Placing a class by cuts, against the examples that handbooks print."""

from itertools import permutations

import pytest

from assessments.scoring.placing import check_cuts, rank_agreement, score_placing

NEBRASKA = "1234", [2, 5, 3]


@pytest.mark.parametrize(("placing", "lost", "points"), [("1234", 0, 50), ("2134", 2, 48), ("2143", 5, 45)])
def test_nebraska(placing, lost, points):
    """B. A. Reiling, University of Nebraska-Lincoln Extension, NebGuide G2092, How to Score Placing Classes
    For Livestock Judging, 2011; the last two also in his How to Score Livestock Judging Cards."""
    score = score_placing(*NEBRASKA, placing)
    assert (score.lost, score.points) == (lost, points)


def test_middle_pair_switched():
    """Learn How to Judge, Reasons and Scores (author and year not shown): of the six comparisons only second
    over third is wrong, which costs the middle cut."""
    score = score_placing("4321", [2, 5, 3], "4231")
    assert (score.lost, score.points) == (5, 45)
    assert score.reversed_pairs == (("3", "2"),)


# Derived from the six-comparison rule; 1234, 2134 and 2143 are printed in NebGuide G2092.
ALL_PLACINGS = {
    "1234": 50, "1243": 47, "1324": 45, "1342": 37, "1423": 39, "1432": 34,
    "2134": 48, "2143": 45, "2314": 41, "2341": 31, "2413": 35, "2431": 28,
    "3124": 38, "3142": 30, "3214": 36, "3241": 26, "3412": 20, "3421": 18,
    "4123": 29, "4132": 24, "4213": 27, "4231": 20, "4312": 17, "4321": 15,
}  # fmt: skip


def test_all_24_placings():
    every = ["".join(order) for order in permutations("1234")]
    assert {placing: score_placing(*NEBRASKA, placing).points for placing in every} == ALL_PLACINGS


def test_a_repeated_animal_is_refused():
    """On paper a card with a repeated letter scores 0, the form on a screen refuses it (Hoard's Dairyman, How
    do all those Cow Judging Contest entries get tabulated?, 1 April 2016). Here it is refused."""
    with pytest.raises(ValueError, match="names an exhibit twice"):
        score_placing("ABCD", [2, 5, 3], "ABCB")


def test_limits_of_cuts():
    """No cut above 8, no sum above 15: NebGuide G2092; the sum also in University of Florida 4H334."""
    assert check_cuts([2, 5, 3]) == []
    assert check_cuts([1, 2, 9]) == ["A cut of 9 is above 8."]
    assert check_cuts([6, 3, 7]) == [
        "The cuts sum to 16, above 15.",
        "A full reversal loses 51 of 50 points, so it would fall below 0.",
    ]


def test_middle_cut_keeps_a_full_reversal_above_zero():
    """With a sum of 15 the middle cut is at most 5, with 14 at most 8, else a negative score is possible
    (Colorado State University Extension 1.619; Maryland, Scoring of Contests)."""
    assert check_cuts([5, 5, 5]) == []
    assert check_cuts([5, 6, 4]) == ["A full reversal loses 51 of 50 points, so it would fall below 0."]
    assert check_cuts([3, 8, 3]) == []


def test_cuts_that_pass_never_fall_below_zero():
    """Over every whole-number triple, the limits together keep all placings at 0 or above."""
    for cuts in [(a, b, c) for a in range(9) for b in range(9) for c in range(9)]:
        full_reversal = 3 * sum(cuts) + cuts[1]
        assert score_placing("1234", cuts, "4321").lost == full_reversal
        if not check_cuts(cuts):
            assert full_reversal <= 50


@pytest.mark.parametrize(
    ("first", "second", "tau"),
    [
        ([5, 2, 1, 3, 6, 4, 7], [5, 2, 6, 3, 1, 7, 4], -0.1428571429),
        (range(10), [0, 2, 1, 3, 4, 5, 6, 7, 8, 9], 0.9555555556),
    ],
)
def test_tau_without_ties(first, second, tau):
    """SciPy test suite, scipy.stats.kendalltau, which gives R's cor.test as its reference."""
    exhibits = range(len(first))
    official = sorted(exhibits, key=lambda exhibit: first[exhibit])
    placing = sorted(exhibits, key=lambda exhibit: second[exhibit])
    assert rank_agreement(official, placing) == pytest.approx(tau, abs=1e-9)
