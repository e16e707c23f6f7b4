from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.scoring import FaultMark, round_to_total, score_fault_marks, set_out

from .exhibits import LADDER, MINOR, MODERATE, SOUND, TWO_FAULTS


def decimals(*values):
    return tuple(Decimal(value) for value in values)


def test_lines_add_up_where_single_rounding_would_not():
    """56.94 and 13.33 make 70.27, shown as 70.3; rounded one by one they would show 56.9 and 13.3."""
    assert round_to_total([0.5694, 0.1333]) == decimals("57.0", "13.3")


def test_a_whole_ledger():
    light = FaultMark(0.35, 0.45, "upright shoulder", MODERATE)
    score = score_fault_marks(TWO_FAULTS, [light, FaultMark(0.9, 0.2, "gay tail", MINOR)], LADDER)
    ledger = set_out(score.lines)
    assert [(group.entry, group.mark) for group in ledger.groups] == [(0, 0), (1, None), (None, 1)]
    shown = [[(row.kind, row.of, row.points) for row in group.rows] for group in ledger.groups]
    assert shown == [
        [
            ("seen", Decimal("26.7"), Decimal("26.7")),
            ("named", Decimal("23.3"), Decimal("23.3")),
            ("weighed", Decimal("16.7"), Decimal("11.1")),
        ],
        [("missed", Decimal("33.3"), Decimal("0.0"))],
        [("false alarm", None, Decimal("-4.2"))],
    ]
    assert (ledger.of, ledger.points) == decimals("100.0", "56.9")


def test_a_repeat_stays_with_its_entry_and_two_false_alarms_apart():
    marks = [FaultMark(0.35, 0.45, "upright shoulder"), FaultMark(0.36, 0.45)]
    alarms = [FaultMark(0.9, 0.2, "gay tail"), FaultMark(0.9, 0.3, "gay tail")]
    ledger = set_out(score_fault_marks(TWO_FAULTS, marks + alarms, LADDER).lines)
    assert [len(group.rows) for group in ledger.groups] == [4, 1, 1, 1]


def test_a_sound_exhibit():
    ledger = set_out(
        score_fault_marks(SOUND, [FaultMark(0.5, 0.5, "gay tail", MINOR)], LADDER).lines, places=0
    )
    assert (ledger.of, ledger.points) == (100, 75)


@pytest.mark.parametrize(
    ("shares", "out_of", "places", "shown"),
    [
        ([1 / 3, 1 / 3, 1 / 3], 100, 0, ("34", "33", "33")),
        ([0.3, 0.0, 0.7], 100, 1, ("30.0", "0.0", "70.0")),
        ([0.1 + 0.2, -0.3], 100, 1, ("30.0", "-30.0")),
        ([0.125], 100, 0, ("13",)),
        ([0.285], 100, 0, ("29",)),
        ([-0.5, 1.0], 5, 0, ("-2", "5")),
        ([], 100, 1, ()),
    ],
)
def test_round_to_total(shares, out_of, places, shown):
    assert round_to_total(shares, out_of, places) == decimals(*shown)


def test_a_negative_number_of_places_is_refused():
    with pytest.raises(ValueError, match="places is -1"):
        round_to_total([0.5], places=-1)


@given(st.lists(st.floats(-1, 1, allow_nan=False), max_size=12), st.integers(0, 3))
def test_shown_lines_add_up_and_no_line_moves_by_a_whole_place(shares, places):
    shown = round_to_total(shares, 100, places)
    step = 10.0**-places
    assert abs(float(sum(shown)) - 100 * sum(shares)) <= step / 2 + 1e-6
    for share, figure in zip(shares, shown, strict=True):
        assert abs(100 * share - float(figure)) < step + 1e-6
        assert figure == 0 or share != 0
