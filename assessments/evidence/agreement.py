"""Mentors beside the keys and beside one another: what they see, name and weigh, and the marks they give.

Members are known by their ids here; `names` says of whom something may be told, and nobody else is counted.
Levels are those of the club's ladder of today.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from assessments.evidence import FEWEST
from assessments.evidence.shares import Share, share
from assessments.scoring.beside_key import BesideKey
from assessments.statistics.agreement import (
    Bias,
    Kappa,
    Limits,
    krippendorff_alpha,
    limits_of_agreement,
    severity_bias,
    weighted_kappa,
)

PAIRS_SHOWN = 60
Levels = Sequence[tuple[int, int]]


@dataclass(frozen=True)
class Marking:
    """What one member marked of one exhibit, beside the key in use; `levels` are (given, key)."""

    member: int
    beside: BesideKey
    levels: Levels


@dataclass(frozen=True)
class PanelRatings:
    """One panel: what each member gave each fault that was found, by the member's id, and each zone.

    A zone's rating is the highest level that the member marked there, counted from 1; 0 for nothing.
    """

    faults: Sequence[Mapping[int, int]]
    zones: Sequence[Mapping[int, int]]

    @property
    def members(self) -> set[int]:
        """Those whose markings count."""
        return {member for zone in self.zones for member in zone}


@dataclass(frozen=True)
class MarksTwice:
    """Two mentors' marks of one answer, out of 100; so near as `near` the club allowed them to be apart."""

    first: int
    second: int
    first_points: float
    second_points: float
    near: float

    @property
    def within(self) -> bool:
        """Whether the club was content with the two."""
        return abs(self.first_points - self.second_points) <= self.near + 1e-9


@dataclass(frozen=True)
class KeyRow:
    """One member against the keys. `kappa` is linear; both and the bias are None for fewer than two levels."""

    member: int
    name: str
    exhibits: int
    saw: Share
    named: Share
    false_alarms: int
    kappa: Kappa | None
    quadratic: Kappa | None
    bias: Bias | None

    @property
    def told(self) -> bool:
        """Whether enough exhibits were marked to say anything."""
        return self.exhibits >= FEWEST


@dataclass(frozen=True)
class PairRow:
    """Two members: severities of the faults that both found, and marks that both gave to one answer.

    `limits` are of the first's marks less the second's; `within` of the `marks` lie so near as the club allows.
    """

    first: int
    second: int
    names: tuple[str, str]
    exhibits: int
    faults: int
    kappa: Kappa | None
    marks: int
    limits: Limits | None
    within: int


@dataclass(frozen=True)
class Together:
    """All of them: alpha of what each zone shows, and of the severities of what two or more found.

    None where no two people rated the same.
    """

    panels: int
    zones: float | None
    severities: float | None


def key_rows(names: Mapping[int, str], markings: Iterable[Marking], levels: int) -> list[KeyRow]:
    """One row for each member who marked, those of whom something can be told first, by name."""
    own: dict[int, list[Marking]] = {}
    for marking in markings:
        if marking.member in names:
            own.setdefault(marking.member, []).append(marking)
    rows = [_key_row(member, names[member], each, levels) for member, each in own.items()]
    return sorted(rows, key=lambda row: (not row.told, row.name))


def _key_row(member: int, name: str, markings: Sequence[Marking], levels: int) -> KeyRow:
    pairs = [pair for marking in markings for pair in marking.levels]
    asked = sum(marking.beside.asked for marking in markings)
    return KeyRow(
        member,
        name,
        exhibits=len(markings),
        saw=share(sum(marking.beside.saw for marking in markings), asked),
        named=share(sum(marking.beside.named for marking in markings), asked),
        false_alarms=sum(marking.beside.false_alarms for marking in markings),
        kappa=_kappa(pairs, levels),
        quadratic=_kappa(pairs, levels, "quadratic"),
        bias=severity_bias(*zip(*pairs, strict=True)) if len(pairs) >= 2 else None,
    )


def pair_rows(
    names: Mapping[int, str],
    panels: Iterable[PanelRatings],
    marks: Iterable[MarksTwice],
    *,
    levels: int,
) -> list[PairRow]:
    """Those who have most in common first."""
    exhibits: dict[tuple[int, int], int] = {}
    faults: dict[tuple[int, int], list[tuple[int, int]]] = {}
    twice: dict[tuple[int, int], list[MarksTwice]] = {}
    for panel in panels:
        for pair in _pairs(names, panel.members):
            exhibits[pair] = exhibits.get(pair, 0) + 1
        for found in panel.faults:
            for one, other in _pairs(names, found):
                faults.setdefault((one, other), []).append((found[one], found[other]))
    for each in marks:
        for pair in _pairs(names, (each.first, each.second)):
            twice.setdefault(pair, []).append(each)
    rows = [
        _pair_row(names, pair, exhibits.get(pair, 0), faults.get(pair, []), twice.get(pair, []), levels)
        for pair in {*exhibits, *twice}
    ]
    return sorted(rows, key=lambda row: (-row.faults, -row.marks, row.names))[:PAIRS_SHOWN]


def _pairs(names: Mapping[int, str], members: Iterable[int]) -> Iterator[tuple[int, int]]:
    """Every two of those who may be named, in the order of their names."""
    present = [member for member in members if member in names]
    return combinations(sorted(present, key=lambda member: (names[member], member)), 2)


def _pair_row(
    names: Mapping[int, str],
    pair: tuple[int, int],
    exhibits: int,
    faults: Levels,
    marks: Sequence[MarksTwice],
    levels: int,
) -> PairRow:
    given = [{each.first: each.first_points, each.second: each.second_points} for each in marks]
    first, second = ([points[member] for points in given] for member in pair)
    return PairRow(
        *pair,
        names=(names[pair[0]], names[pair[1]]),
        exhibits=exhibits,
        faults=len(faults),
        kappa=_kappa(faults, levels),
        marks=len(marks),
        limits=limits_of_agreement(first, second) if len(marks) >= 2 else None,
        within=sum(each.within for each in marks),
    )


def together(names: Mapping[int, str], panels: Sequence[PanelRatings]) -> Together:
    """All members over all panels; whoever did not mark an exhibit has no rating of it."""
    return Together(
        panels=len(panels),
        zones=_alpha(names, [zone for panel in panels for zone in panel.zones]),
        severities=_alpha(names, [fault for panel in panels for fault in panel.faults]),
    )


def _alpha(names: Mapping[int, str], units: Sequence[Mapping[int, int]]) -> float | None:
    row = {member: number for number, member in enumerate(names)}
    ratings = np.full((len(row), len(units)), np.nan)
    for column, unit in enumerate(units):
        for member, rating in unit.items():
            if member in row:
                ratings[row[member], column] = rating
    try:
        return krippendorff_alpha(ratings, level="ordinal")
    except ValueError:  # no two of them rated the same
        return None


def _kappa(pairs: Levels, levels: int, weights: str = "linear") -> Kappa | None:
    if len(pairs) < 2:
        return None
    first, second = zip(*pairs, strict=True)
    return weighted_kappa(first, second, levels, "quadratic" if weights == "quadratic" else "linear")
