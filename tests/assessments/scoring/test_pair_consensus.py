"""What a panel agrees on of a pair."""

import pytest

from assessments.scoring.pair_consensus import build_pair_consensus


def panel(*said):
    return dict(enumerate(said))


@pytest.mark.parametrize(
    ("said", "exhibit", "clause", "agreement", "fit"),
    [
        ([("A", "5.1")] * 3, "A", "5.1", 1, "examination"),
        ([("A", "5.1")] * 2, "A", "5.1", 1, "practice"),
        ([("A", "5.1")], "A", "5.1", None, "practice"),
        ([("A", "5.10"), ("A", "5.9"), ("A", "5.9"), ("A", "5.10")], "A", "5.9", 1, "examination"),
        ([("A", "5.1"), ("A", "5.1"), ("B", "6.2")], "A", "5.1", -1 / 3, "discussion"),
        ([("A", "5.1"), ("B", "6.2")], None, None, -1, "discussion"),
        ([("A", "5.1")] * 9 + [("B", "6.2")], "A", "5.1", 0.6, "discussion"),
        ([("A", "5.1")] * 19 + [("B", "6.2")], "A", "5.1", 0.8, "examination"),
    ],
)
def test_by_hand(said, exhibit, clause, agreement, fit):
    """One of ten dissents: 36 of 45 pairs agree, S = 2 · 0.8 − 1. One of twenty: 171 of 190, S = 0.8."""
    found = build_pair_consensus(panel(*said))
    assert (found.exhibit, found.clause, found.fit) == (exhibit, clause, fit)
    assert found.agreement == (None if agreement is None else pytest.approx(agreement))


def test_refuses_nobody_and_a_third_exhibit():
    with pytest.raises(ValueError, match="empty"):
        build_pair_consensus({})
    with pytest.raises(ValueError, match="chose 3 exhibits"):
        build_pair_consensus(panel(("A", "1"), ("B", "1"), ("C", "1")))
