"""The weighing of a fault that is shown, by hand and as properties."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring import (
    DEFAULT_LADDER,
    FaultKey,
    FaultMark,
    KeyEntry,
    MarkingRules,
    SeverityLadder,
    score_fault_marks,
)
from assessments.scoring.shown_fault import WeighingRules, score_shown_fault, weighing_in_words

from . import drawn

some = settings(max_examples=60)
MINOR, MODERATE, SERIOUS, DISQUALIFYING = range(4)


@pytest.mark.parametrize(
    ("key", "given_level", "score", "lines"),
    [
        (SERIOUS, SERIOUS, 1, ["Weighed: Serious, as the key has it"]),
        (SERIOUS, MODERATE, 2 / 3, ["Weighed: Moderate, one level light"]),
        (MINOR, SERIOUS, 1 / 3, ["Weighed: Serious, two levels heavy"]),
        (
            SERIOUS,
            DISQUALIFYING,
            0.5,
            [
                "Weighed: Disqualifying, one level heavy",
                "Called Disqualifying what the key does not: at most 50 of 100",
            ],
        ),
        (
            DISQUALIFYING,
            SERIOUS,
            0.5,
            [
                "Weighed: Serious, one level light",
                "A fault that is Disqualifying was not weighed so: at most 50 of 100",
            ],
        ),
        (DISQUALIFYING, MINOR, 0, ["Weighed: Minor, three levels light"]),
        (SERIOUS, None, 0, ["Not weighed"]),
    ],
)
def test_by_hand(key, given_level, score, lines):
    found = score_shown_fault(key, given_level, DEFAULT_LADDER)
    assert found.score == pytest.approx(score)
    assert [line.text for line in found.lines] == lines
    assert found.answered is (given_level is not None)


def test_being_wrong_about_a_disqualification_is_told_even_where_it_costs_nothing_more():
    found = score_shown_fault(DISQUALIFYING, MINOR, DEFAULT_LADDER)
    assert (found.capped, found.cap_reason) == (False, "not weighed")
    assert score_shown_fault(SERIOUS, SERIOUS, DEFAULT_LADDER).cap_reason is None


def test_a_ladder_that_does_not_disqualify_has_no_limit():
    ladder = SeverityLadder(disqualifying=False)
    assert score_shown_fault(3, 2, ladder).score == pytest.approx(2 / 3)
    assert not any("at most" in line for line in weighing_in_words(WeighingRules(), ladder))


def test_the_rules_in_words():
    words = " ".join(weighing_in_words(WeighingRules(0.4), DEFAULT_LADDER))
    assert "each level away from it costs 33.3 %" in words
    assert "at most 40 of 100" in words


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: WeighingRules(1.2), "disqualifying_cap is 1.2"),
        (lambda: score_shown_fault(4, 0, DEFAULT_LADDER), "the key has level 4"),
        (lambda: score_shown_fault(0, 4, DEFAULT_LADDER), "the answer has level 4"),
    ],
)
def test_refuses(make, message):
    with pytest.raises(ValueError, match=message):
        make()


@some
@given(drawn.levels, drawn.levels, drawn.ladders)
def test_it_is_what_the_weighing_of_a_found_and_named_fault_earns(key, level, ladder):
    """Marks on an exhibit, when nothing but the weighing counts, say the same of one fault."""
    entry = KeyEntry(None, "gay tail", "9.1", "tail", key)
    only = MarkingRules(see=0, name=0, weigh=1)
    expected = score_fault_marks(FaultKey([entry]), [FaultMark(None, None, "gay tail", level)], ladder, only)
    found = score_shown_fault(key, level, ladder)
    assert found.score == pytest.approx(expected.score)
    assert found.cap_reason == expected.cap_reason


@some
@given(drawn.levels, st.none() | drawn.levels, drawn.ladders)
def test_lines_sum_to_the_score(key, level, ladder):
    found = score_shown_fault(key, level, ladder)
    assert 0 <= found.score <= 1
    assert sum(line.points for line in found.lines) == pytest.approx(found.score)
