"""Mentors' adjustments and the mix of exhibits."""

import pytest
from scipy.stats import t

from assessments.evidence.mentors import mentor_rows
from assessments.evidence.mix import Shown, mix_of


def test_a_mentors_change_is_over_all_that_they_returned():
    rows = mentor_rows(
        {1: ("Magnus Flett", 12), 2: ("Thora Garrioch", 6), 3: ("Erlend Scollay", 4)},
        [(1, 8.0), (1, -2.0), (1, 6.0), (3, 50.0), (9, 1.0)],
    )
    magnus, thora, erlend = rows
    assert (magnus.name, magnus.returned, magnus.adjusted) == ("Magnus Flett", 12, 3)
    assert magnus.size == pytest.approx(16 / 3)
    # Reference: scipy's own t interval of 8, −2, 6 and nine noughts.
    mean, spread = 1.0, (sum((x - 1) ** 2 for x in [8, -2, 6, *[0] * 9]) / 11) ** 0.5
    assert magnus.bias.mean == mean
    assert (magnus.bias.low, magnus.bias.high) == pytest.approx(
        t.interval(0.95, 11, loc=mean, scale=spread / 12**0.5)
    )
    assert (thora.size, thora.bias.mean, thora.bias.enough, thora.told) == (None, 0.0, False, True)
    assert not erlend.told


def test_an_exhibit_counts_once_in_each_row_of_its_faults():
    shown = [Shown(1, "Roached back", "topline", 1), Shown(1, "Gay tail", "tail", 0)]
    shown += [Shown(2, "Roached back", "topline", 2), Shown(2, "Roached back", "topline", 2)]
    mix = mix_of({1: False, 2: False, 3: True, 4: None}, shown, 4)
    assert (mix.exhibits, mix.sound, mix.unsaid, mix.sound_share) == (4, 1, 1, 1 / 3)
    back, tail = mix.faults
    assert (back.fault, back.levels, back.exhibits, back.share) == ("Roached back", (0, 1, 1, 0), 2, 0.5)
    assert (tail.fault, tail.levels) == ("Gay tail", (1, 0, 0, 0))
    assert mix.levels == (1, 1, 1, 0)


def test_a_level_beyond_a_shorter_ladder_counts_as_its_heaviest():
    assert mix_of({1: False}, [Shown(1, "Gay tail", "tail", 5)], 3).faults[0].levels == (0, 0, 1)


def test_nothing_has_no_share():
    assert mix_of({}, [], 4).sound_share is None
