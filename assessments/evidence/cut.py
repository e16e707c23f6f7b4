"""Panellists' estimates for a pass mark beside one another: each item's spread, each panellist's own cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import mean, stdev

from assessments.statistics.cut_score import CutScore, modified_angoff

# Estimates of one item further apart than this are worth a talk (common practice).
FAR_APART = 0.3


@dataclass(frozen=True)
class ItemEstimates:
    """One item: every panellist's estimate in their order, the mean, and how far they lie apart."""

    estimates: tuple[float, ...]
    mean: float
    low: float
    high: float
    sd: float | None

    @property
    def apart(self) -> bool:
        """Whether the panel should talk about the item before the cut is used."""
        return self.high - self.low > FAR_APART + 1e-9


@dataclass(frozen=True)
class CutFigures:
    """The whole table, and the cut that it gives."""

    items: list[ItemEstimates]
    score: CutScore


def cut_figures(table: Sequence[Sequence[float]]) -> CutFigures:
    """From panellists × items, fractions."""
    return CutFigures([_item(column) for column in zip(*table, strict=True)], modified_angoff(table))


def _item(column: tuple[float, ...]) -> ItemEstimates:
    sd = stdev(column) if len(column) > 1 else None
    return ItemEstimates(column, mean(column), min(column), max(column), sd)
