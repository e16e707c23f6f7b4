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
from .matching import Marking, Match, Pair, Reach
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
    mark. false_alarms: marks called where there is none. repeats: marks that say again what a matched one
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
        reaches = marking.reaches([marks for marks, _ in some])
        for (marks, nothing_found), reach in zip(some, reaches, strict=True):
            _check(marking.ladder, marks, nothing_found)
            if marking.key.sound or not marks:
                yield _score_without_matches(marking, marks, nothing_found)
            else:
                yield _score_matches(marking, marks, reach)


def _check(ladder: SeverityLadder, marks: Sequence[FaultMark], nothing_found: bool) -> None:
    if nothing_found and marks:
        raise ValueError(f"nothing_found comes with {len(marks)} marks: an answer says one or the other")
    for number, mark in enumerate(marks):
        if mark.level is not None and mark.level > ladder.top:
            ladder.check(mark.level, f"mark {number}")


def _score_without_matches(
    marking: Marking, marks: tuple[FaultMark, ...], nothing_found: bool
) -> FaultMarkScore:
    """A blank, "nothing found", or anything said of a sound exhibit: nothing can be matched."""
    sound, answered = marking.key.sound, bool(marks) or nothing_found
    score = 0.0
    if sound and answered:
        called = fsum(marking.heft(mark) for mark in marks)
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
        repeats=(),
        repeat_of=(),
        capped=False,
        cap_reason=_cap_reason(marking, marks, {}, {}),
        uncapped=score,
        marking=marking,
        marks=marks,
        nothing_found=nothing_found,
    )


def _score_matches(marking: Marking, marks: tuple[FaultMark, ...], reach: Sequence[Reach]) -> FaultMarkScore:
    pairs = marking.pairs(marks, reach)
    matched = marking.assign(marks, pairs)
    repeats = marking.repeats(marks, pairs, matched) if len(pairs) > len(matched) else {}
    matches = _matches(marking, marks, matched, repeats)
    taken = {match.mark for match in matches}
    false_alarms = tuple(n for n in range(len(marks)) if n not in taken and n not in repeats)
    total = marking.total
    gained = fsum(marking.weights[match.entry] * match.credit for match in matches)
    lost = fsum(marking.cost(marks[number]) for number in false_alarms)
    uncapped = min(max((gained - lost) / total, 0.0), 1.0)
    cap_reason = _cap_reason(marking, marks, matched, repeats)
    score = min(uncapped, marking.rules.disqualifying_cap) if cap_reason else uncapped
    return FaultMarkScore(
        score=score,
        seeing=fsum(marking.weights[m.entry] * m.location for m in matches) / total,
        naming=fsum(marking.weights[m.entry] * m.location * m.name for m in matches) / total,
        weighing=fsum(marking.weights[m.entry] * m.location * m.weigh for m in matches) / total,
        answered=True,
        matches=matches,
        missed=tuple(number for number in range(len(marking.weights)) if number not in matched),
        false_alarms=false_alarms,
        repeats=tuple(sorted(repeats)),
        repeat_of=tuple(repeats[number].entry for number in sorted(repeats)),
        capped=score < uncapped,
        cap_reason=cap_reason,
        uncapped=uncapped,
        marking=marking,
        marks=marks,
        nothing_found=False,
    )


def _matches(
    marking: Marking, marks: Sequence[FaultMark], matched: dict[int, Pair], repeats: dict[int, Pair]
) -> tuple[Match, ...]:
    """The matches by entry, each weighed as the furthest from the key among its mark and its repeats."""
    weighed = {entry: pair.weigh for entry, pair in matched.items()}
    for pair in repeats.values():
        if marks[pair.mark].level is not None:
            weighed[pair.entry] = min(weighed[pair.entry], pair.weigh)
    found = []
    for entry, pair in sorted(matched.items()):
        weigh = weighed[entry]
        credit = pair.credit if weigh == pair.weigh else marking.credit(pair.location, pair.name, weigh)
        points = marking.weights[entry] * credit / marking.total
        found.append(Match(entry, pair.mark, pair.location, pair.name, weigh, credit, points))
    return tuple(found)


def _cap_reason(
    marking: Marking, marks: Sequence[FaultMark], matched: dict[int, Pair], repeats: dict[int, Pair]
) -> CapReason | None:
    """In which way the answer is wrong about a disqualification, if it is."""
    ladder, entries = marking.ladder, marking.key.entries
    if not ladder.disqualifying:
        return None
    entry_of = {pair.mark: pair.entry for pair in (*matched.values(), *repeats.values())}
    for number, entry in enumerate(entries):
        if entry.level == ladder.top:
            if number not in matched:
                return "missed"
            if marking.rules.weigh > 0 and marks[matched[number].mark].level != ladder.top:
                return "not weighed"
    for number, mark in enumerate(marks):
        if mark.level == ladder.top:
            belongs_to = entry_of.get(number)
            if belongs_to is None or entries[belongs_to].level != ladder.top:
                return "overclaimed"
    return None
