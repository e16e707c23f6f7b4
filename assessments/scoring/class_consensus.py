"""A placing that a panel agrees on, with its cuts, from placings that each panellist made alone.

The order is that of the mean places. The cut between two neighbours in it is the lower median of how far apart
each panellist holds them: the sum of that panellist's cuts between the two, counted against the order where they
place them the other way round, and not below 0. So a pair on which the panel is divided may stand either way.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from statistics import median_low
from typing import TypeVar

import numpy as np

from assessments.statistics.agreement import krippendorff_alpha

from .consensus import Fit, fit_for
from .placing import check_cuts

Exhibit = TypeVar("Exhibit", bound=Hashable)


@dataclass(frozen=True)
class Placing:
    """One panellist's order, best first, and their n − 1 cuts between neighbours."""

    order: Sequence[Hashable]
    cuts: Sequence[float]


@dataclass(frozen=True)
class ClassConsensus:
    """What a panel agrees on.

    order: best first. cuts: between neighbours in it, 0 or more. agreement: Krippendorff's ordinal alpha with the
    exhibits as units and their places as levels; None of one panellist. fit: what that makes of the key.
    """

    order: tuple[Hashable, ...]
    cuts: tuple[float, ...]
    agreement: float | None
    fit: Fit


def build_class_consensus(panel: Mapping[Hashable, Placing]) -> ClassConsensus:
    """The consensus of at least one panellist's placing; equal mean places stand as the first panellist has them.

    Raises ValueError for an empty panel, where not all place the same exhibits once each, and for cuts that are
    none (see `check_cuts`).
    """
    placings = list(panel.values())
    _check(placings)
    places = {
        exhibit: [placing.order.index(exhibit) for placing in placings] for exhibit in placings[0].order
    }
    order = sorted(placings[0].order, key=lambda exhibit: sum(places[exhibit]))
    depths = [_depths(placing) for placing in placings]
    cuts = [
        max(0.0, median_low([depth[below] - depth[above] for depth in depths]))
        for above, below in pairwise(order)
    ]
    agreement = None
    if len(placings) > 1:
        agreement = krippendorff_alpha(np.array([places[exhibit] for exhibit in order]).T, level="ordinal")
    return ClassConsensus(tuple(order), tuple(cuts), agreement, fit_for(agreement, len(placings)))


def _depths(placing: Placing) -> dict[Hashable, float]:
    """How far below the first each exhibit stands, in cuts."""
    return dict(zip(placing.order, accumulate(placing.cuts, initial=0.0), strict=True))


def _check(placings: Sequence[Placing]) -> None:
    if not placings:
        raise ValueError("panel {} is empty: a consensus needs at least one panellist")
    first = placings[0].order
    for placing in placings:
        if len(set(placing.order)) < len(placing.order) or set(placing.order) != set(first):
            raise ValueError(
                f"order {tuple(placing.order)} must place the same exhibits as {tuple(first)}, once each"
            )
        if len(placing.cuts) != len(placing.order) - 1:
            raise ValueError(f"cuts {tuple(placing.cuts)}: {len(placing.order)} exhibits have one cut less")
        check_cuts(placing.cuts)
