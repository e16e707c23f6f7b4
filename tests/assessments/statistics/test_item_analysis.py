import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from assessments.statistics.item_analysis import ROWS, analyse

NaN = float("nan")


def guttman(people, items):
    """The better the person, the harder the item they still answer: all items agree on who is good."""
    return (np.arange(people)[:, None] >= np.linspace(0, people, items + 2)[1:-1]).astype(float)


def test_an_item_that_the_good_miss_is_flagged():
    scores = np.column_stack([guttman(40, 5), 1 - guttman(40, 1)])
    found = analyse(scores)
    assert found.discrimination[-1] < 0
    assert found.upper_lower[-1] == -1
    assert found.flags == ((), (), (), (), ("hard",), ("negative",))
    assert found.alpha_without[-1] > found.alpha


@pytest.mark.parametrize(
    ("right", "flags"),
    [(40, ("easy",)), (39, ("easy",)), (38, ()), (8, ()), (7, ("hard",)), (0, ("hard",))],
)
def test_facility_flags_begin_beyond_their_limits(right, flags):
    item = np.arange(40) >= 40 - right
    assert analyse(np.column_stack([item, guttman(40, 6)])).flags[0] == flags


def test_an_item_that_says_next_to_nothing_is_weak():
    item = np.tile([0, 1], 20)
    found = analyse(np.column_stack([item, guttman(40, 6)]))
    assert 0 <= found.discrimination[0] < 0.15
    assert found.flags[0] == ("weak",)


@pytest.mark.parametrize("constant", [0.0, 0.1, 1.0])
def test_a_constant_item_has_no_discrimination(constant):
    found = analyse(np.column_stack([np.full(40, constant), guttman(40, 5)]))
    assert np.isnan(found.discrimination[0])
    assert not np.isnan(found.discrimination[1:]).any()
    assert found.upper_lower[0] == pytest.approx(0, abs=1e-12)


def test_an_item_constant_among_those_who_were_given_it():
    scores = guttman(40, 5)
    scores[:30, 0] = NaN
    found = analyse(scores)
    assert np.isnan(found.discrimination[0])
    assert found.facility[0] == 1
    assert (found.presented[0], bool(found.item_enough[0]), bool(found.item_enough[1])) == (10, False, True)


def test_everybody_alike_leaves_reliability_unknown():
    found = analyse(np.full((5, 4), 0.1))
    assert found.sd == pytest.approx(0, abs=1e-15)
    assert np.isnan([found.alpha, found.sem]).all()
    assert np.isnan(found.alpha_without).all()
    assert np.isnan(found.discrimination).all()


def test_two_people_and_two_items_are_the_least():
    found = analyse([[0, 0], [1, 1]])
    assert (found.alpha, found.sem) == (1, 0)
    assert found.discrimination == pytest.approx([1, 1])
    assert np.isnan(found.alpha_without).all()
    assert (found.people, found.enough) == (2, False)


def test_items_that_cancel_out_leave_reliability_unknown():
    assert np.isnan(analyse([[0, 1], [1, 0], [0.5, 0.5]]).alpha)


def test_items_that_no_two_people_share_leave_alpha_unknown_and_the_rest_known():
    found = analyse([[1, NaN, 1], [0, NaN, 0], [NaN, 1, 1], [NaN, 0, 0]])
    assert np.isnan([found.alpha, found.sem]).all()
    assert found.facility == pytest.approx([0.5, 0.5, 0.5])
    assert found.discrimination == pytest.approx([1, 1, 1])


def test_an_item_presented_to_nobody_stands_as_unknown_and_hurts_no_other():
    scores = guttman(40, 5)
    found, without = analyse(np.column_stack([scores, np.full(40, NaN)])), analyse(scores)
    assert np.isnan([found.facility[5], found.discrimination[5], found.upper_lower[5]]).all()
    assert (found.presented[5], found.flags[5]) == (0, ())
    assert found.alpha == without.alpha
    assert found.sem == without.sem


def test_an_item_given_to_one_person_is_left_out_of_alpha():
    scores = guttman(40, 5)
    single = np.full(40, NaN)
    single[7] = 1
    found = analyse(np.column_stack([scores, single]))
    assert found.alpha == analyse(scores).alpha
    assert np.isnan([found.alpha_without[5], found.discrimination[5]]).all()


def test_people_without_a_score_count_nowhere():
    scores = guttman(40, 5)
    with_blanks = np.insert(scores, [0, 20, 40], NaN, axis=0)
    found, without = analyse(with_blanks), analyse(scores)
    assert found.people == 40
    for figure in ("facility", "discrimination", "upper_lower", "alpha", "alpha_without", "sd", "sem"):
        assert getattr(found, figure) == pytest.approx(getattr(without, figure), abs=1e-12)


def test_a_person_given_one_item_has_no_other_to_set_it_against():
    scores = guttman(40, 5)
    scores[5, 1:] = NaN
    scores[5, 0] = 1
    without = np.delete(scores, 5, axis=0)
    assert analyse(scores).discrimination[0] == pytest.approx(analyse(without).discrimination[0])


def test_equal_means_keep_the_order_given():
    # Four people alike in mean: the outer groups of one are the first and the last.
    found = analyse([[1, 0], [0, 1], [1, 0], [0, 1]])
    assert found.upper_lower.tolist() == [1, -1]
    # And where there are many, as Python's own sorting has them.
    scores = np.random.default_rng(4).integers(0, 2, size=(300, 4))
    order = sorted(range(300), key=lambda person: -scores[person].sum())
    expected = scores[order[:81]].mean(axis=0) - scores[order[-81:]].mean(axis=0)
    assert analyse(scores).upper_lower == pytest.approx(expected, abs=1e-12)


def test_alpha_of_the_paper_without_an_item_is_alpha_of_the_rest():
    chance = np.random.default_rng(3)
    scores = np.clip(guttman(60, 8) * 0.6 + chance.random((60, 8)) * 0.4, 0, 1)
    scores[chance.random(scores.shape) < 0.2] = NaN
    found = analyse(scores)
    expected = [analyse(np.delete(scores, item, axis=1)).alpha for item in range(8)]
    assert found.alpha_without == pytest.approx(expected, abs=1e-12)


def test_more_people_than_are_taken_at_a_time():
    scores = np.random.default_rng(5).random((2 * ROWS + 7, 4))
    scores[::3, 1] = NaN
    twice = analyse(np.vstack([scores, scores]))
    once = analyse(scores)
    assert twice.facility == pytest.approx(once.facility)
    assert twice.discrimination == pytest.approx(once.discrimination)
    assert twice.alpha == pytest.approx(once.alpha, abs=1e-3)


def test_what_was_given_is_left_as_it_was():
    scores = guttman(40, 5)
    scores[3, 2] = NaN
    before = scores.copy()
    analyse(scores)
    np.testing.assert_array_equal(scores, before)


@given(
    arrays(float, st.tuples(st.integers(2, 8), st.integers(2, 6)), elements=st.sampled_from([0, 0.5, 1, NaN]))
)
def test_figures_keep_their_bounds_or_say_that_they_are_unknown(scores):
    people = (~np.isnan(scores)).any(axis=1).sum()
    items = (~np.isnan(scores)).any(axis=0).sum()
    if people < 2 or items < 2:
        with pytest.raises(ValueError, match="at least 2 of each"):
            analyse(scores)
        return
    found = analyse(scores)

    def within(values, low, high):
        known = values[~np.isnan(values)]
        return ((known >= low - 1e-9) & (known <= high + 1e-9)).all()

    assert within(found.facility, 0, 1)
    assert within(found.discrimination, -1, 1)
    assert within(found.upper_lower, -1, 1)
    assert np.isnan(found.sem) == (not found.alpha <= 1)


@pytest.mark.parametrize(
    ("scores", "message"),
    [
        ([[0, 1]], "1 people and 2 items with scores: at least 2 of each"),
        ([[0], [1]], "2 people and 1 items"),
        ([], "1 dimensions"),
        (np.empty((0, 0)), "0 people and 0 items"),
        ([0, 1], "1 dimensions"),
        ([[0, 1], [0, 1.5]], r"score 1.5: must be from 0 to 1"),
        ([[0, 1], [0, -0.5]], "score -0.5"),
        ([[0, 1], [0, np.inf]], "score inf"),
        ([[NaN, NaN], [NaN, NaN]], "0 people and 0 items"),
        ([[0, 1], [NaN, NaN]], "1 people"),
        ([[0, NaN], [1, NaN]], "2 people and 1 items"),
    ],
)
def test_refuses(scores, message):
    with pytest.raises(ValueError, match=message):
        analyse(scores)
