"""A fault that is shown and named: how severe is it?

Only the weighing is asked, so only it is marked: the linear agreement of the level given with the key's, as
in the weighing of marks on an exhibit, with the same limit for whoever is wrong about a disqualification.
"""

from dataclasses import dataclass, field
from typing import Literal

from .explanation import Line, against, of_hundred, per_cent
from .severity import SeverityLadder

WeighingReason = Literal["not weighed", "overclaimed"]


@dataclass(frozen=True)
class WeighingRules:
    """How a weighing is marked.

    disqualifying_cap: the highest score of an answer that is wrong about a disqualification. Raises
    ValueError where it lies outside 0 to 1.
    """

    disqualifying_cap: float = 0.50

    def __post_init__(self) -> None:
        if not 0 <= self.disqualifying_cap <= 1:
            raise ValueError(f"disqualifying_cap is {self.disqualifying_cap}; it must lie between 0 and 1")


@dataclass(frozen=True)
class WeighingScore:
    """How one weighing was marked.

    score: 0 to 1. weighing: the agreement of the two levels, 0 to 1, before any limit. answered: False where
    no level was given. capped: whether the score was lowered because the answer is wrong about a
    disqualification; cap_reason: in which way it is, even where the score was lower anyway. lines sum to the
    score.
    """

    score: float
    weighing: float
    answered: bool
    capped: bool
    cap_reason: WeighingReason | None
    lines: tuple[Line, ...] = field(repr=False)


def score_shown_fault(
    key: int, given: int | None, ladder: SeverityLadder, rules: WeighingRules | None = None
) -> WeighingScore:
    """Mark the level given to a shown fault; None is a blank: unanswered, score 0.

    Raises ValueError for a level that is not on the ladder.
    """
    rules = rules or WeighingRules()
    ladder.check(key, "the key")
    if given is None:
        blank = Line("Not weighed", 0.0, "unanswered", 0, available=1.0)
        return WeighingScore(0.0, 0.0, False, False, None, (blank,))
    ladder.check(given, "the answer")
    weighing = ladder.agreement(given, key)
    reason = _reason(key, given, ladder)
    score = min(weighing, rules.disqualifying_cap) if reason else weighing
    words = f"Weighed: {ladder.labels[given]}, {against(given, key)}"
    lines = [Line(words, weighing, "weighed", 0, 0, available=1.0)]
    if score < weighing:
        lines.append(Line(_cap_words(reason, ladder, rules), score - weighing, "cap"))
    return WeighingScore(score, weighing, True, score < weighing, reason, tuple(lines))


def _reason(key: int, given: int, ladder: SeverityLadder) -> WeighingReason | None:
    if ladder.disqualifies(key) == ladder.disqualifies(given):
        return None
    return "not weighed" if ladder.disqualifies(key) else "overclaimed"


def _cap_words(reason: WeighingReason | None, ladder: SeverityLadder, rules: WeighingRules) -> str:
    top = ladder.labels[-1]
    why = f"Called {top} what the key does not"
    if reason == "not weighed":
        why = f"A fault that is {top} was not weighed so"
    return f"{why}: at most {of_hundred(rules.disqualifying_cap)}"


def weighing_in_words(rules: WeighingRules, ladder: SeverityLadder) -> tuple[str, ...]:
    """The rules as sentences that a trainee can read before answering."""
    top = ladder.labels[-1]
    lines = [
        "A fault is shown and named: only its severity is asked.",
        f"The key’s level earns everything; each level away from it costs {per_cent(1 / ladder.top)}.",
    ]
    if ladder.disqualifying:
        lines.append(
            f"Whoever weighs lower what is {top}, or calls {top} what is not, has at most "
            f"{of_hundred(rules.disqualifying_cap)}."
        )
    return tuple(lines)
