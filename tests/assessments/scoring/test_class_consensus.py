"""A placing that a panel agrees on, by hand, as properties, and its agreement beside a reference library."""

import krippendorff
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring.class_consensus import Placing, build_class_consensus

some = settings(max_examples=60, deadline=None)


def panel(*placings):
    return {number: Placing(order, cuts) for number, (order, cuts) in enumerate(placings)}


def test_a_panel_of_one_mind():
    found = build_class_consensus(panel(*[("ABCD", (2, 5, 3))] * 3))
    assert (found.order, found.cuts) == (("A", "B", "C", "D"), (2, 5, 3))
    assert (found.agreement, found.fit) == (1, "examination")


def test_two_are_too_few_for_an_examination_and_one_has_nothing_to_compare():
    assert build_class_consensus(panel(*[("ABC", (2, 5))] * 2)).fit == "practice"
    alone = build_class_consensus(panel(("ABC", (2, 5))))
    assert (alone.agreement, alone.fit) == (None, "practice")


def test_a_pair_on_which_the_panel_is_divided_may_stand_either_way():
    """How far A stands above B: 2, 3, −1, of which the lower median is 2; in the second panel 2, 4, −1, −3: −1,
    so 0. How far B above C: 5, 4, 7; and 5, 4, 7, 9, lower median 5."""
    found = build_class_consensus(panel(("ABC", (2, 5)), ("ABC", (3, 4)), ("BAC", (1, 6))))
    assert (found.order, found.cuts) == (("A", "B", "C"), (2, 5))
    divided = build_class_consensus(panel(("ABC", (2, 5)), ("ABC", (4, 4)), ("BAC", (1, 6)), ("BAC", (3, 6))))
    assert divided.cuts == (0, 5)


def test_a_panel_at_odds_is_fit_for_discussion():
    assert build_class_consensus(panel(("ABC", (1, 1)), ("CBA", (1, 1)), ("BAC", (1, 1)))).fit == "discussion"


@pytest.mark.parametrize(
    ("placings", "message"),
    [
        ([], "empty"),
        ([("AB", (1,)), ("AC", (1,))], "must place the same exhibits"),
        ([("AAB", (1, 1))], "once each"),
        ([("ABC", (1,))], "one cut less"),
        ([("ABC", (1, -1))], "not below 0"),
    ],
)
def test_refuses(placings, message):
    with pytest.raises(ValueError, match=message):
        build_class_consensus(panel(*placings))


placings = st.lists(
    st.tuples(st.permutations("ABCDE"), st.tuples(*[st.integers(0, 9)] * 4)), min_size=2, max_size=6
)


@some
@given(placings)
def test_agreement_is_the_reference_librarys(given_placings):
    found = build_class_consensus(panel(*given_placings))
    places = np.array([[order.index(exhibit) for exhibit in "ABCDE"] for order, _ in given_placings], float)
    expected = krippendorff.alpha(reliability_data=places, level_of_measurement="ordinal")
    assert found.agreement == pytest.approx(expected)


@some
@given(placings)
def test_cuts_are_never_negative_and_names_play_no_part(given_placings):
    found = build_class_consensus(panel(*given_placings))
    assert min(found.cuts) >= 0
    renamed = [(tuple(f"dog {each}" for each in order), cuts) for order, cuts in given_placings]
    again = build_class_consensus(panel(*renamed))
    assert again.order == tuple(f"dog {each}" for each in found.order)
    assert again.cuts == found.cuts
