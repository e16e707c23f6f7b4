"""A height field over the silhouette, and the light that falls on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy import ndimage

from .curves import Array
from .frame import Frame
from .raster import Field
from .skeleton import Point

_SWEEPS = ((32, 300), (16, 160), (8, 80), (4, 40), (2, 16), (1, 5))
LIGHT = (-0.42, 0.74, 0.55)


@dataclass(frozen=True)
class Ridge:
    """A muscle, bone or groove: a Gaussian swelling of this width and height (in H) along a segment."""

    a: Point
    b: Point
    width: float
    height: float


def enlarge(field: Field, height: int, width: int) -> Field:
    """Bicubic enlargement to exactly this size."""
    image = Image.fromarray(np.asarray(field, np.float32))
    return np.asarray(image.resize((width, height), Image.Resampling.BICUBIC), np.float32)


def reduce(field: Field, step: int) -> Field:
    """Mean over blocks of step × step pixels (the last ones may be smaller)."""
    image = Image.fromarray(np.asarray(field, np.float32))
    return np.asarray(image.reduce(step), np.float32) if step > 1 else np.asarray(field, np.float32)


def inflate(mask: Field, scale: float, finest: int = 1) -> Field:
    """Height in H of the blown-up silhouette.

    Solves ∇²q = −1 inside the mask with q = 0 outside, coarse to fine by Jacobi sweeps; the height is
    √(2q), so that a strip of half width a gets exactly a circular section: legs become cylinders, the
    trunk a barrel, and what joins, joins smoothly.
    """
    q: Field | None = None
    for factor, sweeps in _SWEEPS:
        if factor < finest or (min(mask.shape) // factor < 4 and factor > finest):
            continue
        inside = reduce(mask, factor)
        step = float(factor * factor)
        q = np.zeros_like(inside) if q is None else enlarge(q, *inside.shape)
        hold = inside * np.float32(0.25)
        padded = np.pad(q, 1)
        for _ in range(sweeps):
            total = padded[:-2, 1:-1] + padded[2:, 1:-1]
            total += padded[1:-1, :-2]
            total += padded[1:-1, 2:]
            total += step
            total *= hold
            padded[1:-1, 1:-1] = total
            # What runs over the edge of the sheet goes on beyond it.
            padded[0], padded[-1] = padded[1], padded[-2]
            padded[:, 0], padded[:, -1] = padded[:, 1], padded[:, -2]
        q = padded[1:-1, 1:-1]
    assert q is not None
    height = np.sqrt(np.maximum(2 * q, 0)) * np.float32(0.92 / scale)
    return height if height.shape == mask.shape else enlarge(height, *mask.shape)


def distance(x: Array, y: Array, a: Point, b: Point) -> Array:
    """Distance in H of every grid point from the segment A–B."""
    step = b - a
    length = float(step @ step)
    if length < 1e-12:
        return np.asarray(np.hypot(x - a[0], y - a[1]))
    t = np.clip(((x - a[0]) * step[0] + (y - a[1]) * step[1]) / length, 0, 1)
    return np.asarray(np.hypot(x - a[0] - t * step[0], y - a[1] - t * step[1]))


def spread(frame: Frame, rows: Sequence[tuple[Point, Point, float, float]], step: int = 2) -> Field:
    """Sum of amplitude · exp(−½ (distance to segment / width)²), computed on every step-th pixel."""
    x, y = frame.grid(step)
    out = np.zeros((y.shape[0], x.shape[1]), np.float32)
    for a, b, width, amount in rows:
        reach = 3.4 * width
        low, high = np.minimum(a, b) - reach, np.maximum(a, b) + reach
        c0, c1 = np.searchsorted(x[0], (low[0], high[0]))
        r0, r1 = np.searchsorted(-y[:, 0], (-high[1], -low[1]))
        if c1 > c0 and r1 > r0:
            d = distance(x[:, c0:c1], y[r0:r1], a, b) / width
            out[r0:r1, c0:c1] += (amount * np.exp(-0.5 * d * d)).astype(np.float32)
    return out


def proud(mask: Field, frame: Frame, amount: float) -> Field:
    """Extra height of a limb that stands before the trunk: full in its middle, none at its edge."""
    out = np.zeros_like(reduce(mask, 4))
    small = reduce(mask, 4)
    for width in (0.010, 0.024):
        soft = ndimage.gaussian_filter(small, width * frame.scale / 4, truncate=3)
        out += np.sqrt(np.maximum(2 * soft - 1, 0))
    return enlarge(out * (amount / 2), *mask.shape)


def lightness(height: Field, frame: Frame, light: tuple[float, float, float] = LIGHT) -> Field:
    """Lightness 0..about 1 from the slope of the height field; the ground throws some light back."""
    soft = ndimage.gaussian_filter(height, 0.004 * frame.scale, truncate=3) * np.float32(frame.scale)
    gy, gx = np.gradient(soft)
    slope = np.hypot(gx, gy)
    limit = np.minimum(1, 2.2 / np.maximum(slope, 1e-6))
    gx, gy = gx * limit, gy * limit
    inverse = 1 / np.sqrt(1 + gx * gx + gy * gy)
    lx, ly, lz = np.array(light) / np.linalg.norm(light)
    # Rows run down: the normal is (−gx, +gy, 1), its y upwards.
    facing = (-gx * lx + gy * ly + lz) * inverse
    below = np.maximum(0, -gy * inverse) * (1 - inverse)
    return np.asarray(0.31 + 0.70 * np.maximum(0, facing) + 0.34 * below, np.float32)
