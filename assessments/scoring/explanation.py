"""Why an answer scores what it scores: one line after the other, and the rules in words."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, overload

from .matching import Match
from .rules import MarkingRules
from .severity import SeverityLadder

if TYPE_CHECKING:
    from .fault_marks import FaultMarkScore

CapReason = Literal["missed", "not weighed", "overclaimed"]
Kind = Literal[
    "unanswered", "nothing found", "sound", "seen", "named", "weighed", "missed", "repeat", "false alarm",
    "floor", "cap", "placed", "chosen", "clause", "reversed", "gap", "rubric",
]  # fmt: skip


@dataclass(frozen=True)
class Line:
    """One line of the explanation. Unpacks and indexes as (text, points).

    text: an English sentence for the screen. points: what it adds, as a fraction of 1. kind: what it is
    about. entry, mark: the entry of the key and the mark it belongs to, as indices, where it has one.
    available: the most that it could add; None where nothing could be won.
    """

    text: str
    points: float
    kind: Kind
    entry: int | None = None
    mark: int | None = None
    available: float | None = None

    def __iter__(self) -> Iterator[Any]:
        yield self.text
        yield self.points

    def __len__(self) -> int:
        return 2

    @overload
    def __getitem__(self, place: Literal[0]) -> str: ...
    @overload
    def __getitem__(self, place: Literal[1]) -> float: ...
    def __getitem__(self, place: int) -> str | float:
        return (self.text, self.points)[place]


def explain(score: "FaultMarkScore") -> tuple[Line, ...]:
    """Return the lines of a score: entries in the key's order, false alarms, then what limits the mark.

    The points of all lines sum to the score.
    """
    lines = [*_opening(score), *_entries(score), *_false_alarms(score)]
    uncut = sum(line.points for line in lines)
    if uncut < 0:
        lines.append(Line("The mark does not fall below 0", -uncut, "floor"))
    if score.capped:
        lines.append(Line(_cap_text(score), score.score - score.uncapped, "cap"))
    return tuple(lines)


def _opening(score: "FaultMarkScore") -> Iterator[Line]:
    sound, sought = score.marking.key.sound, score.marking.rules.sought
    available = 1.0 if sound else None
    if not score.answered:
        yield Line("Not answered", 0.0, "unanswered", available=available)
    elif score.nothing_found and sound:
        yield Line("Nothing found, as the key has it", 1.0, "nothing found", available=available)
    elif score.nothing_found:
        yield Line("Nothing found", 0.0, "nothing found")
    elif sound:
        yield Line(f"The key has no {sought} here", 1.0, "sound", available=available)


def _entries(score: "FaultMarkScore") -> Iterator[Line]:
    marking = score.marking
    matches = {match.entry: match for match in score.matches}
    for entry, weight in enumerate(marking.weights):
        if entry in matches:
            yield from _match(score, matches[entry])
        else:
            yield Line("Not marked", 0.0, "missed", entry, available=weight / marking.total)


def _match(score: "FaultMarkScore", match: Match) -> Iterator[Line]:
    rules, share = score.marking.rules, score.marking.weights[match.entry] / score.marking.total
    earned = share * match.location
    parts: tuple[tuple[Kind, float, float, str], ...] = (
        ("seen", rules.see, 1.0, _seen(score, match)),
        ("named", rules.name, match.name, _named(score, match)),
        ("weighed", rules.weigh, match.weigh, _weighed(score, match)),
    )
    for kind, part, credit, text in parts:
        if part > 0:
            yield Line(text, earned * part * credit, kind, match.entry, match.mark, share * part)
    for mark, entry in zip(score.repeats, score.repeat_of, strict=True):
        if entry == match.entry:
            yield Line("Marked again, which costs nothing", 0.0, "repeat", entry, mark)


def _seen(score: "FaultMarkScore", match: Match) -> str:
    if score.marking.key.entries[match.entry].region is None:
        return "Seen: on the whole dog"
    if match.location == 1:
        return "Seen: inside the region"
    return f"Seen: outside the region, so that all parts count {per_cent(match.location)}"


def _named(score: "FaultMarkScore", match: Match) -> str:
    mark, entry = score.marks[match.mark], score.marking.key.entries[match.entry]
    if mark.fault is None:
        return "Not named"
    if mark.fault == entry.fault:
        return "Named: as the key has it"
    if mark.fault in entry.also:
        return f"Named: otherwise than the key, which the panel counts {per_cent(match.name)}"
    if match.name > 0:
        return f"Named: another {score.marking.rules.sought} of the same clause, which counts half"
    return f"Named: another {score.marking.rules.sought} than the key has"


def _weighed(score: "FaultMarkScore", match: Match) -> str:
    marking, mark = score.marking, score.marks[match.mark]
    if mark.level is None:
        return "Not weighed"
    label = marking.ladder.labels[mark.level]
    if match.name == 0:
        return f"Weighed: {label}, which cannot count without the name"
    key = marking.key.entries[match.entry].level
    if match.weigh < marking.agreement[match.entry][mark.level]:
        return _weighed_again(score, match, key)
    return f"Weighed: {label}, {against(mark.level, key)}"


def _weighed_again(score: "FaultMarkScore", match: Match, key: int) -> str:
    """The words where a repeat, weighed further from the key, decides."""
    marking = score.marking
    levels = [
        level
        for mark, entry in zip(score.repeats, score.repeat_of, strict=True)
        if entry == match.entry
        and (level := score.marks[mark].level) is not None
        and marking.agreement[entry][level] == match.weigh
        and marking.key.entries[entry].name_credit(score.marks[mark].fault, score.marks[mark].clause) > 0
    ]
    if not levels:
        return "Weighed: again on a mark without the name, so that it cannot count"
    return f"Weighed: again as {marking.ladder.labels[levels[0]]}, {against(levels[0], key)}"


def against(given: int, key: int) -> str:
    if given == key:
        return "as the key has it"
    apart = abs(given - key)
    number = {1: "one level", 2: "two levels", 3: "three levels"}.get(apart, f"{apart} levels")
    return f"{number} {'light' if given < key else 'heavy'}"


def _false_alarms(score: "FaultMarkScore") -> Iterator[Line]:
    marking, sought = score.marking, score.marking.rules.sought
    for number in score.false_alarms:
        mark = score.marks[number]
        if marking.key.sound:
            points = -marking.hefts[mark.level] / marking.ladder.heaviest_fault
        else:
            points = -marking.costs[mark.level] / marking.total
        text = f"Called a {sought} where there is none"
        if number in score.further:
            text = f"Called one more {sought} than the key has here"
        yield Line(text + _called(score, mark.level), points, "false alarm", mark=number)


def _called(score: "FaultMarkScore", level: int | None) -> str:
    labels, rules = score.marking.ladder.labels, score.marking.rules
    if level is not None:
        return f", {labels[level]}"
    return f", not weighed, counted as {labels[rules.unweighed_level]}" if rules.weigh > 0 else ""


def _cap_text(score: "FaultMarkScore") -> str:
    top = score.marking.ladder.labels[-1]
    why = {
        "missed": f"A {score.marking.rules.sought} that is {top} was not marked",
        "not weighed": f"A {score.marking.rules.sought} that is {top} was not weighed so",
        "overclaimed": f"Called {top} what the key does not",
    }[score.cap_reason or "missed"]
    return f"{why}: at most {of_hundred(score.marking.rules.disqualifying_cap)}"


def rules_in_words(rules: MarkingRules, ladder: SeverityLadder, reach: str = "") -> tuple[str, ...]:
    """Return the rules as sentences that a trainee can read before answering.

    reach: how far a pin reaches, in words, where the quiz sets it by something else than the picture's size.
    """
    sought, weighs = rules.sought, rules.weigh > 0
    reach = reach or f"{per_cent(rules.tolerance)} of the picture’s longer side"
    weights = ", ".join(
        f"{label} {weight:g}" for label, weight in zip(ladder.labels, ladder.weights, strict=True)
    )
    shares = [f"{per_cent(rules.see)} for seeing it", f"{per_cent(rules.name)} for naming it"]
    if weighs:
        shares.append(f"{per_cent(rules.weigh)} for weighing it")
    counts = "its weight" if weighs else "the severity of its opposite, as the key settles it"
    costs = f"{per_cent(rules.false_alarm)} of its weight; without a level it counts as"
    if not weighs:
        costs = f"{per_cent(rules.false_alarm)} of the weight of"
    takes = "its weight" if weighs else f"{ladder.weights[rules.unweighed_level]:g}"
    lines = [
        f"A {sought} counts by {counts}: {weights}.",
        f"Of its points, {', '.join(shares[:-1])} and {shares[-1]}.",
        f"A pin outside the region counts less the further away it is, and nothing from {reach}. All parts "
        "shrink with it.",
        f"Another {sought} of the same clause earns half of the naming. The panel may accept other names "
        "with part of the credit.",
        f"Marking the same {sought} again costs nothing"
        + (", but of several weighings the one furthest from the key counts." if weighs else "."),
        f"A {sought} called where there is none costs {costs} {ladder.labels[rules.unweighed_level]}.",
        f"Where the key has no {sought}, finding nothing earns everything, and each {sought} called takes "
        f"away {takes} out of {ladder.heaviest_fault:g}.",
    ]
    if weighs:
        lines.insert(
            3,
            f"Each level away from the key costs {per_cent(1 / ladder.top)} of the weighing. What was not "
            "recognised cannot be weighed.",
        )
    if ladder.disqualifying:
        lines.append(
            f"Whoever misses what is {ladder.labels[-1]}, weighs it lower, or calls {ladder.labels[-1]} "
            f"what is not, has at most {of_hundred(rules.disqualifying_cap)}."
        )
    return (*lines, "The mark does not fall below 0.")


def per_cent(share: float) -> str:
    return f"{100 * share:.3g} %"


def of_hundred(share: float) -> str:
    return f"{100 * share:.4g} of 100"
