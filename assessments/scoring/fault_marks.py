"""Marks on an exhibit against its key: see, name, weigh.

`score_fault_marks` marks one answer, `score_many` any number of answers to one key. The rules in words:
`explanation.rules_in_words`.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice
from math import fsum

from .explanation import CapReason, Line, explain
from .marks import FaultKey, FaultMark, KeyEntry
from .matching import Marking, Match, Pair
from .rules import DEFAULT_RULES, VIRTUE_RULES, MarkingRules
from .severity import SeverityLadder

__all__ = [
    "DEFAULT_RULES",
    "VIRTUE_RULES",
    "FaultKey",
    "FaultMark",
    "FaultMarkScore",
    "KeyEntry",
    "MarkingRules",
    "Match",
    "score_fault_marks",
    "score_many",
]

# Answers looked at together by `score_many`: enough to spread the fixed costs, little to hold in memory.
TOGETHER = 1024


@dataclass(frozen=True)
class FaultMarkScore:
    """How one answer was marked. Entries and marks are indices into what was given.

    score: 0 to 1. seeing, naming, weighing: the three parts, 0 to 1, over all entries by weight, missed ones
    0; None for a sound exhibit. answered: False for a blank. matches: by entry. missed: entries without a
    mark. false_alarms: marks that call what the key does not have; further: those of them in reach of an entry,
    which has its mark already. repeats: marks that say again what a matched one
    says; repeat_of: the entry of each. capped: whether the score was lowered because the answer is wrong
    about a disqualification; cap_reason: in which way it is wrong, even where the score was lower anyway.
    """

    score: float
    seeing: float | None
    naming: float | None
    weighing: float | None
    answered: bool
    matches: tuple[Match, ...]
    missed: tuple[int, ...]
    false_alarms: tuple[int, ...]
    further: tuple[int, ...]
    repeats: tuple[int, ...]
    repeat_of: tuple[int, ...]
    capped: bool
    cap_reason: CapReason | None
    uncapped: float = field(repr=False)
    marking: Marking = field(repr=False, compare=False)
    marks: tuple[FaultMark, ...] = field(repr=False)
    nothing_found: bool = field(repr=False)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The explanation, in the order of a ledger; its points sum to the score."""
        return explain(self)


def score_fault_marks(
    key: FaultKey,
    marks: Sequence[FaultMark],
    ladder: SeverityLadder,
    rules: MarkingRules = DEFAULT_RULES,
    nothing_found: bool = False,
) -> FaultMarkScore:
    """Mark one answer.

    No marks and not `nothing_found` is a blank: unanswered, score 0. Raises ValueError for `nothing_found`
    together with marks, for a level that is not on the ladder, and for rules that do not fit the ladder.
    """
    return next(score_many(key, [(marks, nothing_found)], ladder, rules))


def score_many(
    key: FaultKey,
    answers: Iterable[tuple[Sequence[FaultMark], bool]],
    ladder: SeverityLadder,
    rules: MarkingRules = DEFAULT_RULES,
) -> Iterator[FaultMarkScore]:
    """Mark answers, each (marks, nothing_found), to one key: the same results as one by one, in order.

    Holds about a thousand answers at a time. The key is checked at once, each answer when its turn comes;
    raises ValueError as `score_fault_marks` does.
    """
    return _scores(Marking(key, ladder, rules), iter(answers))


def _scores(
    marking: Marking, answers: Iterator[tuple[Sequence[FaultMark], bool]]
) -> Iterator[FaultMarkScore]:
    while some := [(tuple(marks), nothing_found) for marks, nothing_found in islice(answers, TOGETHER)]:
        every = marking.pairs([marks for marks, _ in some])
        for (marks, nothing_found), pairs in zip(some, every, strict=True):
            _check(marking.ladder, marks, nothing_found)
            if marking.key.sound or not marks:
                yield _score_without_matches(marking, marks, nothing_found)
            else:
                yield _score_matches(marking, marks, pairs)


def _check(ladder: SeverityLadder, marks: Sequence[FaultMark], nothing_found: bool) -> None:
    if nothing_found and marks:
        raise ValueError(f"nothing_found comes with {len(marks)} marks: an answer says one or the other")
    top = ladder.top
    for number, mark in enumerate(marks):
        if mark.level is not None and mark.level > top:
            ladder.check(mark.level, f"mark {number}")


def _score_without_matches(
    marking: Marking, marks: tuple[FaultMark, ...], nothing_found: bool
) -> FaultMarkScore:
    """A blank, "nothing found", or anything said of a sound exhibit: nothing can be matched."""
    sound, answered = marking.key.sound, bool(marks) or nothing_found
    score = 0.0
    if sound and answered:
        called = fsum(marking.hefts[mark.level] for mark in marks)
        score = max(0.0, 1 - called / marking.ladder.heaviest_fault)
    part = None if sound else 0.0
    return FaultMarkScore(
        score=score,
        seeing=part,
        naming=part,
        weighing=part,
        answered=answered,
        matches=(),
        missed=tuple(range(len(marking.weights))),
        false_alarms=tuple(range(len(marks))),
        further=(),
        repeats=(),
        repeat_of=(),
        capped=False,
        cap_reason=_cap_reason(marking, marks, {}, {}),
        uncapped=score,
        marking=marking,
        marks=marks,
        nothing_found=nothing_found,
    )


def _score_matches(marking: Marking, marks: tuple[FaultMark, ...], pairs: Sequence[Pair]) -> FaultMarkScore:
    matched = marking.assign(marks, pairs)
    repeats = marking.repeats(marks, pairs, matched) if len(pairs) > len(matched) else {}
    matches = _matches(marking, marks, matched, repeats)
    kept = {match.mark for match in matches}.union(repeats)
    false_alarms = tuple([number for number in range(len(marks)) if number not in kept])
    lost = fsum([marking.costs[marks[number].level] for number in false_alarms]) / marking.total
    gained, seeing, naming, weighing = _shares(marking, matches)
    uncapped = min(max(gained - lost, 0.0), 1.0)
    cap_reason = _cap_reason(marking, marks, matched, repeats)
    score = min(uncapped, marking.rules.disqualifying_cap) if cap_reason else uncapped
    return FaultMarkScore(
        score=score,
        seeing=seeing,
        naming=naming,
        weighing=weighing,
        answered=True,
        matches=matches,
        missed=tuple([number for number in range(len(marking.weights)) if number not in matched]),
        false_alarms=false_alarms,
        further=_further(false_alarms, pairs) if false_alarms else (),
        repeats=tuple(repeats),
        repeat_of=tuple([pair.entry for pair in repeats.values()]),
        capped=score < uncapped,
        cap_reason=cap_reason,
        uncapped=uncapped,
        marking=marking,
        marks=marks,
        nothing_found=False,
    )


def _further(false_alarms: Sequence[int], pairs: Sequence[Pair]) -> tuple[int, ...]:
    near = {pair.mark for pair in pairs}
    return tuple([number for number in false_alarms if number in near])


def _shares(marking: Marking, matches: Sequence[Match]) -> tuple[float, float, float, float]:
    """Credit, location, name and weighing over all entries by weight, missed ones 0."""
    gained, seen, named, weighed = [], [], [], []
    for match in matches:
        weight = marking.weights[match.entry]
        here = weight * match.location
        gained.append(weight * match.credit)
        seen.append(here)
        named.append(here * match.name)
        weighed.append(here * match.weigh)
    total = marking.total
    return fsum(gained) / total, fsum(seen) / total, fsum(named) / total, fsum(weighed) / total


def _matches(
    marking: Marking, marks: Sequence[FaultMark], matched: dict[int, Pair], repeats: dict[int, Pair]
) -> tuple[Match, ...]:
    """The matches by entry, each weighed as the furthest from the key among its mark and its repeats."""
    weighed: dict[int, float] = {}
    for pair in repeats.values():
        if marks[pair.mark].level is not None:
            weighed[pair.entry] = min(weighed.get(pair.entry, 1.0), pair.weigh)
    rules, weights, total = marking.rules, marking.weights, marking.total
    found = []
    for number in sorted(matched):
        mark, entry, location, name, weigh, credit, _ = matched[number]
        if weighed.get(entry, 1.0) < weigh:
            weigh = weighed[entry]
            credit = location * (rules.see + rules.name * name + rules.weigh * weigh)
        found.append(Match(entry, mark, location, name, weigh, credit, weights[entry] * credit / total))
    return tuple(found)


def _cap_reason(
    marking: Marking, marks: Sequence[FaultMark], matched: dict[int, Pair], repeats: dict[int, Pair]
) -> CapReason | None:
    """In which way the answer is wrong about a disqualification, if it is."""
    if not marking.ladder.disqualifying:
        return None
    top = marking.ladder.top
    for entry in marking.disqualifying:
        if entry not in matched:
            return "missed"
        if marking.rules.weigh > 0 and marks[matched[entry].mark].level != top:
            return "not weighed"
    claims = {number for number, mark in enumerate(marks) if mark.level == top}
    if claims:
        paired = (*matched.values(), *repeats.values())
        claims -= {pair.mark for pair in paired if pair.entry in marking.disqualifying}
    return "overclaimed" if claims else None
