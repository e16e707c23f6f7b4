"""How sessions are counted: three asked for, two of them ready, over a year, a group once (common practice)."""

import datetime

import pytest

from assessments.sessions import Asked, Held, standing, whole_months

ASKED = Asked(sessions=3, ready=2, months=12)
JAN, JUN, JAN_AGAIN, MAR = (
    datetime.date(2025, 1, 15),
    datetime.date(2025, 6, 1),
    datetime.date(2026, 1, 15),
    datetime.date(2026, 3, 1),
)


def alone(on, ready=True):
    return Held(on, group=False, ready=ready)


def together(on, ready=True):
    return Held(on, group=True, ready=ready)


@pytest.mark.parametrize(
    ("sessions", "counted", "ready", "enough"),
    [
        ([], 0, 0, False),
        ([alone(JAN), alone(JUN), alone(JAN_AGAIN)], 3, 3, True),
        ([alone(JAN), alone(JUN, ready=False), alone(JAN_AGAIN)], 3, 2, True),
        ([alone(JAN, ready=False), alone(JUN, ready=False), alone(JAN_AGAIN)], 3, 1, False),
        # Two of a kind that is done in a group count as one, the newer.
        ([together(JAN), together(JUN, ready=False), alone(JAN_AGAIN)], 2, 1, False),
        ([alone(JAN), together(JUN, ready=False), together(JAN_AGAIN), alone(MAR)], 3, 3, True),
        # Of four the newest three say how many ended ready.
        ([alone(JAN), alone(JUN), alone(JAN_AGAIN, ready=False), alone(MAR, ready=False)], 4, 1, False),
        # All ready, but within less than a year.
        ([alone(JAN), alone(JUN), alone(datetime.date(2026, 1, 14))], 3, 3, False),
    ],
)
def test_counted_ready_and_enough(sessions, counted, ready, enough):
    found = standing(reversed(sessions), ASKED)
    assert (found.held, found.counted, found.ready, found.enough) == (len(sessions), counted, ready, enough)


@pytest.mark.parametrize(
    ("first", "last", "months"),
    [(JAN, JAN, 0), (JAN, JAN_AGAIN, 12), (JAN, datetime.date(2026, 1, 14), 11), (JUN, JAN_AGAIN, 7)],
)
def test_whole_months(first, last, months):
    assert whole_months(first, last) == months
