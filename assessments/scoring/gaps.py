"""Words set into the gaps of a clause.

Capitals, accents' encoding, spaces, hyphens and other punctuation make no difference. One slip of the pen is
forgiven in part in a word of six letters or more: one letter too many, too few or wrong, or two neighbours
changed over. F. J. Damerau, A technique for computer detection and correction of spelling errors,
Communications of the ACM 7 (3), 1964, found that four in five misspellings are of this kind. It is no slip
where what was written is a word of the standard itself: "inward" is not "onward".
"""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal
from unicodedata import normalize

from rapidfuzz.distance import DamerauLevenshtein

from .explanation import Line, per_cent

How = Literal["open", "right", "accepted", "slip", "wrong"]


@dataclass(frozen=True)
class GapRules:
    """slip: the credit for words with one slip, 0 to 1. slip_from: the letters a word needs to be forgiven one.

    Raises ValueError for a credit outside 0 to 1 and fewer than 2 letters.
    """

    slip: float = 0.75
    slip_from: int = 6

    def __post_init__(self) -> None:
        if not 0 <= self.slip <= 1:
            raise ValueError(f"slip is {self.slip}; it must lie between 0 and 1")
        if self.slip_from < 2:
            raise ValueError(f"slip_from is {self.slip_from}; a word of one letter has no slips")


@dataclass(frozen=True)
class Gap:
    """The words that the clause has, and other words accepted, each with its credit from 0 to 1."""

    words: str
    also: Mapping[str, float] = field(default_factory=dict, hash=False)

    def __post_init__(self) -> None:
        for words in (self.words, *self.also):
            if not plain(words):
                raise ValueError(f"{words!r} has no letter or figure: a gap needs words")
        for words, credit in self.also.items():
            if not 0 <= credit <= 1:
                raise ValueError(f"credit {credit} for {words!r} must be a number from 0 to 1")


@dataclass(frozen=True)
class Filled:
    """How one gap was filled: the credit, 0 to 1, and how it came about."""

    credit: float
    how: How


@dataclass(frozen=True)
class GapsScore:
    """How all gaps were marked; each counts alike. answered: False where all are open. lines sum to the score."""

    score: float
    filled: tuple[Filled, ...]
    answered: bool
    lines: tuple[Line, ...] = field(repr=False)


def plain(words: str) -> str:
    """Words as they are compared: one form of each letter, no capitals, single spaces, no punctuation."""
    letters = normalize("NFKC", normalize("NFKC", words).casefold())
    return " ".join(re.sub(r"[’'`´]", "", re.sub(r"[^\w’'`´]|_", " ", letters)).split())


def fill(
    gap: Gap, given: str, rules: GapRules | None = None, known: Collection[str] = (), typed: bool = True
) -> Filled:
    """Judge the words given for one gap.

    known: words of the standard in their `plain` form, none of which is a slip for another. typed: False where
    the words were chosen from some offered, among which there are no slips.
    """
    rules = rules or GapRules()
    words = plain(given)
    if not words:
        return Filled(0.0, "open")
    accepted = {plain(gap.words): 1.0} | {plain(also): credit for also, credit in gap.also.items()}
    accepted[plain(gap.words)] = 1.0
    for right, credit in accepted.items():
        if words.replace(" ", "") == right.replace(" ", ""):
            return Filled(credit, "right" if right == plain(gap.words) else "accepted")
    slips = [credit for right, credit in accepted.items() if typed and _is_slip(words, right, rules, known)]
    return Filled(max(slips) * rules.slip, "slip") if slips else Filled(0.0, "wrong")


def _is_slip(words: str, right: str, rules: GapRules, known: Collection[str]) -> bool:
    given, wanted = words.split(), right.split()
    if len(given) != len(wanted):
        return False
    differing = [pair for pair in zip(given, wanted, strict=True) if pair[0] != pair[1]]
    if len(differing) != 1:
        return False
    written, meant = differing[0]
    long_enough = meant.isalpha() and len(meant) >= rules.slip_from
    one_off = long_enough and DamerauLevenshtein.distance(written, meant, score_cutoff=1) == 1
    return one_off and written not in known


def score_gaps(
    gaps: Sequence[Gap],
    given: Sequence[str],
    rules: GapRules | None = None,
    known: Collection[str] = (),
    typed: bool = True,
) -> GapsScore:
    """Mark the words given for each gap, in order; an empty one was left open.

    `known` and `typed` as in `fill`. Raises ValueError for no gaps and for another number of words than gaps.
    """
    if not gaps:
        raise ValueError("gaps is empty: there is nothing to fill")
    if len(given) != len(gaps):
        raise ValueError(
            f"given has {len(given)} words for {len(gaps)} gaps; give one for each, empty if open"
        )
    filled = tuple(fill(gap, words, rules, known, typed) for gap, words in zip(gaps, given, strict=True))
    share = 1 / len(gaps)
    lines = tuple(
        Line(_words(gap, words, one), share * one.credit, "gap", entry, entry, share)
        for entry, (gap, words, one) in enumerate(zip(gaps, given, filled, strict=True))
    )
    answered = any(one.how != "open" for one in filled)
    return GapsScore(sum(line.points for line in lines), filled, answered, lines)


def _words(gap: Gap, given: str, filled: Filled) -> str:
    said = " ".join(given.split())
    return {
        "open": f"Left open; the clause has “{gap.words}”",
        "right": f"“{said}”, as the clause has it",
        "accepted": f"“{said}”, which counts {per_cent(filled.credit)}; the clause has “{gap.words}”",
        "slip": f"“{said}”, a slip for “{gap.words}”, which counts {per_cent(filled.credit)}",
        "wrong": f"“{said}”; the clause has “{gap.words}”",
    }[filled.how]


def gaps_in_words(rules: GapRules | None = None) -> tuple[str, ...]:
    """The rules as sentences that a trainee can read before answering."""
    rules = rules or GapRules()
    return (
        "Each gap counts alike. Capitals, spaces, hyphens and other punctuation make no difference.",
        f"One slip in a typed word of {rules.slip_from} letters or more still earns {per_cent(rules.slip)}: a "
        "letter too many, too few or wrong, or two changed over. Another word of the standard is not a slip.",
    )
