"""Coat fields and lie of the hair for the front and rear views."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np

from .curves import Array, smooth
from .plan import FieldOf
from .sidecoat import Strand, bump, strand, to_line
from .skeleton import Point, at

Values = Mapping[str, float]


def both_sides(rows: Sequence[Strand]) -> list[Strand]:
    """The samples and their mirror images."""
    flip = np.array([-1.0, 1.0])
    return [*rows, *((p * flip, d * flip) for p, d in rows)]


def mirrored_line(points: Sequence[Point]) -> FieldOf:
    """Distance from a polyline and its mirror image."""
    line = to_line(points)
    return lambda x, y: line(np.abs(x), y)


def _even(value: float) -> FieldOf:
    return lambda x, y: value + 0 * x + 0 * y


def face_fields(lift: float) -> dict[str, FieldOf]:
    """Fields of the head from the front; `lift` is how much it stands above the ideal's."""
    crown = mirrored_line([at(0, 1.275 + lift), at(0.07, 1.25 + lift), at(0.100, 1.19 + lift)])
    bridge = mirrored_line([at(0, 1.20 + lift), at(0, 1.09 + lift)])
    cheek = mirrored_line([at(0.066, 1.120 + lift), at(0.042, 1.075 + lift)])
    jaw = mirrored_line([at(0, 1.0 + lift), at(0.05, 1.02 + lift)])
    brow = bump(at(0.041, 1.201 + lift), 0.0075)

    def from_back(x: Array, y: Array) -> Array:
        return np.minimum(0.03 + 1.6 * crown(x, y), 0.16 + 3 * bridge(x, y))

    def under(x: Array, y: Array) -> Array:
        out = 0.65 * (1 - smooth(0.01, 0.05, cheek(x, y)))
        out = np.maximum(out, 0.75 * (1 - smooth(0.0, 0.05, jaw(x, y))))
        return np.maximum(out, 0.55 * brow(np.abs(x), y))

    def points(x: Array, y: Array) -> Array:
        out = np.maximum(1 - smooth(0.010, 0.036, jaw(x, y)), 1 - smooth(0.010, 0.034, cheek(x, y)))
        return np.maximum(out, brow(np.abs(x), y))

    def collar(x: Array, y: Array) -> Array:
        taper = np.abs(x) + 0.10 * np.maximum(y - 1.19 - lift, 0)
        blaze = np.where(y > 1.09 + lift, 1 - smooth(0.006, 0.024, taper), 0)
        return np.maximum(blaze, 1 - smooth(0.030, 0.055, np.hypot(x, (y - 1.045 - lift) * 0.8)))

    def ease(x: Array, y: Array) -> Array:
        return 0.62 * collar(x, y) + 0.34 * np.clip(from_back(x, y) / 0.30, 0, 1)

    return {
        "from_back": from_back,
        "under": under,
        "points": points,
        "bib": _even(0.0),
        "collar": collar,
        "ease": ease,
        "length": _even(0.48),
    }


def front_fields(brisket: float, shoulder: Point) -> dict[str, FieldOf]:
    """Fields of neck, body and legs from the front."""
    flank = mirrored_line([at(0.112, 1.14), at(0.128, 0.99), at(0.165, 0.84), shoulder + at(0.055, 0.02)])
    chest = mirrored_line([at(0, 1.02), at(0, brisket)])
    spot = bump(at(0.050, shoulder[1] - 0.02), 0.026)

    def from_back(x: Array, y: Array) -> Array:
        return 0.05 + 1.3 * flank(x, y)

    def under(x: Array, y: Array) -> Array:
        out = 0.9 * (1 - smooth(0.02, 0.13, chest(x, y)))
        return np.maximum(out, 0.85 * (1 - smooth(0.14, 0.42, y + 0 * x)))

    def points(x: Array, y: Array) -> Array:
        return np.maximum(1 - smooth(0.20, 0.42, y + 0 * x), spot(np.abs(x), y))

    def bib(x: Array, y: Array) -> Array:
        up = np.clip((y - shoulder[1] + 0.12) / 0.23, 0, 1)
        wide = (
            0.060 * np.sin(np.pi * up) ** 0.6 * (0.80 + 0.20 * up) + 0.006 * np.sin(55 * y + 30 * x) - 0.008
        )
        spot = np.clip(0.5 + 14 * (wide - np.abs(x)), 0, 1)
        return np.asarray(np.maximum(spot, 1 - smooth(0.030, 0.085, y + 0 * x)))

    def collar(x: Array, y: Array) -> Array:
        neck = smooth(0.52, 0.60, y - 0.9 * np.abs(x) + 0.02 * np.sin(60 * x))
        side = 1 - smooth(0.075, 0.125, np.abs(x) - 0.25 * np.maximum(y - 0.86, 0))
        return np.maximum(np.minimum(neck, side), 1 - smooth(0.40, 0.50, y + 0 * x))

    def ease(x: Array, y: Array) -> Array:
        far = np.clip(from_back(x, y) / 0.30, 0, 1)
        return 0.40 * collar(x, y) + 0.34 * far + 0.24 * under(x, y)

    def length(x: Array, y: Array) -> Array:
        return 1.1 * (1 - 0.50 * (1 - smooth(0.20, 0.50, y + 0 * x)))

    return {
        "from_back": from_back,
        "under": under,
        "points": points,
        "bib": bib,
        "collar": collar,
        "ease": ease,
        "length": length,
    }


def rear_fields(croup: float) -> dict[str, FieldOf]:
    """Fields of the dog from behind."""
    breech = mirrored_line([at(0.030, 0.77), at(0.062, 0.60)])
    inner = mirrored_line([at(0.0, 0.66), at(0.03, 0.55), at(0.06, 0.40)])
    patch = mirrored_line([at(0.006, 0.76), at(0.040, 0.66)])

    def from_back(x: Array, y: Array) -> Array:
        return np.maximum(croup - y, 0) * 0.85 + 0.25 * np.abs(x)

    def under(x: Array, y: Array) -> Array:
        out = 0.85 * (1 - smooth(0.14, 0.42, y + 0 * x))
        out = np.maximum(out, 0.60 * (1 - smooth(0.0, 0.07, breech(x, y))))
        return np.maximum(out, 0.80 * (1 - smooth(0.0, 0.06, inner(x, y))))

    def points(x: Array, y: Array) -> Array:
        return np.maximum(1 - smooth(0.20, 0.42, y + 0 * x), 1 - smooth(0.010, 0.042, patch(x, y)))

    def feet(x: Array, y: Array) -> Array:
        return 1 - smooth(0.030, 0.085, y + 0 * x)

    def collar(x: Array, y: Array) -> Array:
        return 1 - smooth(0.15, 0.25, y + 0 * x)

    def ease(x: Array, y: Array) -> Array:
        far = np.clip(from_back(x, y) / 0.55, 0, 1)
        return 0.42 * collar(x, y) + 0.34 * far + 0.24 * under(x, y)

    return {
        "from_back": from_back,
        "under": under,
        "points": points,
        "bib": feet,
        "collar": collar,
        "ease": ease,
        "length": lambda x, y: 1.1 - 0.5 * (1 - smooth(0.20, 0.50, y + 0 * x)),
    }


def front_flow(lift: float, brisket: float, shoulder: Point, joints: Sequence[Point]) -> list[Strand]:
    rows = strand(at(0.012, 1.09 + lift), at(0.020, 1.17 + lift), 4, (0.10, 1.0))
    rows += strand(at(0.010, 1.20 + lift), at(0.020, 1.26 + lift), 4, (0.12, 1.0))
    rows += strand(at(0.050, 1.20 + lift), at(0.075, 1.25 + lift), 4, (0.55, 1.0))
    rows += strand(at(0.070, 1.165 + lift), at(0.092, 1.14 + lift), 4, (1.0, -0.55))
    rows += strand(at(0.040, 1.06 + lift), at(0.080, 1.10 + lift), 4, (0.7, 0.35))
    rows += strand(at(0.020, 1.03 + lift), at(0.044, 1.01 + lift), 3, (0.8, -0.6))
    rows += strand(at(0.005, 0.98), at(0.005, brisket), 8, (0.04, -1.0))
    rows += strand(at(0.07, 1.02), shoulder + at(0.0, 0.05), 7, (0.28, -1.0))
    rows += strand(at(0.105, 1.0), shoulder + at(0.05, 0.02), 7, (0.22, -1.0))
    rows += strand(shoulder + at(0.03, -0.02), joints[0], 5, (-0.12, -1.0))
    for a, b in pairwise(joints):
        rows += strand(a, b, 8)
    return both_sides(rows)
