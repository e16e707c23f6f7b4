"""The worked table of the rules for fault marks, row by row.

The figures were worked by hand from the rules, weights Minor 1, Moderate 2, Serious 4, Disqualifying 8: with
both faults in the key (4 + 2 = 6), the shoulder weighed one level of three light earns
4 × (0.40 + 0.35 + 0.25 × 2/3) = 3.6667, so 5.6667 / 6 = 0.944444.
"""

import pytest

from assessments.scoring.fault_marks import FaultKey, FaultMark, KeyEntry, MarkingRules, score_fault_marks
from assessments.scoring.severity import SeverityLadder

LADDER = SeverityLadder(("Minor", "Moderate", "Serious", "Disqualifying"), (1, 2, 4, 8))
MINOR, MODERATE, SERIOUS, DISQUALIFYING = range(4)


def rectangle(left, upper, right, lower):
    return [(left, upper), (right, upper), (right, lower), (left, lower)]


SHOULDER = KeyEntry(rectangle(0.30, 0.40, 0.40, 0.55), "upright shoulder", "5.1", "forequarters", SERIOUS)
BACK = KeyEntry(
    rectangle(0.60, 0.30, 0.72, 0.38), "roached back", "6.2", "topline", MODERATE, also={"steep croup": 0.5}
)
UNDERSHOT = KeyEntry(rectangle(0.10, 0.20, 0.16, 0.25), "undershot", "3.4", "head", DISQUALIFYING)
COW_HOCKS = KeyEntry(
    [rectangle(0.35, 0.70, 0.40, 0.80), rectangle(0.55, 0.70, 0.60, 0.80)],
    "cow hocks",
    "8.2",
    "hindquarters",
    SERIOUS,
)
TOO_LONG = KeyEntry(None, "too long", "2.1", "whole", MODERATE)

SHOULDER_EXACT = FaultMark(0.35, 0.45, "upright shoulder", SERIOUS, "5.1")
BACK_EXACT = FaultMark(0.66, 0.34, "roached back", MODERATE, "6.2")
UNDERSHOT_EXACT = FaultMark(0.13, 0.22, "undershot", DISQUALIFYING, "3.4")
GAY_TAIL = FaultMark(0.90, 0.20, "gay tail", MODERATE, "9.1")

TWO_FAULTS = FaultKey((SHOULDER, BACK))
THREE_FAULTS = FaultKey((SHOULDER, BACK, UNDERSHOT))
SOUND = FaultKey(())


def shoulder(x=0.35, y=0.45, fault="upright shoulder", level=SERIOUS, clause="5.1"):
    return FaultMark(x, y, fault, level, clause)


TABLE = {
    "both exact": (TWO_FAULTS, [SHOULDER_EXACT, BACK_EXACT], 1.0),
    "both pinned, neither named nor weighed": (
        TWO_FAULTS,
        [FaultMark(0.35, 0.45), FaultMark(0.66, 0.34)],
        0.4,
    ),
    "both exact, but the shoulder weighed Moderate": (
        TWO_FAULTS,
        [shoulder(level=MODERATE), BACK_EXACT],
        0.944444,
    ),
    "both exact, but the shoulder weighed Disqualifying": (
        TWO_FAULTS,
        [shoulder(level=DISQUALIFYING), BACK_EXACT],
        0.5,
    ),
    "shoulder exact; the back called a steep croup, Moderate": (
        TWO_FAULTS,
        [SHOULDER_EXACT, FaultMark(0.66, 0.34, "steep croup", MODERATE, "6.4")],
        0.941667,
    ),
    "shoulder pinned right, called short upper arm of the same clause; back exact": (
        TWO_FAULTS,
        [shoulder(fault="short upper arm"), BACK_EXACT],
        0.883333,
    ),
    "shoulder exact but pinned 0.02 outside its region; back exact": (
        TWO_FAULTS,
        [shoulder(x=0.28), BACK_EXACT],
        0.733333,
    ),
    "both exact, and a gay tail, Moderate": (TWO_FAULTS, [SHOULDER_EXACT, BACK_EXACT, GAY_TAIL], 0.916667),
    "the same false alarm weighed Disqualifying": (
        TWO_FAULTS,
        [SHOULDER_EXACT, BACK_EXACT, FaultMark(0.90, 0.20, "gay tail", DISQUALIFYING, "9.1")],
        0.5,
    ),
    "only the back, exact": (TWO_FAULTS, [BACK_EXACT], 0.333333),
    "both exact, the shoulder pinned twice alike": (
        TWO_FAULTS,
        [SHOULDER_EXACT, BACK_EXACT, SHOULDER_EXACT],
        1.0,
    ),
    "both exact, the shoulder pinned again as Minor": (
        TWO_FAULTS,
        [SHOULDER_EXACT, BACK_EXACT, shoulder(level=MINOR)],
        0.888889,
    ),
    "sound, one Minor": (SOUND, [FaultMark(0.5, 0.5, "gay tail", MINOR)], 0.75),
    "sound, one unweighed": (SOUND, [FaultMark(0.5, 0.5, "gay tail")], 0.5),
    "sound, one Disqualifying": (SOUND, [FaultMark(0.5, 0.5, "gay tail", DISQUALIFYING)], 0.0),
    "a third entry, undershot, Disqualifying, is missed, the rest exact": (
        THREE_FAULTS,
        [SHOULDER_EXACT, BACK_EXACT],
        0.428571,
    ),
    "it is found and named but weighed Minor, the rest exact": (
        THREE_FAULTS,
        [SHOULDER_EXACT, BACK_EXACT, FaultMark(0.13, 0.22, "undershot", MINOR, "3.4")],
        0.5,
    ),
    "all three exact": (THREE_FAULTS, [SHOULDER_EXACT, BACK_EXACT, UNDERSHOT_EXACT], 1.0),
    "cow hocks, pinned on the one leg": (
        FaultKey((COW_HOCKS,)),
        [FaultMark(0.37, 0.75, "cow hocks", SERIOUS, "8.2")],
        1.0,
    ),
    "cow hocks, pinned on the other leg": (
        FaultKey((COW_HOCKS,)),
        [FaultMark(0.57, 0.75, "cow hocks", SERIOUS, "8.2")],
        1.0,
    ),
    "cow hocks, pinned on both": (
        FaultKey((COW_HOCKS,)),
        [
            FaultMark(0.37, 0.75, "cow hocks", SERIOUS, "8.2"),
            FaultMark(0.57, 0.75, "cow hocks", SERIOUS, "8.2"),
        ],
        1.0,
    ),
    "too long, named and weighed on the whole dog": (
        FaultKey((TOO_LONG,)),
        [FaultMark(None, None, "too long", MODERATE, "2.1")],
        1.0,
    ),
    "too long, a nameless pin on the dog": (FaultKey((TOO_LONG,)), [FaultMark(0.5, 0.5)], 0.0),
}
CAPPED = {
    "both exact, but the shoulder weighed Disqualifying",
    "the same false alarm weighed Disqualifying",
    "it is found and named but weighed Minor, the rest exact",
}


@pytest.mark.parametrize("row", TABLE)
def test_row(row):
    key, marks, expected = TABLE[row]
    score = score_fault_marks(key, marks, LADDER)
    assert score.score == pytest.approx(expected, abs=5e-7)
    assert score.capped == (row in CAPPED)
    assert score.answered


@pytest.mark.parametrize(
    ("key", "nothing_found", "expected", "answered"),
    [
        (TWO_FAULTS, True, 0.0, True),
        (TWO_FAULTS, False, 0.0, False),
        (SOUND, True, 1.0, True),
        (SOUND, False, 0.0, False),
    ],
)
def test_no_marks(key, nothing_found, expected, answered):
    score = score_fault_marks(key, [], LADDER, nothing_found=nothing_found)
    assert (score.score, score.answered) == (expected, answered)


def test_one_level_off_is_the_linear_weight_of_kappa():
    """On four levels the linear weights are 1, 2/3, 1/3, 0 (Fleiss, Cohen and Everitt 1969, from memory)."""
    assert [LADDER.agreement(given, DISQUALIFYING) for given in range(4)] == pytest.approx(
        [0, 1 / 3, 2 / 3, 1]
    )


def test_virtues_are_marked_without_weighing():
    """0.55 for seeing and 0.45 for naming: one of two equal virtues seen and named, the other only seen."""
    rules = MarkingRules(weigh=0, see=0.55, name=0.45)
    score = score_fault_marks(
        FaultKey((SHOULDER, BACK)),
        [FaultMark(0.35, 0.45, "upright shoulder"), FaultMark(0.66, 0.34)],
        LADDER,
        rules,
    )
    assert score.score == pytest.approx((4 * 1.0 + 2 * 0.55) / 6)
