"""Which clause became which, and in which words."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.prose.comparing import ADDED, REMOVED, SAME, Change, Worded, match_clauses, word_changes

PROSE = st.text(alphabet=st.sampled_from("ab c.,’-é\n*"), max_size=60)


def pairs(old, new):
    return [(was and was.number, now and now.number) for was, now in match_clauses(old, new)]


def clauses(*rows, first=1):
    return [Worded(i, number, text) for i, (number, text) in enumerate(rows, first)]


@given(PROSE, PROSE)
def test_what_stays_and_goes_is_the_old_wording_and_what_stays_and_comes_the_new(old, new):
    changes = word_changes(old, new)
    assert "".join(change.text for change in changes if change.kind != ADDED) == old
    assert "".join(change.text for change in changes if change.kind != REMOVED) == new
    assert all(change.text for change in changes)


@given(PROSE)
def test_equal_wordings_have_no_change(text):
    assert word_changes(text, text) == ([Change(SAME, text)] if text else [])


def test_a_changed_word():
    assert word_changes("A steep blade is a moderate fault.", "A steep blade is a serious fault.") == [
        Change(SAME, "A steep blade is a "),
        Change(REMOVED, "moderate"),
        Change(ADDED, "serious"),
        Change(SAME, " fault."),
    ]


def test_words_side_by_side_are_one_change():
    assert word_changes("Tail of good length.", "Tail reaching the hock.") == [
        Change(SAME, "Tail "),
        Change(REMOVED, "of good length"),
        Change(ADDED, "reaching the hock"),
        Change(SAME, "."),
    ]


def test_an_inserted_clause_shifts_numbers_but_not_partners():
    old = clauses(("5.1", "The blade slopes."), ("5.2", "The arm is long."), ("5.3", "Elbows lie close."))
    new = clauses(
        ("5.1", "The blade slopes."),
        ("5.2", "Withers are long and high."),
        ("5.3", "The arm is long."),
        ("5.4", "Elbows lie close."),
        first=11,
    )
    assert pairs(old, new) == [("5.1", "5.1"), (None, "5.2"), ("5.2", "5.3"), ("5.3", "5.4")]


def test_a_reworded_clause_keeps_its_number_and_a_foreign_one_does_not():
    old = clauses(("7.1", "Stifle well turned."), ("7.2", "Hocks low."))
    new = clauses(("7.1", "The stifle is moderately turned."), ("7.2", "Docking is forbidden."), first=11)
    assert pairs(old, new) == [("7.1", "7.1"), ("7.2", None), (None, "7.2")]


def test_a_copy_is_known_by_its_origin_whatever_became_of_it():
    old = clauses(("1.1", "Active."), ("1.2", "Bold."))
    new = [Worded(11, "1.1", "Bold.", origin=1), Worded(12, "3.4", "Calm and kind.", origin=2)]
    assert pairs(old, new) == [("1.1", "1.1"), ("1.2", "3.4")]


def test_a_moved_and_slightly_reworded_clause_is_found_by_its_words():
    old = clauses(("2.1", "The skull is flat and broad between the ears."), ("9.1", "The coat is harsh."))
    new = clauses(("4.6", "The skull is flat and rather broad between the ears."), first=11)
    assert pairs(old, new) == [("2.1", "4.6"), ("9.1", None)]


@pytest.mark.parametrize("seed", range(20))
def test_every_clause_appears_once(seed):
    chance = random.Random(seed)
    words = ["blade", "arm", "elbow", "slopes", "long", "close", "flat", "broad"]
    rows = [(f"1.{i}", " ".join(chance.choices(words, k=4))) for i in range(24)]
    old = clauses(*chance.sample(rows, chance.randrange(12)))
    new = clauses(*chance.sample(rows, chance.randrange(12)), first=101)
    matched = match_clauses(old, new)
    assert sorted(was.id for was, _now in matched if was) == [clause.id for clause in old]
    assert [now.id for _was, now in matched if now] == [clause.id for clause in new]
    assert all(was or now for was, now in matched)
