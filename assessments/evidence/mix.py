"""The mix of exhibits: how many are sound, and which faults they show at which severity, so that drift shows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Shown:
    """A fault of one exhibit, as its key says, or without a key as the exhibit's own record does."""

    exhibit: int
    fault: str
    zone: str
    level: int


@dataclass(frozen=True)
class FaultRow:
    """A fault over all exhibits: how many show it at each level, and in all."""

    fault: str
    zone: str
    levels: tuple[int, ...]
    exhibits: int
    share: float


@dataclass(frozen=True)
class Mix:
    """All exhibits: `sound` without a fault, `unsaid` of which nobody has said either."""

    exhibits: int
    sound: int
    unsaid: int
    faults: list[FaultRow]
    levels: tuple[int, ...]

    @property
    def sound_share(self) -> float | None:
        """Of those of which it is said; None of nothing."""
        said = self.exhibits - self.unsaid
        return self.sound / said if said else None


def mix_of(sound: Mapping[int, bool | None], shown: Iterable[Shown], levels: int) -> Mix:
    """`sound`: for each exhibit whether it is said to be, None where nothing is said."""
    places: dict[tuple[str, str], dict[int, set[int]]] = {}
    for each in shown:
        by_level = places.setdefault((each.fault, each.zone), {})
        by_level.setdefault(min(each.level, levels - 1), set()).add(each.exhibit)
    rows = [_row(fault, zone, by_level, levels, len(sound)) for (fault, zone), by_level in places.items()]
    return Mix(
        exhibits=len(sound),
        sound=sum(said is True for said in sound.values()),
        unsaid=sum(said is None for said in sound.values()),
        faults=sorted(rows, key=lambda row: (-row.exhibits, row.fault)),
        levels=tuple(sum(row.levels[level] for row in rows) for level in range(levels)),
    )


def _row(fault: str, zone: str, by_level: dict[int, set[int]], levels: int, of: int) -> FaultRow:
    exhibits = len(set().union(*by_level.values()))
    counts = tuple(len(by_level.get(level, ())) for level in range(levels))
    return FaultRow(fault, zone, counts, exhibits, exhibits / of)
