"""The numbers that sections and clauses bear: "5", "5.1", "5.1a"."""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection, Sequence

MAX_LENGTH = 12
SHAPE = re.compile(r"[0-9A-Za-z]+(?:\.[0-9A-Za-z]+){0,3}")
_PIECE = re.compile(r"\d+|[A-Za-z]+")
_COUNTED = re.compile(r"(.*?)(\d+)([A-Za-z]?)$")


def sort_key(number: str) -> tuple[tuple[int, int | str], ...]:
    """Orders numbers as people do: 5.2 before 5.10, 5.1 before 5.1a."""
    return tuple((0, int(p)) if p.isdigit() else (1, p.lower()) for p in _PIECE.findall(number))


def in_order(numbers: Sequence[str]) -> bool:
    """Whether each number comes after the one before it."""
    keys = [sort_key(number) for number in numbers]
    return all(earlier < later for earlier, later in itertools.pairwise(keys))


def next_number(after: str, taken: Collection[str]) -> str:
    """A free number that comes after `after`: 5.2 after 5.1, or 5.1a where there is a 5.2 already."""
    counted = _COUNTED.match(after)
    if counted and not counted[3]:
        following = f"{counted[1]}{int(counted[2]) + 1}"
        if following not in taken:
            return following
    base = f"{counted[1]}{counted[2]}" if counted else after
    for letter in "abcdefghijklmnopqrstuvwxyz":
        if f"{base}{letter}" not in taken and sort_key(f"{base}{letter}") > sort_key(after):
            return f"{base}{letter}"
    return free_number(base, taken)


def free_number(stem: str, taken: Collection[str]) -> str:
    """The first of stem.1, stem.2, … that no other bears; a bare count for an empty stem."""
    dot = f"{stem}." if stem else ""
    return next(f"{dot}{n}" for n in range(1, len(taken) + 2) if f"{dot}{n}" not in taken)
