"""A key from a panel: what enough panellists marked independently, and how well they agree."""

import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import isfinite
from typing import Any, Literal

import numpy as np

from assessments.statistics.agreement import krippendorff_alpha
from shared.geometry.polygons import Polygon, common_ground, gap, shape

from .marks import KeyEntry
from .severity import SeverityLadder

Fit = Literal["examination", "practice", "discussion"]

# Krippendorff's customary limits: rely on 0.800 and above, draw tentative conclusions from 0.667.
RELIABLE = 0.800
TENTATIVE = 0.667
PANEL_FOR_EXAMINATION = 3
# Two of three panellists meet a quorum of two thirds, and an alpha of 0.8 its limit, in floating point too.
NOISE = 1e-9
# Of a panel so many must agree.
QUORUM = 2 / 3
# Two regions so near one another, in units of the picture's longer side, may mean the same.
TOGETHER = 0.05


@dataclass(frozen=True)
class PanelGroup:
    """One fault as several panellists marked it: the entry it makes, who marked it, whether it is in the key.

    outlines: each panellist's own region, in the order of `panellists`; None for the whole dog. levels: how each
    of them weighed it, in the same order, the highest where one marked it twice.
    """

    entry: KeyEntry
    panellists: tuple[str, ...]
    outlines: tuple[tuple[Polygon, ...] | None, ...]
    in_key: bool
    levels: tuple[int, ...] = ()


@dataclass(frozen=True)
class Consensus:
    """What a panel agrees on.

    entries: the key. some_saw: what fewer than the quorum marked, not in the key. agreement: Krippendorff's
    ordinal alpha over the zones; None for a single panellist. fit: what the key may be used for.
    groups: entries and some_saw with who marked them, in the same order.
    """

    entries: tuple[KeyEntry, ...]
    some_saw: tuple[KeyEntry, ...]
    agreement: float | None
    fit: Fit
    groups: tuple[PanelGroup, ...] = ()


@dataclass(frozen=True)
class _Marked:
    """One panellist's entry."""

    panellist: str
    entry: KeyEntry


def build_consensus(
    panel: Mapping[str, Sequence[KeyEntry]],
    ladder: SeverityLadder,
    zones: Sequence[str],
    quorum: float = QUORUM,
    together: float = TOGETHER,
) -> Consensus:
    """Build the key that a panel agrees on for one exhibit.

    panel: each panellist's entries; none for a panellist who finds the exhibit sound. zones: those visible in
    the exhibit's view. quorum: the share of the panel that must have marked a fault. together: how far apart
    two regions of one fault may lie and still mean the same, in units of the picture's longer side.

    Faults of the whole dog lie together with each other only. A group's region is the ground on which at
    least half of those who marked it agree, holes filled, or the union of theirs where there is none; its
    level is the lower median; its clause, and its zone, the most frequent. The order of the panel does not
    matter.

    Raises ValueError for an empty panel, for no zones or a zone named twice, for an entry whose level is not
    on the ladder or whose zone is not visible, for a quorum outside 0 to 1 (0 excluded), and for a `together`
    below 0.
    """
    _check(panel, ladder, zones, quorum, together)
    marked = [_Marked(name, entry) for name in sorted(panel) for entry in panel[name]]
    groups = [_group(members, len(panel), quorum, zones) for members in _components(marked, together)]
    groups.sort(key=lambda group: (not group.in_key, group.entry.order))
    agreement = _agreement(panel, zones) if len(panel) > 1 else None
    return Consensus(
        entries=tuple(group.entry for group in groups if group.in_key),
        some_saw=tuple(group.entry for group in groups if not group.in_key),
        agreement=agreement,
        fit=fit_for(agreement, len(panel)),
        groups=tuple(groups),
    )


def _components(marked: Sequence[_Marked], together: float) -> list[list[_Marked]]:
    """The connected components of entries that mean the same, each in the order given."""
    component = list(range(len(marked)))
    for first, second in combinations(range(len(marked)), 2):
        if component[first] != component[second] and same_fault(
            marked[first].entry, marked[second].entry, together
        ):
            old, new = component[second], component[first]
            component = [new if number == old else number for number in component]
    groups: dict[int, list[_Marked]] = {}
    for number, each in zip(component, marked, strict=True):
        groups.setdefault(number, []).append(each)
    return list(groups.values())


def same_fault(one: KeyEntry, other: KeyEntry, together: float = TOGETHER) -> bool:
    """Whether two people mean the same: one name, and regions that overlap or lie within `together`."""
    if one.fault != other.fault:
        return False
    if one.shape is None or other.shape is None:
        return one.shape is other.shape
    return gap(one.shape, other.shape) <= together + NOISE


def _group(members: Sequence[_Marked], panel_size: int, quorum: float, zones: Sequence[str]) -> PanelGroup:
    """What one group of entries amounts to; each panellist counts once."""
    own: dict[str, list[KeyEntry]] = {}
    for each in members:
        own.setdefault(each.panellist, []).append(each.entry)
    chief = [min(entries, key=_gravest_first) for entries in own.values()]
    clauses = [entry.clause for entry in chief if entry.clause is not None]
    seen_in = [entry.zone for entry in chief if entry.zone is not None]
    outlines = tuple(_outline(entries) for entries in own.values())
    entry = KeyEntry(
        region=_region([outline for outline in outlines if outline is not None]),
        fault=members[0].entry.fault,
        clause=_most_frequent(clauses, by_number),
        zone=_most_frequent(seen_in, list(zones).index),
        level=sorted(entry.level for entry in chief)[(len(chief) - 1) // 2],
    )
    levels = tuple(one.level for one in chief)
    return PanelGroup(entry, tuple(own), outlines, len(own) >= quorum * panel_size - NOISE, levels)


def _gravest_first(entry: KeyEntry) -> tuple[Any, ...]:
    return -entry.level, by_number(entry.clause or "")


def _outline(entries: Sequence[KeyEntry]) -> tuple[Polygon, ...] | None:
    """All regions of one panellist; None for the whole dog."""
    return tuple(part for entry in entries for part in entry.region or ()) or None


def _region(outlines: Sequence[tuple[Polygon, ...]]) -> tuple[Polygon, ...] | None:
    if not outlines:
        return None
    shapes = [shape(outline) for outline in outlines]
    return common_ground(shapes, (len(shapes) + 1) // 2) or common_ground(shapes, 1)


def _most_frequent(names: Sequence[str], order: Callable[[str], Any]) -> str | None:
    """The most frequent name, the first by `order` among equals; None of none."""
    counts = Counter(names)
    return min(counts, key=lambda name: (-counts[name], order(name)), default=None)


def by_number(clause: str) -> tuple[Any, ...]:
    """Sorts clause 5.9 before 5.10, and numbers before letters."""
    parts = re.findall(r"\d+|[^\d.]+", clause)
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part) for part in parts)


def _agreement(panel: Mapping[str, Sequence[KeyEntry]], zones: Sequence[str]) -> float:
    """Ordinal alpha over the zones: the highest level + 1 that each panellist marked there, 0 for none."""
    ratings = np.zeros((len(panel), len(zones)))
    for row, entries in enumerate(panel.values()):
        for entry in entries:
            column = list(zones).index(entry.zone or "")
            ratings[row, column] = max(ratings[row, column], entry.level + 1)
    return krippendorff_alpha(ratings, level="ordinal")


def fit_for(agreement: float | None, panel_size: int) -> Fit:
    """What a key may be used for: Krippendorff's customary limits, and three panellists for an examination."""
    if agreement is None:
        return "practice"
    if agreement >= RELIABLE - NOISE and panel_size >= PANEL_FOR_EXAMINATION:
        return "examination"
    return "practice" if agreement >= TENTATIVE - NOISE else "discussion"


def _check(
    panel: Mapping[str, Sequence[KeyEntry]],
    ladder: SeverityLadder,
    zones: Sequence[str],
    quorum: float,
    together: float,
) -> None:
    if not panel:
        raise ValueError("panel {} is empty: a consensus needs at least one panellist")
    if not zones or len(set(zones)) < len(zones):
        raise ValueError(f"zones {tuple(zones)} must name at least one zone, and each once")
    if not 0 < quorum <= 1:
        raise ValueError(f"quorum is {quorum}; it must lie above 0 and not above 1")
    if not (isfinite(together) and together >= 0):
        raise ValueError(f"together is {together}; it must be a finite number, not below 0")
    for panellist, entries in panel.items():
        for entry in entries:
            ladder.check(entry.level, f"{panellist}'s entry ({entry.fault})")
            if entry.zone not in zones:
                raise ValueError(
                    f"{panellist}'s entry ({entry.fault}) lies in zone {entry.zone!r}, which is not among "
                    f"the visible zones {tuple(zones)}"
                )
