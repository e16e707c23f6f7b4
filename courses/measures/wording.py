"""Values as they are written: with their unit, half their interval, and a true minus sign."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from courses.measures.measures import Measurement


def value_of(taken: Measurement) -> str:
    """The value with half its 95 % interval: "35° ± 3", "0.95 ± 0.08", "35°" when it is exact."""
    digits = digits_of(taken.unit)
    half = (taken.high - taken.low) / 2
    around = f" ± {half:.{digits}f}" if round(half, digits) else ""
    return f"{signed(taken.value, digits)}{taken.unit}{around}"


def digits_of(unit: str) -> int:
    """Decimals that mean something: none in degrees, two in a ratio."""
    return 0 if unit else 2


def signed(number: float, digits: int) -> str:
    """With a true minus sign, and none before a zero."""
    return f"{round(number, digits) + 0.0:.{digits}f}".replace("-", "−")
