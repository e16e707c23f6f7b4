"""The explanation set out as a ledger whose shown figures add up.

Rounded one by one, 56.94 and 13.33 would show as 56.9 and 13.3 under a total of 70.3. So the total is rounded
first, and the lines by largest remainder: each is cut down to the last shown place, and the places missing
from the total go to the lines that lost most.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from itertools import groupby
from math import floor, fsum

from .explanation import Kind, Line

# A half that floating point left a hair short is still rounded up.
NOISE = 1e-9


@dataclass(frozen=True)
class LedgerRow:
    """One line as shown: its words, what could be won (None where nothing could), and what was."""

    text: str
    kind: Kind
    of: Decimal | None
    points: Decimal


@dataclass(frozen=True)
class LedgerGroup:
    """The rows that belong together: one entry of the key, or one mark that has none, or neither."""

    entry: int | None
    mark: int | None
    rows: tuple[LedgerRow, ...]


@dataclass(frozen=True)
class Ledger:
    """All groups, and the totals that their figures add up to."""

    groups: tuple[LedgerGroup, ...]
    of: Decimal
    points: Decimal


def set_out(lines: Sequence[Line], out_of: float = 100, places: int = 1) -> Ledger:
    """Set lines out as a ledger in points of `out_of`, rounded to so many decimal places.

    Lines of one entry make a group, led by the mark matched to it, if there is one.
    """
    points = round_to_total([line.points for line in lines], out_of, places)
    of = round_to_total([line.available or 0.0 for line in lines], out_of, places)
    rows = [
        (line, LedgerRow(line.text, line.kind, None if line.available is None else could, won))
        for line, could, won in zip(lines, of, points, strict=True)
    ]
    groups = []
    for _, together in groupby(rows, key=lambda row: _belongs(row[0])):
        members = list(together)
        first = members[0][0]
        groups.append(LedgerGroup(first.entry, first.mark, tuple(row for _, row in members)))
    return Ledger(tuple(groups), sum(of, Decimal(0)), sum(points, Decimal(0)))


def round_to_total(shares: Iterable[float], out_of: float = 100, places: int = 1) -> tuple[Decimal, ...]:
    """Scale shares by `out_of` and round them so that they add up to their rounded sum.

    The sum is rounded half up. No share moves by a whole last place or more, and 0 stays 0. Raises ValueError
    for a negative number of places.
    """
    if places < 0:
        raise ValueError(f"places is {places}; it must be 0 or more")
    exact = [share * out_of * 10**places for share in shares]
    whole = [floor(value) for value in exact]
    total = Decimal(repr(fsum(exact) + NOISE)).to_integral_value(ROUND_HALF_UP)
    by_remainder = sorted(range(len(exact)), key=lambda place: whole[place] - exact[place])
    for place in by_remainder[: int(total) - sum(whole)]:
        whole[place] += 1
    return tuple(Decimal(value).scaleb(-places) for value in whole)


def _belongs(line: Line) -> tuple[int | None, int | None]:
    return (line.entry, None) if line.entry is not None else (None, line.mark)
