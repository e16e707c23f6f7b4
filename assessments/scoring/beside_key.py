"""What one person marked as for a key, beside the key in use: what they saw, named, weighed and called in vain."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

from shared.geometry.polygons import gap

from .consensus import NOISE, TOGETHER, same_fault
from .marks import KeyEntry


@dataclass(frozen=True)
class BesideKey:
    """How one marking fares beside a key.

    asked: faults in the key. saw: those marked at their place, whatever they were called. named: those called
    as the key has them. levels: (given, key) of the named ones. false_alarms: entries of the marking that
    belong to no fault of the key.
    """

    asked: int
    saw: int
    named: int
    levels: tuple[tuple[int, int], ...]
    false_alarms: int


def beside_key(key: Sequence[KeyEntry], marked: Sequence[KeyEntry], together: float = TOGETHER) -> BesideKey:
    """Match a marking to a key as a panel's markings are matched to one another (`consensus.same_fault`).

    A fault of the key is named where an entry with its name overlaps it or lies within `together`, and weighed
    as the highest of those entries. Of the faults left over as many as can be are seen: each by one of the
    entries left over that overlaps it or lies as near, under another name. A fault of the whole dog has no
    place: it is seen by naming it.
    """
    levels: list[tuple[int, int]] = []
    spare = set(range(len(marked)))
    unnamed: list[KeyEntry] = []
    for entry in key:
        same = {number for number, one in enumerate(marked) if same_fault(entry, one, together)}
        spare -= same
        if same:
            levels.append((max(marked[number].level for number in same), entry.level))
        else:
            unnamed.append(entry)
    otherwise = _seen(unnamed, [marked[number] for number in sorted(spare)], together)
    return BesideKey(
        asked=len(key),
        saw=len(levels) + otherwise,
        named=len(levels),
        levels=tuple(levels),
        false_alarms=len(spare) - otherwise,
    )


def _seen(entries: Sequence[KeyEntry], marked: Sequence[KeyEntry], together: float) -> int:
    """How many of the entries can each have a marking of its own at its place."""
    if not entries or not marked:
        return 0
    at_place = np.array([[_at_place(entry, one, together) for one in marked] for entry in entries])
    return int(at_place[linear_sum_assignment(at_place, maximize=True)].sum())


def _at_place(entry: KeyEntry, one: KeyEntry, together: float) -> bool:
    if entry.shape is None or one.shape is None:
        return False
    return bool(gap(entry.shape, one.shape) <= together + NOISE)
