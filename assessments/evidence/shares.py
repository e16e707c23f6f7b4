"""Clauses and zones by how often their faults are missed, misnamed and misweighed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from assessments.evidence import FEWEST
from assessments.models import EntryResult
from assessments.statistics.progress import Estimate, share_of

Outcome = EntryResult.Outcome
MISNAMED = frozenset({Outcome.OTHERWISE, Outcome.PARTLY, Outcome.PARTLY_OFF})
RECOGNISED = frozenset({Outcome.PARTLY, Outcome.PARTLY_OFF, Outcome.OFF, Outcome.AS_KEY})
MISWEIGHED = frozenset({Outcome.PARTLY_OFF, Outcome.OFF})


@dataclass(frozen=True)
class Share:
    """`n` times out of `of`, with the 90 % interval of the share behind it."""

    n: int
    of: int
    estimate: Estimate

    @property
    def share(self) -> float | None:
        """As a fraction; None of nothing."""
        return self.n / self.of if self.of else None

    @property
    def enough(self) -> bool:
        """Whether the interval is narrow enough to say something."""
        return self.estimate.enough


@dataclass(frozen=True)
class Row:
    """How the faults of one clause or zone fared. `people`: at least so many answered."""

    about: Any
    people: int
    asked: int
    missed: Share
    misnamed: Share
    misweighed: Share

    @property
    def told(self) -> bool:
        """Whether enough people answered that anything is said of them."""
        return self.people >= FEWEST


SORTS: dict[str, Callable[[Row], Share]] = {
    "missed": lambda row: row.missed,
    "misnamed": lambda row: row.misnamed,
    "misweighed": lambda row: row.misweighed,
}


@dataclass(frozen=True)
class Tally:
    """So many results of a clause in a zone with one outcome."""

    clause: int
    zone: str
    outcome: int
    n: int


def rows_of(tallies: Iterable[Tally], by: Callable[[Tally], Any], people: dict[Any, int]) -> list[Row]:
    """One row for each thing that `by` gives; `people` says how many answered about it."""
    counts: dict[Any, dict[int, int]] = {}
    for tally in tallies:
        outcomes = counts.setdefault(by(tally), {})
        outcomes[tally.outcome] = outcomes.get(tally.outcome, 0) + tally.n
    return [_row(about, outcomes, people.get(about, 0)) for about, outcomes in counts.items()]


def worst_first(rows: Iterable[Row], sort: str = "missed") -> list[Row]:
    """By the share named; those of which not enough is known come last."""

    def order(row: Row) -> tuple[bool, float]:
        share = SORTS[sort](row)
        return not (row.told and share.enough), -(share.share or 0.0)

    return sorted(rows, key=order)


def _row(about: Any, outcomes: dict[int, int], people: int) -> Row:
    def count(of: Iterable[int]) -> int:
        return sum(outcomes.get(outcome, 0) for outcome in of)

    asked, missed, recognised = count(Outcome.values), count({Outcome.MISSED}), count(RECOGNISED)
    return Row(
        about,
        people,
        asked,
        missed=share(missed, asked),
        misnamed=share(count(MISNAMED), asked - missed),
        misweighed=share(count(MISWEIGHED), recognised),
    )


def share(n: int, of: int) -> Share:
    """So many of so many, with its interval."""
    return Share(n, of, share_of(n, of))
