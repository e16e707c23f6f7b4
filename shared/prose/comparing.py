"""What changed from one edition of a standard to the next: which clause became which, and in which words.

Clauses belong together, in this order of trust: one was copied from the other; they have the same words; they
have the same number and share words; they share most of their words.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

SAME, REMOVED, ADDED = "same", "removed", "added"

_PIECE = re.compile(r"\w+(?:[-’']\w+)*|\s+|[^\w\s]")
_WORD = re.compile(r"\w+")
_SAME_NUMBER_SHARES = 0.2  # share of words (Dice) from which an equal number is believed
_MOST_WORDS_SHARED = 0.6  # the same without an equal number
_PAIRS_AT_MOST = 40_000  # pairs of left-over clauses that are compared by their words


@dataclass(frozen=True)
class Worded:
    """A clause for comparison; `origin` is the id of the earlier clause it was copied from, if any."""

    id: int
    number: str
    text: str
    origin: int | None = None


@dataclass(frozen=True)
class Change:
    """A run of text that stands in both wordings ("same"), in the old only, or in the new only."""

    kind: str
    text: str


def word_changes(old: str, new: str) -> list[Change]:
    """The runs from the old wording to the new: same and removed make the old, same and added the new."""
    before, after = _PIECE.findall(old), _PIECE.findall(new)
    steps = SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    runs = _without_gaps([("".join(before[i:j]), "".join(after[k:m])) for _op, i, j, k, m in steps])
    return [change for gone, come in runs for change in _told(gone, come)]


def match_clauses(old: Sequence[Worded], new: Sequence[Worded]) -> list[tuple[Worded | None, Worded | None]]:
    """Old and new clauses in pairs: in the order of the new ones, each removed one behind its predecessor."""
    pairs: dict[int, int] = {}
    for match in (_by_origin, _by_text, _by_number, _by_words):
        left_old = [clause for clause in old if clause.id not in pairs]
        matched = set(pairs.values())
        pairs |= match(left_old, [clause for clause in new if clause.id not in matched])
    return _in_reading_order(old, new, pairs)


def _without_gaps(runs: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Changes that only a space parts are one change."""
    found: list[tuple[str, str]] = []
    for place, (gone, come) in enumerate(runs):
        gap = gone == come and gone.isspace() and 0 < place < len(runs) - 1
        if found and (gap or (gone != come and found[-1][0] != found[-1][1])):
            found[-1] = (found[-1][0] + gone, found[-1][1] + come)
        else:
            found.append((gone, come))
    return found


def _told(gone: str, come: str) -> list[Change]:
    if gone == come:
        return [Change(SAME, gone)]
    return [Change(kind, text) for kind, text in ((REMOVED, gone), (ADDED, come)) if text]


def _by_origin(old: Sequence[Worded], new: Sequence[Worded]) -> dict[int, int]:
    there = {clause.id for clause in old}
    return {clause.origin: clause.id for clause in reversed(new) if clause.origin in there and clause.origin}


def _by_text(old: Sequence[Worded], new: Sequence[Worded]) -> dict[int, int]:
    waiting: dict[tuple[str, ...], list[int]] = {}
    for clause in old:
        waiting.setdefault(_words(clause), []).append(clause.id)
    found = {}
    for clause in new:
        if same := waiting.get(_words(clause)):
            found[same.pop(0)] = clause.id
    return found


def _by_number(old: Sequence[Worded], new: Sequence[Worded]) -> dict[int, int]:
    numbered = {clause.number: clause for clause in new}
    return {
        clause.id: numbered[clause.number].id
        for clause in old
        if clause.number in numbered and _shared(clause, numbered[clause.number]) >= _SAME_NUMBER_SHARES
    }


def _by_words(old: Sequence[Worded], new: Sequence[Worded]) -> dict[int, int]:
    if len(old) * len(new) > _PAIRS_AT_MOST:
        return {}
    alike = [(_shared(was, now), was.id, now.id) for was in old for now in new]
    found: dict[int, int] = {}
    for _share, was, now in sorted((pair for pair in alike if pair[0] >= _MOST_WORDS_SHARED), reverse=True):
        if was not in found and now not in found.values():
            found[was] = now
    return found


def _words(clause: Worded) -> tuple[str, ...]:
    return tuple(_WORD.findall(clause.text.lower()))


def _shared(one: Worded, other: Worded) -> float:
    """Dice's coefficient of the two clauses' words."""
    first, second = set(_words(one)), set(_words(other))
    return 2 * len(first & second) / (len(first) + len(second)) if first or second else 1.0


def _in_reading_order(
    old: Sequence[Worded], new: Sequence[Worded], pairs: dict[int, int]
) -> list[tuple[Worded | None, Worded | None]]:
    was = {pairs[clause.id]: clause for clause in old if clause.id in pairs}
    follow: dict[int | None, list[Worded]] = {}
    before: int | None = None
    for clause in old:
        if clause.id in pairs:
            before = pairs[clause.id]
        else:
            follow.setdefault(before, []).append(clause)
    found: list[tuple[Worded | None, Worded | None]] = [(clause, None) for clause in follow.get(None, [])]
    for clause in new:
        found.append((was.get(clause.id), clause))
        found += [(gone, None) for gone in follow.get(clause.id, [])]
    return found
