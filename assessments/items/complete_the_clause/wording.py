"""A clause's words, and the clause as it is seen with some of them left out. Places are counted in letters."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_WORD = re.compile(r"\w+(?:[’'‐-]\w+)*")


@dataclass(frozen=True)
class Word:
    """One word of a clause: what follows it up to the next, and where it stands in the text."""

    place: int
    text: str
    start: int
    end: int
    after: str


def bare(text: str) -> str:
    """A clause's text without the signs of Markdown."""
    return re.sub(r"[*_`]", "", text).strip()


def words_of(text: str) -> list[Word]:
    """In order."""
    found = list(_WORD.finditer(text))
    ends = [*(match.start() for match in found[1:]), len(text)][: len(found)]
    return [
        Word(place, match.group(), match.start(), match.end(), text[match.end() : following])
        for place, (match, following) in enumerate(zip(found, ends, strict=True))
    ]


def gaps_at(text: str, places: Iterable[int]) -> list[list[int]]:
    """The gaps that leave out the words at these places, as [start, end]; neighbours make one gap."""
    words = words_of(text)
    gaps: list[list[int]] = []
    for place in sorted(set(places)):
        word = words[place]
        if gaps and not text[gaps[-1][1] : word.start].strip():
            gaps[-1][1] = word.end
        else:
            gaps.append([word.start, word.end])
    return gaps


def left_out(text: str, gaps: Sequence[Sequence[int]]) -> list[str]:
    """The words of each gap."""
    return [text[start:end] for start, end in gaps]


def around(text: str, gaps: Sequence[Sequence[int]]) -> list[str]:
    """What stands before, between and after the gaps: one piece more than gaps."""
    ends = [0, *(end for _start, end in gaps)]
    starts = [*(start for start, _end in gaps), len(text)]
    return [text[end:start] for end, start in zip(ends, starts, strict=True)]
