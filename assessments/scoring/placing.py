"""Placing a class: the official order, the trainee's, and the cuts between official neighbours.

The method of livestock-judging handbooks (B. A. Reiling, University of Nebraska-Lincoln Extension, NebGuide
G2092, How to Score Placing Classes For Livestock Judging, 2011), for any number of exhibits: every pair that
stands the wrong way round loses the sum of the cuts between the two. A perfect placing of four has 50 points
there; for other numbers the quiz sets the total.
"""

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import isfinite
from typing import TypeVar

Exhibit = TypeVar("Exhibit", bound=Hashable)

# Limits for a class of four (NebGuide G2092).
HIGHEST_CUT = 8
HIGHEST_SUM = 15


@dataclass(frozen=True)
class PlacingScore:
    """How a placing was marked.

    points: what is left of the total, not below 0. lost: the sum of all losses, before that limit.
    reversed_pairs: the pairs that stand the wrong way round, each (should stand above, should stand below),
    in the official order; losses: what each of them loses, 0 where the pair may stand either way.
    """

    points: float
    lost: float
    reversed_pairs: tuple[tuple[Hashable, Hashable], ...]
    losses: tuple[float, ...]


def score_placing(
    official: Sequence[Hashable], cuts: Sequence[float], placing: Sequence[Hashable], total: float = 50
) -> PlacingScore:
    """Mark a placing of n ≥ 2 exhibits against the official one.

    official, placing: the same exhibits, first to last. cuts: the n − 1 gaps between official neighbours,
    0 or more; 0 where the pair may stand either way. total: the points of a perfect placing.

    Raises ValueError where the two do not name the same exhibits once each, for a wrong number of cuts, a
    negative cut, and a total that is not above 0.
    """
    _check_placings(official, placing)
    _check_cuts(cuts, len(official))
    _check_total(total)
    pairs = [pair for pair in _pairs(official, cuts, placing) if pair[3]]
    losses = tuple(loss for _, _, loss, _ in pairs)
    lost = sum(losses)
    return PlacingScore(
        points=max(0, total - lost),
        lost=lost,
        reversed_pairs=tuple((above, below) for above, below, _, _ in pairs),
        losses=losses,
    )


def check_cuts(cuts: Sequence[float], total: float = 50) -> list[str]:
    """Return what the handbooks forbid in these cuts, a sentence each; none where all is well.

    For a class of four: no cut above 8, no sum above 15, and a full reversal must not fall below 0. For other
    numbers, for which the handbooks give no limits, only the last. Raises ValueError as `score_placing` does.
    """
    _check_cuts(cuts, len(cuts) + 1)
    _check_total(total)
    findings = []
    if len(cuts) == 3:
        findings += [f"A cut of {cut:g} is above {HIGHEST_CUT}." for cut in cuts if cut > HIGHEST_CUT]
        if sum(cuts) > HIGHEST_SUM:
            findings.append(f"The cuts sum to {sum(cuts):g}, above {HIGHEST_SUM}.")
    exhibits = range(len(cuts) + 1)
    lost = sum(loss for _, _, loss, _ in _pairs(exhibits, cuts, exhibits))
    if lost > total:
        findings.append(f"A full reversal loses {lost:g} of {total:g} points, so it would fall below 0.")
    return findings


def rank_agreement(
    official: Sequence[Hashable], placing: Sequence[Hashable], cuts: Sequence[float] | None = None
) -> float:
    """Return Kendall's tau of two placings, from 1 (the same order) to −1 (reversed).

    With cuts, only the pairs count that may not stand either way: those whose cuts do not sum to 0. Raises
    ValueError as `score_placing` does, and where no pair counts.
    """
    _check_placings(official, placing)
    if cuts is not None:
        _check_cuts(cuts, len(official))
    given = [1] * (len(official) - 1) if cuts is None else cuts
    turned = [reverse for _, _, apart, reverse in _pairs(official, given, placing) if apart > 0]
    if not turned:
        raise ValueError(f"cuts {tuple(given)} are all 0: no pair has an order that could be agreed with")
    return 1 - 2 * sum(turned) / len(turned)


def _pairs(
    official: Sequence[Exhibit], cuts: Sequence[float], placing: Sequence[Exhibit]
) -> Iterator[tuple[Exhibit, Exhibit, float, bool]]:
    """Every pair in the official order: above, below, the cuts between them, whether it is reversed."""
    place = {exhibit: number for number, exhibit in enumerate(placing)}
    for (first, above), (second, below) in combinations(enumerate(official), 2):
        yield above, below, sum(cuts[first:second]), place[above] > place[below]


def _check_placings(official: Sequence[Hashable], placing: Sequence[Hashable]) -> None:
    if len(official) < 2:
        raise ValueError(
            f"official {tuple(official)} places {len(official)} exhibits; a class has at least 2"
        )
    for name, order in (("official", official), ("placing", placing)):
        if len(set(order)) < len(order):
            raise ValueError(f"{name} {tuple(order)} names an exhibit twice; each has one place")
    if set(official) != set(placing):
        raise ValueError(
            f"placing {tuple(placing)} must order the same exhibits as official {tuple(official)}"
        )


def _check_cuts(cuts: Sequence[float], exhibits: int) -> None:
    if exhibits < 2:
        raise ValueError("cuts () are empty: a class has at least 2 exhibits, so at least 1 cut")
    if len(cuts) != exhibits - 1:
        raise ValueError(f"cuts {tuple(cuts)}: {exhibits} exhibits have {exhibits - 1} cuts between them")
    if not all(isfinite(cut) and cut >= 0 for cut in cuts):
        raise ValueError(f"cuts {tuple(cuts)}: every cut must be a finite number, not below 0")


def _check_total(total: float) -> None:
    if not (isfinite(total) and total > 0):
        raise ValueError(f"total is {total}; it must be a finite number above 0")
