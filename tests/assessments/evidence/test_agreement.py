"""Mentors beside the keys and beside one another, from what each marked alone."""

import pytest

from assessments.evidence.agreement import (
    Marking,
    MarksTwice,
    PanelRatings,
    key_rows,
    pair_rows,
    together,
)
from assessments.evidence.agreement_plots import bias_plot, kappa_plot
from assessments.scoring.beside_key import BesideKey
from assessments.statistics.agreement import limits_of_agreement, severity_bias, weighted_kappa

NAMES = {1: "Magnus Flett", 2: "Thora Garrioch", 3: "Ishbel Rendall"}


def marking(member, *levels, saw=None, false_alarms=0, asked=None):
    named = len(levels)
    beside = BesideKey(asked or named, named if saw is None else saw, named, levels, false_alarms)
    return Marking(member, beside, levels)


def test_a_row_sums_what_a_member_marked_and_leaves_out_who_may_not_be_named():
    markings = [marking(1, (2, 1), (1, 1), saw=3, asked=4, false_alarms=2)] * 8
    markings += [marking(1, (3, 2))] * 8 + [marking(9, (0, 0))] * 8 + [marking(2, (1, 1))] * 4
    magnus, thora = key_rows(NAMES, markings, 4)
    assert (magnus.name, magnus.exhibits, magnus.told) == ("Magnus Flett", 16, True)
    assert (magnus.saw.n, magnus.saw.of, magnus.named.n, magnus.named.of) == (32, 40, 24, 40)
    assert magnus.false_alarms == 16
    pairs = [(2, 1), (1, 1)] * 8 + [(3, 2)] * 8
    given, key = zip(*pairs, strict=True)
    assert magnus.bias == severity_bias(given, key)
    assert magnus.kappa == weighted_kappa(given, key, 4)
    assert magnus.quadratic == weighted_kappa(given, key, 4, "quadratic")
    assert not magnus.kappa.enough
    assert (thora.name, thora.told) == ("Thora Garrioch", False)


def test_two_are_compared_where_both_found_a_fault_or_marked_an_answer():
    faults = [{1: 2, 2: 1}, {2: 3, 1: 3}, {1: 0}, {1: 1, 3: 1, 9: 0}]
    panels = [PanelRatings(faults, [{1: 3, 2: 2, 3: 0, 9: 1}])] * 10
    marks = [MarksTwice(2, 1, 60 + n, 63.5, 3) for n in range(10)] + [MarksTwice(1, 9, 0, 100, 3)]
    rows = pair_rows(NAMES, panels, marks, levels=4)
    assert [row.names for row in rows] == [
        ("Magnus Flett", "Thora Garrioch"),
        ("Ishbel Rendall", "Magnus Flett"),
        ("Ishbel Rendall", "Thora Garrioch"),
    ]
    both, ishbel, nothing = rows
    assert (both.exhibits, both.faults, both.marks) == (10, 20, 10)
    assert both.kappa == weighted_kappa([2, 3] * 10, [1, 3] * 10, 4)
    # The first named less the second: Magnus gave 63.5 each time, Thora 60 to 69.
    assert both.limits == limits_of_agreement([63.5] * 10, list(range(60, 70)))
    # Apart by 3.5, 2.5, 1.5, 0.5, 0.5, 1.5, 2.5, 3.5, 4.5 and 5.5.
    assert both.within == 6
    assert (ishbel.faults, ishbel.kappa.n, ishbel.marks, ishbel.limits) == (10, 10, 0, None)
    assert (nothing.exhibits, nothing.faults, nothing.kappa) == (10, 0, None)


def test_a_difference_of_just_the_band_is_within_it():
    marks = [MarksTwice(1, 2, 70.3, 65.3, 5), MarksTwice(1, 2, 70.4, 65.3, 5)]
    (row,) = pair_rows(NAMES, [], marks, levels=4)
    assert (row.marks, row.within, row.limits.enough) == (2, 1, False)


def test_all_together_agree_as_krippendorffs_data():
    # Data: Krippendorff (1980), as in tests/published/test_agreement_examples.py; alpha 0.815 there, four raters.
    ratings = [
        [1, 2, 3, 3, 2, 1, 4, 1, 2, None, None, None],
        [1, 2, 3, 3, 2, 2, 4, 1, 2, 5, None, 3],
        [None, 3, 3, 3, 2, 3, 4, 2, 2, 5, 1, None],
        [1, 2, 3, 3, 2, 4, 4, 1, 2, 5, 1, None],
    ]
    units = [
        {rater: row[unit] for rater, row in enumerate(ratings) if row[unit] is not None} for unit in range(12)
    ]
    found = together(
        dict.fromkeys(range(4), "somebody"), [PanelRatings(units[:6], units), PanelRatings([], [])]
    )
    assert found.panels == 2
    assert found.zones == pytest.approx(0.815, abs=5e-4)
    assert found.severities != found.zones
    alone = together({1: "Magnus Flett"}, [PanelRatings([{1: 2}], [{1: 3}])])
    assert (alone.zones, alone.severities) == (None, None)


def test_each_stands_on_the_axis_at_their_figure_or_is_not_known_yet():
    level = [(0, 0), (1, 1), (2, 2), (3, 3)]
    markings = [marking(1, *level, (1, 0))] * 8 + [marking(2, *level)] * 8 + [marking(3, (0, 0))] * 4
    rows = key_rows(NAMES, markings, 4)
    magnus, thora, ishbel = kappa_plot(rows).rows
    wide = kappa_plot(rows)
    assert thora.dot == wide.middle == wide.right
    assert magnus.dot == pytest.approx(wide.left + rows[0].kappa.value * (wide.right - wide.left), abs=0.1)
    assert magnus.low < magnus.dot < magnus.high <= wide.right
    assert (ishbel.name, ishbel.dot) == ("Ishbel Rendall", None)
    bias = bias_plot(rows)
    assert bias.middle == pytest.approx((bias.left + bias.right) / 2)
    assert bias.rows[0].dot == pytest.approx(bias.middle + 0.2 * (bias.right - bias.left), abs=0.1)
    assert [tick.text for tick in bias.across] == ["−0.5", "−0.25", "0", "0.25", "0.5"]


def test_an_axis_reaches_as_far_as_the_intervals():
    markings = [marking(1, (3, 0), (0, 3), (1, 3), (3, 1))] * 8
    rows = key_rows(NAMES, markings, 4)
    plot = kappa_plot(rows)
    assert rows[0].kappa.interval[0] < -0.2
    assert plot.left <= plot.rows[0].low < plot.rows[0].dot
    assert plot.across[0].text.startswith("−")
    assert bias_plot(rows).rows[0].low >= plot.left
