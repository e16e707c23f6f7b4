"""Rules about assessments that pages and actions share."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from decimal import Decimal
from typing import Any

from assessments.models import Adjustment, Mark, Regulations
from courses.refusals import NotReady, Refused

__all__ = [
    "GRACE",
    "VISIBLE",
    "NotReady",
    "PlanRow",
    "Refused",
    "adjusted_points",
    "letter",
    "panel_passes",
    "pass_fraction",
    "plan_of",
    "points_of",
    "shown_points",
    "standing_points",
    "suggested_minutes",
]

# Below this a change of the shown mark cannot be seen.
VISIBLE = 0.0005
# A save that was on its way when a paper's time ended is still taken.
GRACE = datetime.timedelta(seconds=30)


@dataclass(frozen=True)
class PlanRow:
    """So many items of a kind on one section of the standard, or so many sound exhibits.

    `section` is None for sound exhibits and for items that touch no section.
    """

    section: int | None
    kind: str
    sound: bool
    wanted: int

    def kept(self) -> dict[str, Any]:
        """As it is kept with the paper."""
        return asdict(self)


def plan_of(kept: Iterable[dict[str, Any]]) -> list[PlanRow]:
    """The rows of a kept plan."""
    return [PlanRow(**row) for row in kept]


def pass_fraction(regulations: Regulations) -> float:
    """The pass mark as a fraction of the paper."""
    return float(regulations.pass_mark) / 100


def suggested_minutes(items: int) -> int:
    """1.5 minutes a question, 5 to read and 5 to check: a breed club's published rules for examinations."""
    return math.ceil(1.5 * items) + 10


def shown_points(mark: Mark) -> Decimal:
    """The mark out of 100 as shown, to one decimal: an adjustment adds to this, not to hidden digits."""
    return points_of(mark.score)


def points_of(score: float) -> Decimal:
    """A fraction of 1 as points of 100 to one decimal."""
    return Decimal(str(round(score * 100 + 1e-9, 1)))


def standing_points(mark: Mark, adjustment: Adjustment | None) -> Decimal:
    """The mark that counts, out of 100: as shown, with a standing adjustment, kept within 0 and 100."""
    return adjusted_points(mark.score, adjustment.points if adjustment else None)


def adjusted_points(score: float, by: Decimal | None) -> Decimal:
    """The same from a fraction of 1 and the points by which it was adjusted, if it was."""
    return max(Decimal(0), min(Decimal(100), points_of(score) + (by or 0)))


def letter(position: int) -> str:
    """A, B, … Z, AA: the italic letter of a key's entry."""
    return chr(65 + position) if position < 26 else letter(position // 26 - 1) + letter(position % 26)


def panel_passes(passes: int, needed: int) -> bool:
    """Whether so many assessors who say *pass* are as many as are needed."""
    return passes >= needed
