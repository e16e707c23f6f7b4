"""Mentors beside the rules and beside one another: how often they adjust a mark, and by how much."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assessments.evidence import FEWEST
from assessments.statistics.agreement import Bias, severity_bias


@dataclass(frozen=True)
class MentorRow:
    """One mentor: answers returned, how many of them adjusted, the mean size of an adjustment in points.

    `bias`: the mean of all changes over all returned answers, not adjusted ones being 0, with its 95 %
    interval; above 0 is milder than the rules. None for fewer than two answers.
    """

    name: str
    returned: int
    adjusted: int
    size: float | None
    bias: Bias | None

    @property
    def told(self) -> bool:
        """Whether enough answers were looked at to say anything."""
        return self.returned >= FEWEST


def mentor_rows(
    returned: Mapping[int, tuple[str, int]], adjustments: Iterable[tuple[int, float]]
) -> list[MentorRow]:
    """`returned`: each mentor's name and number of answers; `adjustments`: (mentor, signed points)."""
    changes: dict[int, list[float]] = {mentor: [] for mentor in returned}
    for mentor, points in adjustments:
        if mentor in changes:
            changes[mentor].append(points)
    rows = [_row(name, n, changes[mentor]) for mentor, (name, n) in returned.items()]
    return sorted(rows, key=lambda row: (not row.told, row.name))


def _row(name: str, returned: int, changes: list[float]) -> MentorRow:
    every = changes + [0.0] * (returned - len(changes))
    return MentorRow(
        name,
        returned,
        len(changes),
        size=sum(map(abs, changes)) / len(changes) if changes else None,
        bias=severity_bias(every, [0.0] * len(every)) if len(every) >= 2 else None,
    )
