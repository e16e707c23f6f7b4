"""One marking beside a key: what was seen, named, weighed and called in vain."""

from assessments.scoring.beside_key import BesideKey, beside_key
from assessments.scoring.marks import KeyEntry

SHOULDER = [(0.30, 0.40), (0.40, 0.40), (0.40, 0.55), (0.30, 0.55)]
BACK = [(0.60, 0.30), (0.72, 0.30), (0.72, 0.38), (0.60, 0.38)]


def moved(region, right):
    return [(x + right, y) for x, y in region]


def called(fault, region, level):
    return KeyEntry(region, fault, None, None, level)


KEY = [called("Upright shoulder", SHOULDER, 2), called("Roached back", BACK, 1)]


def test_what_is_as_the_key_is_named_and_weighed():
    marked = [called("Upright shoulder", moved(SHOULDER, 0.02), 1), called("Roached back", BACK, 1)]
    assert beside_key(KEY, marked) == BesideKey(2, 2, 2, ((1, 2), (1, 1)), 0)


def test_a_sound_key_has_false_alarms_alone():
    assert beside_key([], [called("Roached back", BACK, 1)]) == BesideKey(0, 0, 0, (), 1)
    assert beside_key([], []) == BesideKey(0, 0, 0, (), 0)


def test_what_was_not_marked_is_missed():
    assert beside_key(KEY, []) == BesideKey(2, 0, 0, (), 0)


def test_another_name_at_the_place_saw_the_fault_and_is_no_false_alarm():
    assert beside_key(KEY, [called("Dipped back", BACK, 2)]) == BesideKey(2, 1, 0, (), 0)


def test_the_same_name_further_off_than_panellists_may_be_is_another_fault():
    # The shoulder is 0.10 wide: moved by 0.14 its edge lies 0.04 away, by 0.16 it lies 0.06 away.
    assert beside_key(KEY, [called("Upright shoulder", moved(SHOULDER, -0.14), 2)]).named == 1
    assert beside_key(KEY, [called("Upright shoulder", moved(SHOULDER, -0.16), 2)]) == BesideKey(
        2, 0, 0, (), 1
    )


def test_one_fault_in_two_parts_counts_once_as_the_heavier():
    marked = [called("Roached back", BACK, 0), called("Roached back", moved(BACK, 0.05), 3)]
    assert beside_key(KEY, marked) == BesideKey(2, 1, 1, ((3, 1),), 0)


def test_a_second_name_at_a_named_fault_is_a_false_alarm():
    marked = [called("Roached back", BACK, 1), called("Dipped back", BACK, 1)]
    assert beside_key(KEY, marked) == BesideKey(2, 1, 1, ((1, 1),), 1)


def test_each_marking_sees_one_fault_and_as_many_as_can_be_are_seen():
    # Two faults of the key side by side: a marking between them reaches both, another reaches the left alone.
    key = [called("A", BACK, 1), called("B", moved(BACK, 0.13), 1)]
    between, left = called("C", moved(BACK, 0.06), 1), called("D", moved(BACK, -0.12), 1)
    assert beside_key(key, [between]) == BesideKey(2, 1, 0, (), 0)
    assert beside_key(key, [between, left]) == BesideKey(2, 2, 0, (), 0)
    assert beside_key(key, [left, between]) == BesideKey(2, 2, 0, (), 0)


def test_a_fault_of_the_whole_dog_is_seen_by_naming_it():
    key = [called("Long body", None, 2)]
    assert beside_key(key, [called("Long body", None, 1)]) == BesideKey(1, 1, 1, ((1, 2),), 0)
    assert beside_key(key, [called("Short body", None, 1)]) == BesideKey(1, 0, 0, (), 1)
    assert beside_key(key, [called("Long body", BACK, 1)]) == BesideKey(1, 0, 0, (), 1)
