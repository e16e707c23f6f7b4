"""Which of the pair, by hand and as properties."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring.pair import PairKey, PairRules, pair_in_words, score_pair

some = settings(max_examples=60)
KEY = PairKey("left", "5.1", {"5.2": 0.5})


@pytest.mark.parametrize(
    ("exhibit", "clause", "score", "lines"),
    [
        ("left", "5.1", 1.0, ["The better of the two", "Clause 5.1, as the key has it"]),
        (
            "left",
            "5.2",
            0.8,
            ["The better of the two", "Clause 5.2, which counts 50 %; the key has 5.1"],
        ),
        ("left", "7.3", 0.6, ["The better of the two", "Clause 7.3; the key has 5.1"]),
        ("left", None, 0.6, ["The better of the two", "No clause given; the key has 5.1"]),
        (
            "right",
            "5.1",
            0.0,
            ["The other of the two is the better", "Clause 5.1, which cannot count for the wrong exhibit"],
        ),
        ("right", "7.3", 0.0, ["The other of the two is the better", "Clause 7.3; the key has 5.1"]),
        (None, "5.1", 0.0, ["Neither exhibit was chosen"]),
    ],
)
def test_by_hand(exhibit, clause, score, lines):
    found = score_pair(KEY, exhibit, clause)
    assert found.score == pytest.approx(score)
    assert [line.text for line in found.lines] == lines
    assert found.answered is (exhibit is not None)


def test_the_rules_in_words():
    words = " ".join(pair_in_words(PairRules(0.7, 0.3)))
    assert "earns 70 of 100" in words
    assert "the clause by which it is the better 30 of 100" in words


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: PairRules(0.6, 0.5), "must be 0 or more and sum to 1"),
        (lambda: PairRules(1.2, -0.2), "must be 0 or more"),
        (lambda: PairKey("left", "5.1", {"5.2": 1.5}), "credit 1.5 for clause 5.2"),
    ],
)
def test_refuses(make, message):
    with pytest.raises(ValueError, match=message):
        make()


@some
@given(
    st.sampled_from(["left", "right", None]),
    st.sampled_from(["5.1", "5.2", "7.3", None]),
    st.floats(0, 1),
)
def test_lines_sum_to_the_score_and_a_reason_never_lowers_it(exhibit, clause, share):
    rules = PairRules(share, 1 - share)
    found = score_pair(KEY, exhibit, clause, rules)
    assert 0 <= found.score <= 1 + 1e-9
    assert sum(line.points for line in found.lines) == pytest.approx(found.score)
    assert sum(line.available for line in found.lines) == pytest.approx(1)
    assert found.score >= score_pair(KEY, exhibit, None, rules).score
