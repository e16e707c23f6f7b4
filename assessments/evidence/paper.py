"""A quiz as a paper: how its items behave, and how far its marks can be relied upon."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from assessments.statistics.cut_score import decide
from assessments.statistics.item_analysis import (
    PEOPLE_FOR_FIGURES,
    Flag,
    Floats,
    ItemAnalysis,
    analyse,
)


@dataclass(frozen=True)
class ItemFigures:
    """One item; None where a figure cannot be known. See `statistics.item_analysis`."""

    item: int
    presented: int
    facility: float
    discrimination: float | None
    upper_lower: float | None
    alpha_without: float | None
    flags: tuple[Flag, ...]


@dataclass(frozen=True)
class PaperFigures:
    """A whole quiz: `marks` are the people's mean scores in ascending order, without names."""

    people: int
    mean: float | None
    sd: float | None
    alpha: float | None
    sem: float | None
    marks: tuple[float, ...]
    items: tuple[ItemFigures, ...]

    @property
    def enough(self) -> bool:
        """Whether so many people answered that the figures may be acted upon."""
        return self.people >= PEOPLE_FOR_FIGURES

    @property
    def flagged(self) -> int:
        """How many items should be looked at."""
        return sum(bool(item.flags) for item in self.items)

    def to_data(self) -> dict[str, Any]:
        """The same in numbers, words and None, fit for JSON."""
        return asdict(self)

    @classmethod
    def from_data(cls, data: dict[str, Any]) -> PaperFigures:
        """What `to_data` made."""
        items = tuple(ItemFigures(**{**each, "flags": tuple(each["flags"])}) for each in data["items"])
        return cls(**{**data, "marks": tuple(data["marks"]), "items": items})


def paper_figures(scores: Iterable[tuple[int, int, float]]) -> PaperFigures:
    """From (person, item, score) of one sitting each; who was not given an item has no score for it."""
    table, items = _table(list(scores))
    people = len(table)
    if not people:
        return PaperFigures(0, None, None, None, None, (), ())
    means = np.nanmean(table, axis=1)
    found = analyse(table) if min(table.shape) >= 2 else None
    return PaperFigures(
        people=people,
        mean=float(means.mean()),
        sd=_known(found.sd) if found else None,
        alpha=_known(found.alpha) if found else None,
        sem=_known(found.sem) if found else None,
        marks=tuple(sorted(round(float(mean), 4) for mean in means)),
        items=tuple(_item(table, found, place, item) for place, item in enumerate(items)),
    )


def borderline(found: PaperFigures, cut: float) -> int:
    """How many people's marks lie too near a cut to be left to figures; all while the error is not known."""
    return sum(decide(mark, cut, found.sem) == "borderline" for mark in found.marks)


def _table(scores: list[tuple[int, int, float]]) -> tuple[Floats, list[int]]:
    """People × items with NaN where an item was not presented, both in the order of their numbers."""
    if not scores:
        return np.empty((0, 0)), []
    person, item, score = zip(*scores, strict=True)
    people, rows = np.unique(person, return_inverse=True)
    items, columns = np.unique(item, return_inverse=True)
    table = np.full((len(people), len(items)), np.nan)
    table[rows, columns] = score
    return table, items.tolist()


def _item(table: Floats, found: ItemAnalysis | None, place: int, item: int) -> ItemFigures:
    presented = int(np.isfinite(table[:, place]).sum())
    if found is None:
        return ItemFigures(item, presented, float(np.nanmean(table[:, place])), None, None, None, ())
    return ItemFigures(
        item,
        presented,
        float(found.facility[place]),
        _known(found.discrimination[place]),
        _known(found.upper_lower[place]),
        _known(found.alpha_without[place]),
        found.flags[place],
    )


def _known(value: float) -> float | None:
    return None if math.isnan(value) else float(value)
