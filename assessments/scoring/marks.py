"""What is marked: the key of an exhibit, and the marks that a trainee puts on it.

Coordinates are in units of the picture's longer side, from its top left corner, so that a distance means
the same along both axes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import isfinite
from operator import index
from typing import Any

from shared.geometry.polygons import Shape, polygons, shape


@dataclass(frozen=True)
class KeyEntry:
    """One fault in the key.

    region: where it is: one simple polygon of at least 3 points, a sequence of polygons (both hocks), or
    None for a fault of the whole dog. It is kept as a tuple of polygons, or None.
    fault: its name. clause: the clause it offends against. zone: the part of the dog. level: its place on
    the severity ladder. also: other names that the panel accepts, each with its credit from 0 to 1.

    Raises ValueError for a region that is not made of simple polygons, an empty name, a level that is not
    a whole number from 0 up, or a credit outside 0 to 1.
    """

    region: Sequence[Any] | None
    fault: str
    clause: str | None
    zone: str | None
    level: int
    also: Mapping[str, float] = field(default_factory=dict, hash=False)

    def __post_init__(self) -> None:
        _name(self.fault, "fault")
        for what in ("clause", "zone"):
            if getattr(self, what) is not None:
                _name(getattr(self, what), what)
        also = {_name(name, "fault"): _credit(name, credit) for name, credit in self.also.items()}
        object.__setattr__(self, "region", None if self.region is None else polygons(self.region))
        object.__setattr__(self, "level", _level(self.level))
        object.__setattr__(self, "also", also)

    @cached_property
    def shape(self) -> Shape | None:
        """The region as one prepared shape; None for a fault of the whole dog."""
        return None if self.region is None else shape(self.region)

    @cached_property
    def order(self) -> tuple[Any, ...]:
        """Sorts entries alike, however they were given: x, y, fault, level, clause, then the rest.

        x and y are the left and upper bounds of the region; a fault of the whole dog comes first.
        """
        left, upper = (0.0, 0.0) if self.shape is None else self.shape.bounds[:2]
        first = (self.region is not None, left, upper, self.fault, self.level, self.clause or "")
        return (*first, tuple(self.region or ()), self.zone or "", tuple(sorted(self.also.items())))

    def name_credit(self, fault: str | None, clause: str | None) -> float:
        """How far a name is right: 1 the key's fault, the panel's credit for an accepted other, 0.5 another
        fault of the key's clause, else 0."""
        if fault is None:
            return 0.0
        if fault == self.fault:
            return 1.0
        if fault in self.also:
            return self.also[fault]
        return 0.5 if clause is not None and clause == self.clause else 0.0


@dataclass(frozen=True)
class FaultKey:
    """The faults of one exhibit. No entries: the exhibit is sound."""

    entries: tuple[KeyEntry, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "entries", tuple(self.entries))

    @property
    def sound(self) -> bool:
        """Whether there is nothing to find."""
        return not self.entries


@dataclass(frozen=True, slots=True)
class FaultMark:
    """One pin of a trainee: where, and, if said, which fault, how severe, by which clause.

    x = y = None is a mark on the whole dog. Raises ValueError if only one of the two is given, if one is
    not finite, for an empty name, and for a level that is not a whole number from 0 up.
    """

    x: float | None
    y: float | None
    fault: str | None = None
    level: int | None = None
    clause: str | None = None

    def __post_init__(self) -> None:
        if (self.x is None) != (self.y is None):
            raise ValueError(
                f"mark has x = {self.x} and y = {self.y}: give both, or neither for a mark on the whole dog"
            )
        if self.x is not None and not (_finite(self.x) and _finite(self.y)):
            raise ValueError(f"mark has x = {self.x} and y = {self.y}: both must be finite numbers")
        if self.fault is not None:
            _name(self.fault, "fault")
        if self.clause is not None:
            _name(self.clause, "clause")
        if self.level is not None:
            object.__setattr__(self, "level", _level(self.level))

    @property
    def order(self) -> tuple[Any, ...]:
        """Sorts marks alike, however they were given: x, y, fault, level, clause; the unsaid comes first."""
        x, y = (0.0, 0.0) if self.x is None or self.y is None else (self.x, self.y)
        level = -1 if self.level is None else self.level
        return (self.x is not None, x, y, self.fault or "", level, self.clause or "")


def _finite(value: Any) -> bool:
    try:
        return isfinite(value)
    except TypeError:
        return False


def _name(value: str, what: str) -> str:
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f"{what} {value!r} is not a name: give words, or None where nothing is said")
    return value


def _level(value: int) -> int:
    try:
        level = index(value)
    except TypeError as error:
        raise ValueError(f"level {value!r} is not a whole number: levels are counted from 0") from error
    if isinstance(value, bool) or level < 0:
        raise ValueError(f"level {value!r} is not a level: levels are whole numbers counted from 0")
    return level


def _credit(name: str, credit: float) -> float:
    if not (_finite(credit) and 0 <= credit <= 1):
        raise ValueError(f"credit {credit!r} for {name!r} must be a number from 0 to 1")
    return float(credit)
