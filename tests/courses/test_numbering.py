"""The numbers that clauses bear."""

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from courses.numbering import free_number, in_order, next_number, sort_key
from courses.validators import check_ladder, check_measure, check_number

NUMBERS = st.from_regex(r"[1-9][0-9]?\.[1-9][0-9]?[a-e]?", fullmatch=True)


@pytest.mark.parametrize(
    ("after", "taken", "following"),
    [
        ("5.1", {"5.1"}, "5.2"),
        ("5.1", {"5.1", "5.2"}, "5.1a"),
        ("5.1", {"5.1", "5.2", "5.1a"}, "5.1b"),
        ("5.1a", {"5.1", "5.2", "5.1a"}, "5.1b"),
        ("5", {"5", "6"}, "5a"),
        ("9", set(), "10"),
        ("iv", {"iv"}, "iva"),
    ],
)
def test_the_number_after(after, taken, following):
    assert next_number(after, taken) == following


@given(NUMBERS, st.sets(NUMBERS, max_size=30))
def test_the_number_after_is_free(after, taken):
    assert next_number(after, taken | {after}) not in taken | {after}


def test_free_numbers_and_order():
    assert free_number("5", {"5.1", "5.3"}) == "5.2"
    assert free_number("", {"1"}) == "2"
    assert in_order(["5.1", "5.1a", "5.2", "5.10", "6"])
    assert not in_order(["5.10", "5.2"])
    assert not in_order(["5.1", "5.1"])
    assert sort_key("5.1A") == sort_key("5.1a")


@pytest.mark.parametrize("number", ["5.1", "12", "iv", "5.1a", "1.2.3.4"])
def test_good_numbers(number):
    check_number(number)


@pytest.mark.parametrize(
    "number", ["", "5.", ".5", "5 1", "§5", "5/1", "1.2.3.4.5", "1234567890123", "5.1\n"]
)
def test_bad_numbers(number):
    with pytest.raises(ValidationError):
        check_number(number)


@pytest.mark.parametrize(
    ("labels", "weights"),
    [
        (["One"], [1]),
        (["One", "Two"], [1]),
        (["One", "Two"], [2, 2]),
        (["One", "Two"], [0, 2]),
        (["One", "Two"], [1, float("inf")]),
        (["One", "Two"], [1, float("nan")]),
        (["One", " one"], [1, 2]),
        (["One", " "], [1, 2]),
        (["One", "T" * 25], [1, 2]),
        ([str(n) for n in range(9)], list(range(1, 10))),
    ],
)
def test_ladders_that_are_refused(labels, weights):
    with pytest.raises(ValidationError):
        check_ladder(labels, weights)


def test_a_ladder_and_measures_that_are_taken():
    check_ladder(["Fault", "Grave fault"], [1, 2.5])
    check_measure("", None, None)
    check_measure("layback", 30, 40)


@pytest.mark.parametrize(
    ("measure", "low", "high"),
    [("", 1, 2), ("layback", None, 2), ("layback", 1, None), ("layback", 2, 2), ("layback", 1, float("inf"))],
)
def test_measures_that_are_refused(measure, low, high):
    with pytest.raises(ValidationError):
        check_measure(measure, low, high)
