"""Drawing a paper's items by lot: so many for each row of its plan, no exhibit twice, the same for the same seed.

An item may fit several rows, as when its key names clauses of two sections. Whether a plan can be filled is
found by augmenting paths (a maximum matching between places of the plan and exhibits), so that a draw fails
only where no draw could succeed. Only items that show several exhibits at once are an exception: where two of
them overlap, one is left out and the draw made again.

Source of the method: H. W. Kuhn (1955), The Hungarian method for the assignment problem, Naval Research
Logistics Quarterly 2, in the form for unweighted graphs.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Ticket:
    """An item that can be drawn: the rows of the plan that it fits, and the exhibits that it shows."""

    item: int
    rows: frozenset[int]
    exhibits: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Draw:
    """`chosen`: (item, row) in the order of the paper. `short`: how many places of each row stay empty."""

    chosen: tuple[tuple[int, int], ...]
    short: tuple[int, ...]


def draw(wanted: Sequence[int], tickets: Iterable[Ticket], seed: int) -> Draw:
    """As many items as there are for rows that want so many each; the paper's order is drawn too."""
    chance = random.Random(seed)
    pool = sorted(tickets, key=lambda ticket: ticket.item)
    chance.shuffle(pool)
    seats = _seat(wanted, pool)
    while overlap := _overlapping(seats, pool):
        pool = [ticket for ticket in pool if ticket.item != overlap]
        seats = _seat(wanted, pool)
    chosen = sorted(seats.items())
    chance.shuffle(chosen)
    filled = [0] * len(wanted)
    for _item, row in chosen:
        filled[row] += 1
    return Draw(tuple(chosen), tuple(want - got for want, got in zip(wanted, filled, strict=True)))


def another(
    row: int, tickets: Iterable[Ticket], drawn: Iterable[int], out: Iterable[int], seed: int
) -> int | None:
    """An item for a place of this row that is not drawn and shows no drawn exhibit.

    Those that were swapped out come last, longest out first. None if there is none. `drawn` is the paper
    without the item that leaves.
    """
    known = {ticket.item: ticket for ticket in tickets}
    taken = set(drawn)
    seen = {exhibit for item in taken & known.keys() for exhibit in known[item].exhibits}
    fitting = sorted(
        item
        for item, ticket in known.items()
        if row in ticket.rows and item not in taken and not ticket.exhibits & seen
    )
    random.Random(f"{seed}:{row}").shuffle(fitting)
    earlier = {item: place for place, item in enumerate(out)}
    return min(fitting, key=lambda item: earlier.get(item, -1), default=None)


def order_for(items: Sequence[int], seed: int, number: int) -> list[int]:
    """The items in the order of one candidate's paper."""
    shuffled = list(items)
    random.Random(f"{seed}:{number}").shuffle(shuffled)
    return shuffled


def _seat(wanted: Sequence[int], pool: Sequence[Ticket]) -> dict[int, int]:
    """{item: row}: the most places that can be filled, each exhibit at most once."""
    by_row: dict[int, list[Ticket]] = {row: [] for row in range(len(wanted))}
    for ticket in pool:
        for row in ticket.rows & by_row.keys():
            by_row[row].append(ticket)
    holds: dict[object, tuple[int, int]] = {}  # what is shown: (place, item)
    places = [row for row, want in enumerate(wanted) for _ in range(want)]

    def find(place: int, tried: set[object]) -> bool:
        for ticket in by_row[places[place]]:
            shows = _shows(ticket)
            if shows in tried:
                continue
            tried.add(shows)
            if shows not in holds or find(holds[shows][0], tried):
                holds[shows] = (place, ticket.item)
                return True
        return False

    for place in range(len(places)):
        find(place, set())
    return {item: places[place] for place, item in holds.values()}


def _shows(ticket: Ticket) -> object:
    return next(iter(ticket.exhibits)) if len(ticket.exhibits) == 1 else f"item {ticket.item}"


def _overlapping(seats: dict[int, int], pool: Sequence[Ticket]) -> int | None:
    """An item that shows what another chosen one shows too, of the two the one with fewer exhibits."""
    taken: dict[int, Ticket] = {}
    for ticket in sorted(
        (ticket for ticket in pool if ticket.item in seats), key=lambda ticket: -len(ticket.exhibits)
    ):
        if any(exhibit in taken for exhibit in ticket.exhibits):
            return ticket.item
        taken |= dict.fromkeys(ticket.exhibits, ticket)
    return None
