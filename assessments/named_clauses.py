"""Clauses that an item names inside what it asks or in its key's content, by whatever kind.

Kinds keep the id of a clause under the name "clause", several as a list under "clauses"; what is named so can
be found, and followed into another edition.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any


def named_in(kept: Any) -> Iterator[int]:
    """The ids of all clauses that are named, in order, some perhaps more than once."""
    if isinstance(kept, dict):
        for name, value in kept.items():
            if name == "clause" and _is_id(value):
                yield value
            elif name == "clauses" and isinstance(value, list):
                yield from (each for each in value if _is_id(each))
            else:
                yield from named_in(value)
    elif isinstance(kept, list):
        for value in kept:
            yield from named_in(value)


def followed(kept: Any, follow: Callable[[int], int | None]) -> Any:
    """The same with each clause followed; one that is gone becomes None, and leaves a list of several."""
    if isinstance(kept, dict):
        return {name: _value(name, value, follow) for name, value in kept.items()}
    if isinstance(kept, list):
        return [followed(value, follow) for value in kept]
    return kept


def _value(name: str, value: Any, follow: Callable[[int], int | None]) -> Any:
    if name == "clause" and _is_id(value):
        return follow(value)
    if name == "clauses" and isinstance(value, list):
        return [now for each in value if (now := follow(each) if _is_id(each) else each) is not None]
    return followed(value, follow)


def _is_id(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)
