"""Clauses and zones from counted outcomes."""

import pytest
from scipy.stats import beta

from assessments.evidence.shares import Tally, rows_of, worst_first
from assessments.models import EntryResult
from assessments.statistics.progress import share_of

Outcome = EntryResult.Outcome


def clause(number, people=10, **outcomes):
    tallies = [Tally(number, "topline", Outcome[name], n) for name, n in outcomes.items()]
    return rows_of(tallies, lambda tally: tally.clause, {number: people})[0]


def test_each_share_is_of_those_who_came_so_far():
    row = clause(1, MISSED=10, OTHERWISE=6, PARTLY=3, PARTLY_OFF=1, OFF=8, AS_KEY=12)
    assert (row.asked, row.people, row.told) == (40, 10, True)
    assert (row.missed.n, row.missed.of) == (10, 40)
    assert (row.misnamed.n, row.misnamed.of) == (10, 30)
    assert (row.misweighed.n, row.misweighed.of) == (9, 24)


def test_the_interval_is_that_of_the_beta_distribution():
    # Reference: scipy's own Beta distribution.
    found = clause(1, MISSED=10, AS_KEY=30).missed.estimate
    assert (found.low, found.high) == pytest.approx(beta(11, 31).ppf([0.05, 0.95]))
    assert share_of(10, 40).enough
    assert not share_of(1, 4).enough
    with pytest.raises(ValueError, match="right = 5 of n = 4"):
        share_of(5, 4)


def test_what_was_never_seen_cannot_be_misnamed():
    row = clause(1, MISSED=10)
    assert (row.misnamed.of, row.misnamed.share, row.misnamed.enough) == (0, None, False)


def test_the_worst_come_first_and_the_unknown_last():
    bad, good = clause(1, MISSED=30, AS_KEY=10), clause(2, MISSED=10, OFF=30)
    few, private = clause(3, MISSED=3), clause(4, people=4, MISSED=40)
    assert worst_first([private, good, few, bad]) == [bad, good, private, few]
    assert worst_first([bad, good], "misweighed") == [good, bad]


def test_zones_gather_their_clauses():
    tallies = [Tally(1, "tail", Outcome.MISSED, 3), Tally(2, "tail", Outcome.MISSED, 4)]
    row = rows_of(tallies, lambda tally: tally.zone, {"tail": 6})[0]
    assert (row.about, row.asked, row.missed.n) == ("tail", 7, 7)
