"""Choosing one or several of some options.

One is right: all or nothing. Several are right: each right one chosen adds its share, each wrong one chosen
takes the same share away, and the mark does not fall below 0. In the terms of IMS QTI (Assessment Test,
Section and Item Information Model, 2.1 and later) that is a mapped response in which every right option has
the value 1, every other −1, the lower bound is 0, and the sum is taken over the number of right options.
"""

from collections.abc import Collection, Hashable, Mapping
from dataclasses import dataclass, field

from .explanation import Line, per_cent


@dataclass(frozen=True)
class ChoiceScore:
    """How one choice was marked: score 0 to 1, how many right and wrong options were chosen.

    answered: False where nothing was chosen. lines sum to the score.
    """

    score: float
    right: int
    wrong: int
    answered: bool
    lines: tuple[Line, ...] = field(repr=False)


def score_choice(
    options: Mapping[Hashable, str],
    right: Collection[Hashable],
    chosen: Collection[Hashable],
    several: bool = False,
) -> ChoiceScore:
    """Mark what was chosen of `options`, which maps each option to the words for its line.

    `several`: whether more than one may be chosen. Raises ValueError for an option that is not offered, for a
    key without a right option, and where one is asked for and the key or the answer has more.
    """
    _check(options, right, chosen, several)
    if not chosen:
        blank = Line("Nothing was chosen", 0.0, "unanswered", available=1.0)
        return ChoiceScore(0.0, 0, 0, False, (blank,))
    share = 1 / len(set(right))
    takes = share if several else 0.0
    lines = []
    for option, words in options.items():
        if option in right and option in chosen:
            lines.append(Line(f"Chosen, and right: {words}", share, "chosen", available=share))
        elif option in right:
            lines.append(Line(f"Right, but not chosen: {words}", 0.0, "missed", available=share))
        elif option in chosen:
            lines.append(Line(f"Chosen, but not right: {words}", -takes, "false alarm"))
    sum_of_lines = sum(line.points for line in lines)
    if sum_of_lines < 0:
        lines.append(Line("The mark does not fall below 0", -sum_of_lines, "floor"))
    hits = sum(1 for option in set(chosen) if option in right)
    score = min(1.0, max(0.0, sum_of_lines))
    return ChoiceScore(score, hits, len(set(chosen)) - hits, True, tuple(lines))


def _check(
    options: Mapping[Hashable, str],
    right: Collection[Hashable],
    chosen: Collection[Hashable],
    several: bool,
) -> None:
    for what, given in (("right", right), ("chosen", chosen)):
        if unknown := [option for option in given if option not in options]:
            raise ValueError(f"{what} names {unknown[0]!r}, which is not among the options")
        if not several and len(set(given)) > 1:
            raise ValueError(f"{what} has {len(set(given))} options; only one may be")
    if not right:
        raise ValueError("right is empty: a key has at least one right option")


def earned_by_choosing_all(options: int, right: int) -> float:
    """What whoever chooses every option would earn, 0 to 1; 0 unless more than half are right."""
    return max(0.0, (right - (options - right)) / right)


def choice_in_words(several: bool, right: int | None = None) -> tuple[str, ...]:
    """The rules as sentences that a trainee can read before answering. `right`: how many are, where that may
    be told."""
    if not several:
        return ("One option is right: it earns everything, any other nothing.",)
    share = f" ({per_cent(1 / right)})" if right else ""
    return (
        f"Several options may be right. Each right one chosen earns an equal share{share}, each wrong one "
        "chosen takes the same share away.",
        "The mark does not fall below 0.",
    )
