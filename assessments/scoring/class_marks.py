"""A class of exhibits: what is there (findings), and the order (placing).

The two stand on sheets of their own, as in the ring, and each is marked for itself. The findings of an exhibit
are faults named, without a spot: they are marked by the names alone, by the rules of `fault_marks` with all
credit on the name, so that a fault called in vain costs and a sound exhibit counts like any other. Each exhibit
counts alike. The placing is marked by cuts, see `placing`; without a place for every exhibit it is no placing.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from .explanation import Line, per_cent
from .fault_marks import FaultKey, FaultMark, score_fault_marks
from .marks import KeyEntry
from .placing import PlacingScore, rank_agreement, score_placing
from .rules import DEFAULT_RULES, MarkingRules
from .severity import SeverityLadder


def names_only(rules: MarkingRules) -> MarkingRules:
    """The rules of marks on an exhibit where all that is asked of a fault is its name."""
    return replace(rules, see=0.0, name=1.0, weigh=0.0)


@dataclass(frozen=True)
class ClassKey:
    """official: the exhibits, best first. cuts: the gaps between neighbours. total: points of a perfect placing.

    faults: for each exhibit the faults it has, entries of the whole dog; an exhibit without any is sound.
    labels: what each exhibit is called in the explanation. Raises ValueError for a fault with a region and for
    a share outside 0 to 1.

    share: what the findings count, 0 to 1; the placing counts the rest. 0: findings are not asked, or are shown
    beside the mark.
    """

    official: Sequence[Hashable]
    cuts: Sequence[float]
    labels: Mapping[Hashable, str] = field(hash=False)
    total: float = 50
    faults: Mapping[Hashable, Sequence[KeyEntry]] = field(default_factory=dict, hash=False)
    share: float = 0.0

    def __post_init__(self) -> None:
        if not 0 <= self.share <= 1:
            raise ValueError(f"share is {self.share}; it must lie between 0 and 1")
        if any(entry.region is not None for entries in self.faults.values() for entry in entries):
            raise ValueError("faults have regions; findings name faults of an exhibit without a spot")


@dataclass(frozen=True)
class Findings:
    """What was written about one exhibit: faults named (each with its clause, if it has one), or none found."""

    named: Sequence[tuple[str, str | None]] = ()
    nothing_found: bool = False


@dataclass(frozen=True)
class ClassScore:
    """How a class was marked. findings: the mean over the exhibits, 0 to 1, None where they were not asked.

    placing: the share of the total that the placing keeps. placed: its points and reversed pairs, and agreement:
    Kendall's tau (None where no pair has an order); both None without a whole placing. lines sum to the score;
    beside: the lines of findings that do not count.
    """

    score: float
    findings: float | None
    placing: float
    placed: PlacingScore | None
    agreement: float | None
    answered: bool
    lines: tuple[Line, ...] = field(repr=False)
    beside: tuple[Line, ...] = field(repr=False, default=())


def score_class(
    key: ClassKey,
    placing: Sequence[Hashable],
    findings: Mapping[Hashable, Findings] | None,
    ladder: SeverityLadder,
    rules: MarkingRules = DEFAULT_RULES,
) -> ClassScore:
    """Mark one answer. `placing` is in order, best first; `findings` None where they are not asked.

    Of the rules only what a fault called in vain costs, and the limit for missing a disqualifying one, count.
    Raises ValueError as `score_placing` does.
    """
    found, found_lines = (None, ()) if findings is None else _findings(key, findings, ladder, rules)
    share = 0.0 if findings is None else key.share
    whole = len(placing) == len(key.official)
    placed = score_placing(key.official, key.cuts, placing, key.total) if whole else None
    kept = placed.points / key.total if placed else 0.0
    counted = tuple(_scaled(line, share) for line in found_lines) if share else ()
    lines = (*counted, *_placing_lines(key, placed, 1 - share))
    written = any(one.named or one.nothing_found for one in (findings or {}).values())
    return ClassScore(
        score=min(1.0, max(0.0, sum(line.points for line in lines))),
        findings=found,
        placing=kept,
        placed=placed,
        agreement=_agreement(key, placing) if whole else None,
        answered=bool(placing) or written,
        lines=lines,
        beside=() if share else found_lines,
    )


def _agreement(key: ClassKey, placing: Sequence[Hashable]) -> float | None:
    return rank_agreement(key.official, placing, key.cuts) if any(key.cuts) else None


def _findings(
    key: ClassKey, findings: Mapping[Hashable, Findings], ladder: SeverityLadder, rules: MarkingRules
) -> tuple[float, tuple[Line, ...]]:
    lines: list[Line] = []
    for place, exhibit in enumerate(key.official):
        written = findings.get(exhibit, Findings())
        entries = tuple(key.faults.get(exhibit, ()))
        marks = [FaultMark(None, None, fault, None, clause) for fault, clause in written.named]
        score = score_fault_marks(FaultKey(entries), marks, ladder, names_only(rules), written.nothing_found)
        lines += [
            replace(_scaled(line, 1 / len(key.official)), text=text, entry=place, mark=None)
            for line, text in _worded(key, exhibit, entries, written, score.lines)
        ]
    return min(1.0, max(0.0, sum(line.points for line in lines))), tuple(lines)


def _worded(
    key: ClassKey,
    exhibit: Hashable,
    entries: Sequence[KeyEntry],
    written: Findings,
    lines: Sequence[Line],
) -> list[tuple[Line, str]]:
    """Each line with the exhibit and the faults it is about, since findings have no pins to point at."""
    worded = []
    for line in lines:
        about = [entries[line.entry].fault] if line.entry is not None else []
        if line.mark is not None and (said := written.named[line.mark][0]) not in about:
            about.append(f"called “{said}”" if about else said)
        words = f"{', '.join(about)}. {line.text}" if about else line.text
        worded.append((line, f"{key.labels[exhibit]}: {words}"))
    return worded


def _scaled(line: Line, by: float) -> Line:
    available = None if line.available is None else line.available * by
    return replace(line, points=line.points * by, available=available)


def _placing_lines(key: ClassKey, placed: PlacingScore | None, share: float) -> tuple[Line, ...]:
    if placed is None:
        words = "Not every exhibit was given a place, so that there is no placing to mark"
        return (Line(words, 0.0, "unanswered", available=share),)
    lines = [Line(f"Placing: {key.total:g} points, less what is lost", share, "placed", available=share)]
    for (above, below), loss in zip(placed.reversed_pairs, placed.losses, strict=True):
        pair = f"{key.labels[above]} belongs above {key.labels[below]}"
        words = f"{pair}: loses {loss:g}" if loss else f"{pair}, but they may stand either way: loses nothing"
        lines.append(Line(words, -share * loss / key.total, "reversed"))
    if placed.lost > key.total:
        back = share * (placed.lost - key.total) / key.total
        lines.append(Line("A placing does not fall below 0", back, "floor"))
    return tuple(lines)


def class_in_words(rules: MarkingRules = DEFAULT_RULES) -> tuple[str, ...]:
    """The rules as sentences that a trainee can read before answering."""
    return (
        "Placing a class: a perfect placing of four has 50 points, of more exhibits as many as the key says. The key "
        "has cuts, the size of the gap between neighbours; each pair that stands the wrong way round loses the cuts "
        "between the two. Where a cut is 0, the pair may stand either way.",
        "Without a place for every exhibit there is no placing, and it earns nothing.",
        "Findings are marked by name: each exhibit counts alike, each fault of the key by its weight, another fault "
        f"of the same clause half, and a fault called in vain costs {per_cent(rules.false_alarm)} of its weight. Where "
        "there is none, say that nothing was found.",
        "The item says whether findings count: then they make one half of the mark and the placing the other. "
        "Otherwise the placing alone makes it, and findings are shown beside.",
    )
