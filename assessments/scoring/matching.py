"""Which mark belongs to which entry of the key: location, name, matching and repeats."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import fsum

import numpy as np
from scipy.optimize import linear_sum_assignment

from shared.geometry.polygons import within

from .marks import FaultKey, FaultMark
from .rules import MarkingRules
from .severity import SeverityLadder

# Between marks that earn an entry alike, the one that would cost more as a false alarm is matched.
COST_TIE_BREAK = 1e-6

# Entries in reach of one mark, each with its location credit.
Reach = list[tuple[int, float]]


@dataclass(slots=True)
class Pair:
    """One mark beside one entry in its reach, by their indices, with the credit it would earn there."""

    mark: int
    entry: int
    location: float
    name: float
    weigh: float
    credit: float


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

    Raises ValueError where an entry's level is not on the ladder or the rules do not fit it.
    """

    def __init__(self, key: FaultKey, ladder: SeverityLadder, rules: MarkingRules) -> None:
        rules.check(ladder)
        for number, entry in enumerate(key.entries):
            ladder.check(entry.level, f"entry {number} of the key ({entry.fault})")
        self.key, self.ladder, self.rules = key, ladder, rules
        # Sorted, so that the order in which a key was written never decides anything.
        self.order = sorted(range(len(key.entries)), key=lambda number: key.entries[number].order)
        self.weights = [ladder.weights[entry.level] for entry in key.entries]
        self.total = fsum(self.weights)
        self.located = [number for number in self.order if key.entries[number].region is not None]
        self.shapes = [key.entries[number].shape for number in self.located]
        self.whole = [number for number in self.order if key.entries[number].region is None]
        self.agreement = [
            [ladder.agreement(given, entry.level) for given in range(len(ladder))] for entry in key.entries
        ]
        self._names: dict[tuple[str | None, str | None], list[float]] = {}

    def cost(self, mark: FaultMark) -> float:
        """What the mark costs as a false alarm, in weights of the ladder."""
        return self.rules.false_alarm * self.heft(mark)

    def heft(self, mark: FaultMark) -> float:
        """The ladder's weight of the mark's level, or of the level as which an unweighed mark counts."""
        return self.ladder.weights[self.rules.unweighed_level if mark.level is None else mark.level]

    def names(self, mark: FaultMark) -> list[float]:
        """The credit of the mark's name for every entry."""
        said = (mark.fault, mark.clause)
        if said not in self._names:
            self._names[said] = [entry.name_credit(*said) for entry in self.key.entries]
        return self._names[said]

    def reaches(self, answers: Sequence[Sequence[FaultMark]]) -> Iterator[list[Reach]]:
        """For each answer, for each of its marks: the located entries in its reach."""
        pinned = [mark for marks in answers for mark in marks if mark.x is not None]
        near = self._near(np.array([(mark.x, mark.y) for mark in pinned], dtype=np.float64).reshape(-1, 2))
        pin = -1
        for marks in answers:
            answer: list[Reach] = []
            for mark in marks:
                pin += mark.x is not None
                answer.append([] if mark.x is None else near.get(pin, []))
            yield answer

    def _near(self, points: np.ndarray) -> dict[int, Reach]:
        """For each point that has located entries in reach: those entries."""
        found: dict[int, Reach] = {}
        if not self.shapes or not len(points):
            return found
        pins, shapes, apart = within(points, self.shapes, self.rules.tolerance)
        locations = 1 - apart / self.rules.tolerance
        for pin, number, location in zip(pins.tolist(), shapes.tolist(), locations.tolist(), strict=True):
            if location > 0:
                found.setdefault(pin, []).append((self.located[number], location))
        return found

    def pairs(self, marks: Sequence[FaultMark], reach: Sequence[Reach]) -> list[Pair]:
        """Every mark beside every entry with a location credit above 0."""
        found = []
        for number, mark in enumerate(marks):
            names = self.names(mark)
            for entry, location in reach[number]:
                found.append(self._pair(number, mark, entry, location, names[entry]))
            for entry in self.whole:
                if names[entry] > 0:
                    found.append(self._pair(number, mark, entry, 1.0, names[entry]))
        return found

    def _pair(self, number: int, mark: FaultMark, entry: int, location: float, name: float) -> Pair:
        # What was not recognised cannot be weighed.
        weigh = self.agreement[entry][mark.level] if name > 0 and mark.level is not None else 0.0
        return Pair(number, entry, location, name, weigh, self.credit(location, name, weigh))

    def credit(self, location: float, name: float, weigh: float) -> float:
        """The credit of a mark for an entry, 0 to 1."""
        rules = self.rules
        return location * (rules.see + rules.name * name + rules.weigh * weigh)

    def assign(self, marks: Sequence[FaultMark], pairs: Sequence[Pair]) -> dict[int, Pair]:
        """Match one mark to one entry so that the weighted credit is greatest: entry → pair."""
        if len({pair.mark for pair in pairs}) == len({pair.entry for pair in pairs}) == len(pairs):
            return {pair.entry: pair for pair in pairs}
        rows = sorted(range(len(marks)), key=lambda number: marks[number].order)
        row = {number: place for place, number in enumerate(rows)}
        column = {number: place for place, number in enumerate(self.order)}
        values = np.zeros((len(rows), len(column)))
        at = {}
        for pair in pairs:
            place = row[pair.mark], column[pair.entry]
            gain = self.weights[pair.entry] * pair.credit
            values[place] = gain + COST_TIE_BREAK * self.cost(marks[pair.mark])
            at[place] = pair
        chosen = zip(*(side.tolist() for side in linear_sum_assignment(values, maximize=True)), strict=True)
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
