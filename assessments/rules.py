"""Rules about assessments that pages and actions share."""

from __future__ import annotations

from decimal import Decimal

from assessments.models import Adjustment, Mark
from courses.refusals import NotReady, Refused

__all__ = ["VISIBLE", "NotReady", "Refused", "letter", "points_of", "shown_points", "standing_points"]

# Below this a change of the shown mark cannot be seen.
VISIBLE = 0.0005


def shown_points(mark: Mark) -> Decimal:
    """The mark out of 100 as shown, to one decimal: an adjustment adds to this, not to hidden digits."""
    return points_of(mark.score)


def points_of(score: float) -> Decimal:
    """A fraction of 1 as points of 100 to one decimal."""
    return Decimal(str(round(score * 100 + 1e-9, 1)))


def standing_points(mark: Mark, adjustment: Adjustment | None) -> Decimal:
    """The mark that counts, out of 100: as shown, with a standing adjustment, kept within 0 and 100."""
    points = shown_points(mark) + (adjustment.points if adjustment else 0)
    return max(Decimal(0), min(Decimal(100), points))


def letter(position: int) -> str:
    """A, B, … Z, AA: the italic letter of a key's entry."""
    return chr(65 + position) if position < 26 else letter(position // 26 - 1) + letter(position % 26)
