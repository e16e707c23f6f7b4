"""Small drawn scales: a dot with its interval."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.eye import Eye
from assessments.statistics.progress import Estimate

# Half the width of a scale, in the figure's own unit, and of the drawing, in its.
CRITERION_REACH = 1.5
LEVEL_REACH = 1.5
HALF = 270


@dataclass(frozen=True)
class Scale:
    """A sentence, and a dot with its 95 % bar on a line around "as the key"."""

    sentence: str
    low_word: str
    high_word: str
    dot: float
    low: float
    high: float


def faulting_scale(eye: Eye) -> Scale | None:
    """Over-faulting stands right: the criterion with its sign turned."""
    found = eye.detection
    if found is None or not found.enough:
        return None
    low, high = found.criterion_interval
    words = {
        "over-faults": _("You over-fault: %(value)s, between %(low)s and %(high)s."),
        "under-faults": _("You under-fault: %(value)s, between %(low)s and %(high)s."),
        None: _("Neither over- nor under-faulting can be told: %(value)s, between %(low)s and %(high)s."),
    }[found.tendency]
    turned = (
        (found.criterion, low, high) if found.tendency == "under-faults" else (-found.criterion, -high, -low)
    )
    return Scale(
        words % _told(dict(zip(("value", "low", "high"), turned, strict=True))),
        _("Under-faults: lets faults pass"),
        _("Over-faults: finds what is not there"),
        *(_place(value, CRITERION_REACH) for value in (-found.criterion, -high, -low)),
    )


def weighing_scale(eye: Eye) -> Scale | None:
    """Weighing heavier than the key stands right."""
    found = eye.bias
    if found is None or not found.enough:
        return None
    values = {"value": abs(found.mean), "low": found.low, "high": found.high}
    if found.low <= 0 <= found.high:
        words = _(
            "You weigh as the key does, as far as can be told: between %(low)s and %(high)s of a level."
        )
    elif found.mean < 0:
        values |= {"low": -found.high, "high": -found.low}
        words = _("You weigh lighter than the key: %(value)s of a level, between %(low)s and %(high)s.")
    else:
        words = _("You weigh heavier than the key: %(value)s of a level, between %(low)s and %(high)s.")
    return Scale(
        words % _told(values),
        _("Weighs lighter"),
        _("Weighs heavier"),
        *(_place(value, LEVEL_REACH) for value in (found.mean, found.low, found.high)),
    )


def _told(values: dict[str, float]) -> dict[str, str]:
    return {name: f"{value:.2f}".replace("-", "−") for name, value in values.items()}


def _place(value: float, reach: float) -> float:
    return round(max(-1.0, min(1.0, value / reach)) * HALF, 1)


def hatching(found: Estimate) -> str:
    """Which of the five hatchings a zone gets: more ink is surer."""
    if not found.enough:
        return "none"
    steps = ((0.5, "thin"), (0.7, "open"), (0.9, "close"))
    return next((name for limit, name in steps if found.mean < limit), "crossed")
