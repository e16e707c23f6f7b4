"""Choosing one or several, by hand and as properties."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring.choice import choice_in_words, earned_by_choosing_all, score_choice

some = settings(max_examples=100)
OPTIONS = {letter: f"option {letter}" for letter in "abcde"}
chosen_sets = st.sets(st.sampled_from("abcde"))


@pytest.mark.parametrize(
    ("chosen", "score", "lines"),
    [
        ("b", 1, ["Chosen, and right: option b"]),
        ("a", 0, ["Chosen, but not right: option a", "Right, but not chosen: option b"]),
        ("", 0, ["Nothing was chosen"]),
    ],
)
def test_one(chosen, score, lines):
    found = score_choice(OPTIONS, "b", chosen)
    assert (found.score, found.answered) == (score, bool(chosen))
    assert [line.text for line in found.lines] == lines


@pytest.mark.parametrize(
    ("chosen", "score"),
    [("ab", 1), ("a", 0.5), ("ac", 0), ("abc", 0.5), ("abcd", 0), ("cde", 0), ("abcde", 0)],
)
def test_several(chosen, score):
    found = score_choice(OPTIONS, "ab", chosen, several=True)
    assert found.score == pytest.approx(score)
    assert (found.right, found.wrong) == (len(set(chosen) & set("ab")), len(set(chosen) - set("ab")))


def test_what_falls_below_zero_is_put_right_by_a_line():
    found = score_choice(OPTIONS, "ab", "cde", several=True)
    assert [(line.text, line.points) for line in found.lines][-2:] == [
        ("Chosen, but not right: option e", -0.5),
        ("The mark does not fall below 0", 1.5),
    ]


@pytest.mark.parametrize(
    ("right", "chosen", "several", "message"),
    [
        ("z", "a", False, "right names 'z'"),
        ("a", "z", False, "chosen names 'z'"),
        ("ab", "a", False, "right has 2 options"),
        ("a", "ab", False, "chosen has 2 options"),
        ("", "a", True, "at least one right option"),
    ],
)
def test_refuses(right, chosen, several, message):
    with pytest.raises(ValueError, match=message):
        score_choice(OPTIONS, right, chosen, several)


def test_the_rules_in_words():
    assert choice_in_words(False) == ("One option is right: it earns everything, any other nothing.",)
    assert "an equal share (33.3 %)" in choice_in_words(True, 3)[0]


@some
@given(chosen_sets.filter(bool), chosen_sets)
def test_lines_sum_to_the_score_and_the_key_alone_scores_one(right, chosen):
    found = score_choice(OPTIONS, right, chosen, several=True)
    assert 0 <= found.score <= 1
    assert sum(line.points for line in found.lines) == pytest.approx(found.score)
    assert (found.score == pytest.approx(1)) is (chosen == right)


@some
@given(chosen_sets.filter(bool), chosen_sets.filter(bool), st.sampled_from("abcde"))
def test_a_right_option_more_never_lowers_and_a_wrong_one_never_raises(right, chosen, option):
    before = score_choice(OPTIONS, right, chosen, several=True).score
    after = score_choice(OPTIONS, right, chosen | {option}, several=True).score
    if option in right:
        assert after >= before - 1e-12
    else:
        assert after <= before + 1e-12


@some
@given(chosen_sets.filter(bool))
def test_choosing_all(right):
    every = score_choice(OPTIONS, right, OPTIONS, several=True).score
    assert every == pytest.approx(earned_by_choosing_all(len(OPTIONS), len(right)))
    assert (every > 0) is (len(right) > len(OPTIONS) / 2)
