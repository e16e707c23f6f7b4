"""Which mark belongs to which entry of the key: location, name, matching and repeats."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from shared.geometry.polygons import within

from .marks import FaultKey, FaultMark
from .rules import MarkingRules
from .severity import SeverityLadder

Numbers = NDArray[np.intp]
Floats = NDArray[np.float64]

# Between marks that earn an entry alike, the one that would cost more as a false alarm is matched.
COST_TIE_BREAK = 1e-6


class Pair(NamedTuple):
    """One mark beside one entry in its reach, by their indices.

    location, name, weigh, credit: what it would earn there, 0 to 1. value: what matching it is worth.
    """

    mark: int
    entry: int
    location: float
    name: float
    weigh: float
    credit: float
    value: float


@dataclass(frozen=True, slots=True)
class Match:
    """A mark matched to an entry of the key, both as indices into what was given.

    location, name, weigh: the three parts, 0 to 1. credit: 0 to 1. points: what it adds to the score.
    """

    entry: int
    mark: int
    location: float
    name: float
    weigh: float
    credit: float
    points: float


class Marking:
    """A key, a ladder and rules, checked against one another and made ready for many answers.

    weights: the ladder's weight of each entry; total: their sum. hefts: the weight of a mark by its level,
    None for one without; costs: what it costs as a false alarm. disqualifying: the entries that do.
    agreement: by entry and level given.

    Raises ValueError where an entry's level is not on the ladder or the rules do not fit it.
    """

    def __init__(self, key: FaultKey, ladder: SeverityLadder, rules: MarkingRules) -> None:
        rules.check(ladder)
        for number, entry in enumerate(key.entries):
            ladder.check(entry.level, f"entry {number} of the key ({entry.fault})")
        self.key, self.ladder, self.rules = key, ladder, rules
        self.weights = [ladder.weights[entry.level] for entry in key.entries]
        self.total = fsum(self.weights)
        self.hefts: dict[int | None, float] = dict(enumerate(ladder.weights))
        self.hefts[None] = ladder.weights[rules.unweighed_level]
        self.costs = {level: rules.false_alarm * heft for level, heft in self.hefts.items()}
        self.disqualifying = [n for n, entry in enumerate(key.entries) if ladder.disqualifies(entry.level)]
        levels = range(len(ladder))
        self.agreement = [[ladder.agreement(given, entry.level) for given in levels] for entry in key.entries]
        self._prepare_places()
        self._prepare_tables()

    def _prepare_places(self) -> None:
        """Sort the entries, so that the order in which a key was written never decides anything."""
        entries = self.key.entries
        order = sorted(range(len(entries)), key=lambda number: entries[number].order)
        self._column = {number: place for place, number in enumerate(order)}
        self._rank = np.array([self._column[number] for number in range(len(entries))], dtype=np.intp)
        self._located = np.array([n for n in order if entries[n].region is not None], dtype=np.intp)
        self._shapes = [entries[number].shape for number in self._located]
        self._whole = [number for number in order if entries[number].region is None]

    def _prepare_tables(self) -> None:
        """The same figures as arrays; the last place, at −1, is for marks without a level."""
        levels = [*range(len(self.ladder)), None]
        self._weights = np.array(self.weights)
        self._costs = np.array([self.costs[level] for level in levels])
        self._agreement = np.array([[*row, 0.0] for row in self.agreement]).reshape(-1, len(levels))

    def pairs(self, answers: Sequence[Sequence[FaultMark]]) -> Iterator[list[Pair]]:
        """For each answer: every mark beside every entry with a location credit above 0, by mark and entry.

        A level above the ladder is taken for the highest; it is for the caller to refuse.
        """
        marks = [mark for answer in answers for mark in answer]
        starts = np.cumsum([0, *map(len, answers)])
        top = self.ladder.top
        given = np.array([-1 if mark.level is None else min(mark.level, top) for mark in marks], np.intp)
        said, names = self._name_credits(marks)
        mark, entry, location = self._reached(marks, said, names)
        level, name = given[mark], names[said[mark], entry]
        # What was not recognised cannot be weighed.
        weigh = np.where(name > 0, self._agreement[entry, level], 0.0)
        credit = location * (self.rules.see + self.rules.name * name + self.rules.weigh * weigh)
        value = self._weights[entry] * credit + COST_TIE_BREAK * self._costs[level]
        own = mark - starts[np.searchsorted(starts, mark, side="right") - 1]
        columns = (own, entry, location, name, weigh, credit, value)
        found = list(map(Pair._make, zip(*(column.tolist() for column in columns), strict=True)))
        for start, end in pairwise(np.searchsorted(mark, starts).tolist()):
            yield found[start:end]

    def _name_credits(self, marks: Sequence[FaultMark]) -> tuple[Numbers, Floats]:
        """What each mark says, as a row of a table of name credits by entry."""
        rows: dict[tuple[str | None, str | None], int] = {}
        said = [rows.setdefault((mark.fault, mark.clause), len(rows)) for mark in marks]
        credits = [[entry.name_credit(*says) for entry in self.key.entries] for says in rows]
        return np.array(said, dtype=np.intp), np.array(credits).reshape(len(rows), len(self.weights))

    def _reached(
        self, marks: Sequence[FaultMark], said: Numbers, names: Floats
    ) -> tuple[Numbers, Numbers, Floats]:
        """Marks, entries and locations above 0, ordered by mark, then by the entries' own order."""
        found = [self._reached_regions(marks)]
        for entry in self._whole:
            named = np.flatnonzero(names[said, entry] > 0)
            found.append((named, np.full(len(named), entry), np.ones(len(named))))
        mark, entries, location = (np.concatenate(columns) for columns in zip(*found, strict=True))
        order = np.lexsort((self._rank[entries], mark))
        return mark[order], entries[order], location[order]

    def _reached_regions(self, marks: Sequence[FaultMark]) -> tuple[Numbers, Numbers, Floats]:
        # A mark on the whole dog has no place, here NaN, which is near nothing.
        x = np.array([mark.x for mark in marks], dtype=np.float64)
        y = np.array([mark.y for mark in marks], dtype=np.float64)
        mark, region, apart = within(x, y, self._shapes, self.rules.tolerance)
        location = 1 - apart / self.rules.tolerance
        seen = location > 0
        return mark[seen], self._located[region[seen]], location[seen]

    def assign(self, marks: Sequence[FaultMark], pairs: Sequence[Pair]) -> dict[int, Pair]:
        """Match one mark to one entry so that the value of all matches is greatest: entry → pair."""
        alone = {pair.entry: pair for pair in pairs}
        if len(alone) == len(pairs) == len({pair.mark for pair in pairs}):
            return alone
        order = sorted(range(len(marks)), key=[mark.order for mark in marks].__getitem__)
        row = {number: place for place, number in enumerate(order)}
        at = {(row[pair.mark], self._column[pair.entry]): pair for pair in pairs}
        values = np.zeros((len(row), len(self._column)))
        for place, pair in at.items():
            values[place] = pair.value
        rows, columns = linear_sum_assignment(values, maximize=True)
        chosen = zip(rows.tolist(), columns.tolist(), strict=True)
        return {at[place].entry: at[place] for place in chosen if place in at}

    def repeats(
        self, marks: Sequence[FaultMark], pairs: Iterable[Pair], matched: dict[int, Pair]
    ) -> dict[int, Pair]:
        """Unmatched marks that only say again what a matched mark says: mark → its pair with that entry.

        Such a mark lies within reach of a matched entry and has no name, or the entry's, or the matched
        mark's. It belongs to the nearest entry of which that is true.
        """
        taken = {pair.mark for pair in matched.values()}
        found: dict[int, Pair] = {}
        for pair in pairs:
            if pair.mark in taken or pair.entry not in matched:
                continue
            fault = marks[pair.mark].fault
            again = fault is None or pair.name == 1 or fault == marks[matched[pair.entry].mark].fault
            if again and (pair.mark not in found or pair.location > found[pair.mark].location):
                found[pair.mark] = pair
        return found
