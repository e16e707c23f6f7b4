"""The measures, each with its definition in words, and `measure`, which takes one with its uncertainty."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from courses.measures.catalogue import FACING, HEIGHT, MEASURES, Measure, found
from courses.measures.stance import MissingPoint, Stance

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    Points = Mapping[str, Sequence[float]]  # (x, y) or (x, y, sd_x, sd_y) by name

__all__ = [
    "CAMERAS",
    "MEASURES",
    "Measure",
    "Measurement",
    "MissingPoint",
    "measurable",
    "measure",
    "verdict",
]

# What the camera adds to the error, as a multiple of the usual.
CAMERAS = {"unknown": 1.0, "good": 0.4, "poor": 2.0, "exact": 0.0}

PLACEMENT_SD = 0.008
WITHIN_95 = 1.96


@dataclass(frozen=True, slots=True)
class Measurement:
    """`low`–`high` is the 95 % interval, value ± 1.96 · sd; `unit` is "°" or "" (a ratio)."""

    name: str
    value: float
    sd: float
    low: float
    high: float
    unit: str
    axis: str

    @property
    def from_horizontal(self) -> float | None:
        """The same shoulder in the other way of saying it: 30° from plumb is 60° from horizontal."""
        return 90 - self.value if self.name == "layback" else None


def measure(
    points: Points, name: str | Measure, *, placement_sd: float = PLACEMENT_SD, camera: str = "unknown"
) -> Measurement:
    """Take the measure `name` (a key of `MEASURES`, or one of the club's own) from placed points.

    `points` maps names to (x, y) or (x, y, sd_x, sd_y) in picture units. `placement_sd` is the standard
    deviation per axis of every point without its own, in units of the height at the withers (of the
    larger extent of all points, if withers or ground are missing). `camera` is a key of `CAMERAS`.
    Raises MissingPoint naming all that is missing, ValueError for points on which there is no value.
    """
    chosen = found(name)
    _check(placement_sd, camera)
    missing = _missing(chosen, points)
    if missing:
        raise MissingPoint(missing, chosen.label)
    view = chosen.view_of(points)
    stance = Stance(points, view)
    reading = chosen.reads[view](stance)
    value = reading.value + 0.0  # no minus before a zero
    seen = CAMERAS[camera] * chosen.camera_sd(value)
    sd = math.hypot(reading.sd(stance.sds(placement_sd)), seen)
    low, high = value - WITHIN_95 * sd, value + WITHIN_95 * sd
    axis = chosen.axis if stance.level_known else chosen.axis_without_ground
    return Measurement(chosen.name, value, sd, low, high, chosen.unit, axis)


def measurable(points: Points, view: str | None = None) -> list[str]:
    """Names of the measures (of one view) that these points allow."""
    return [
        name for name, each in MEASURES.items() if view in (None, *each.views) and not _missing(each, points)
    ]


def verdict(
    measurement: Measurement, low: float | None, high: float | None
) -> Literal["within", "outside", "cannot tell"]:
    """Set a measurement against the clause's range; None leaves an end open.

    "within" when the whole interval lies inside the range, "outside" when none of it does.
    """
    lowest = -math.inf if low is None else low
    highest = math.inf if high is None else high
    if not lowest <= highest:
        raise ValueError("The range ends before it begins.")
    if lowest <= measurement.low and measurement.high <= highest:
        return "within"
    if measurement.high < lowest or measurement.low > highest:
        return "outside"
    return "cannot tell"


def _check(placement_sd: float, camera: str) -> None:
    if not 0 <= placement_sd < math.inf:
        raise ValueError("The standard deviation of placing is a number of 0 or more.")
    if camera not in CAMERAS:
        raise ValueError(f"The camera is one of {', '.join(CAMERAS)}, not {camera!r}.")


def _missing(chosen: Measure, points: Points) -> list[str]:
    view = chosen.view_of(points)
    stance = Stance(points, view)
    missing = [name for name in chosen.points[view] if name not in points]
    grounds = [name for name in stance.ground_names if name not in points]
    no_line = HEIGHT in chosen.needs and not stance.ground
    no_facing = FACING in chosen.needs and not stance.level_known and not stance.facing
    return missing + (grounds if no_line or (no_facing and not missing) else [])
