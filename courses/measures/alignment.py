"""One dog laid over another by the points they share, and what differs between them."""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from courses.measures.measures import (
    MEASURES,
    PLACEMENT_SD,
    WITHIN_95,
    Measurement,
    MissingPoint,
    measurable,
    measure,
)
from courses.measures.stance import facing
from shared.geometry.planes import Similarity, fit_similarity

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from courses.measures.measures import Points

    Floats = NDArray[np.float64]

__all__ = ["Difference", "Similarity", "align", "difference", "differences"]

_IN_LINE = 1e-6


@dataclass(frozen=True, slots=True)
class Difference:
    """`difference` is target − source; it `exceeds` when it is beyond 1.96 · the joint `sd`."""

    name: str
    source: Measurement
    target: Measurement
    difference: float
    sd: float
    exceeds: bool


def align(source: Points, target: Points, *, reflect: bool | Literal["auto"] = "auto") -> Similarity:
    """The least-squares similarity (Umeyama 1991) that lays `source` over `target` by their shared points.

    `reflect` says whether to mirror; "auto" fits both ways and keeps the one that leaves the smaller rms.
    Two points, or points in line, fit both ways alike: there the dogs are made to face the same way.
    Raises MissingPoint naming the points that would help when fewer than two are shared, ValueError when
    the shared ones coincide.
    """
    shared = [name for name in source if name in target]
    if len(shared) < 2:
        helpful = sorted(source.keys() ^ target.keys()) or ["withers", "point_of_buttock"]
        raise MissingPoint(helpful, "Laying one dog over another")
    start, end = _places(source, shared), _places(target, shared)
    if reflect != "auto":
        return fit_similarity(start, end, reflected=reflect)
    if _in_line(start) or _in_line(end):
        return fit_similarity(start, end, reflected=facing(source) * facing(target) < 0)
    return _closer(start, end)


def differences(
    source: Points,
    target: Points,
    *,
    placement_sd: float = PLACEMENT_SD,
    cameras: tuple[str, str] = ("unknown", "unknown"),
) -> list[Difference]:
    """Every measure that both sets of points allow, in the order of `MEASURES`.

    `cameras` are those of source and target.
    """
    both = set(measurable(source)) & set(measurable(target))
    return [
        difference(
            measure(source, name, placement_sd=placement_sd, camera=cameras[0]),
            measure(target, name, placement_sd=placement_sd, camera=cameras[1]),
        )
        for name in MEASURES
        if name in both
    ]


def difference(source: Measurement, target: Measurement) -> Difference:
    """Two takings of one measure; the errors of their pictures count as independent."""
    change, sd = target.value - source.value, math.hypot(source.sd, target.sd)
    return Difference(source.name, source, target, change, sd, abs(change) > WITHIN_95 * sd)


def _closer(start: Floats, end: Floats) -> Similarity:
    fits = []
    for mirrored in (False, True):
        # A shape that is its own mirror image, like a square, cancels out one way round.
        with suppress(ValueError):
            fits.append(fit_similarity(start, end, reflected=mirrored))
    if not fits:
        raise ValueError("These points fix no scale and no rotation, mirrored or not.")
    return min(fits, key=lambda fit: fit.rms)


def _places(points: Mapping[str, Sequence[float]], names: list[str]) -> Floats:
    return np.array([points[name][:2] for name in names], float)


def _in_line(places: Floats) -> bool:
    spread = np.linalg.svd(places - places.mean(axis=0), compute_uv=False)
    return bool(spread[1] <= _IN_LINE * spread[0])
