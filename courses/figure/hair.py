"""The lie of the coat, its texture, and single hairs over the contour."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

from .curves import Array
from .frame import Frame
from .plan import Fringe
from .raster import Field, pen, splat
from .relief import enlarge
from .skeleton import Point

Flow = tuple[Field, Field]
_STEP = 8


def flow(frame: Frame, samples: Sequence[tuple[Point, Point]]) -> Flow:
    """Unit direction of the hair in pixels (right, down) at every pixel, from samples (place, direction).

    Near samples count by a Gaussian of .07 H; a weak inverse-square tail fills what lies far from all.
    """
    x, y = frame.grid(_STEP)
    shape = (y.shape[0], x.shape[1])
    if not samples:
        return np.zeros((frame.height, frame.width), np.float32), np.ones(
            (frame.height, frame.width), np.float32
        )
    place = np.array([p for p, _ in samples], np.float32)
    heading = np.array([d for _, d in samples], np.float32)
    heading /= np.hypot(*heading.T)[:, None]
    dx = (x.astype(np.float32) - place[:, 0, None]) ** 2
    dy = (y[:, 0].astype(np.float32)[None, :] - place[:, 1, None]) ** 2
    # The Gaussian separates into a matrix product; the tail needs the squared distance itself.
    gx, gy = np.exp(-0.5 * dx / 0.07**2), np.exp(-0.5 * dy / 0.07**2)
    u, v = np.zeros(shape, np.float32), np.zeros(shape, np.float32)
    u += np.einsum("kr,kc->rc", gy * heading[:, :1], gx, optimize=True)
    v += np.einsum("kr,kc->rc", gy * heading[:, 1:], gx, optimize=True)
    for k in range(len(place)):
        tail = 2e-5 / (dx[k][None, :] + dy[k][:, None] + 0.002)
        u += heading[k, 0] * tail
        v += heading[k, 1] * tail
    norm = np.maximum(np.hypot(u, v), 1e-9)
    full = frame.height, frame.width
    right, up = _fit(u / norm, full), _fit(v / norm, full)
    norm = np.maximum(np.hypot(right, up), 1e-6)
    return np.asarray(right / norm, np.float32), np.asarray(-up / norm, np.float32)


def _fit(small: Array, shape: tuple[int, int]) -> Field:
    """Enlarge a grid of blocks so that block centres stay where they are."""
    rows, columns = small.shape
    big = enlarge(np.asarray(small, np.float32), rows * _STEP, columns * _STEP)
    return big[: shape[0], : shape[1]]


def texture(
    inside: NDArray[np.int64], way: Flow, frame: Frame, length: Field, rng: np.random.Generator
) -> Field:
    """Hair texture, about −1..1, at the pixels `inside` (flat indices): noise drawn out along the hair."""
    close = max(1.0, frame.scale / 700) ** 0.5
    fine = _drawn_out(inside, way, frame, 0.016, 0.6 * close, length, rng)
    coarse = _drawn_out(inside, way, frame, 0.032, 1.6 * close, length, rng)
    return np.asarray(np.clip(0.6 * fine + 0.6 * coarse, -2.4, 2.4) / 1.4, np.float32)


def _drawn_out(
    inside: NDArray[np.int64],
    way: Flow,
    frame: Frame,
    half: float,
    blur: float,
    length: Field,
    rng: np.random.Generator,
) -> Field:
    noise = rng.standard_normal((frame.height, frame.width), np.float32)
    noise = ndimage.gaussian_filter(noise, blur, truncate=2.5)
    flat = noise.ravel()
    row, column = np.divmod(inside, frame.width)
    right, down = way[0].ravel()[inside], way[1].ravel()[inside]
    reach = np.asarray(half * frame.scale * length, np.float32)
    steps = int(np.clip(float(reach.max()) / (1.9 * blur + 0.5), 3, 36))
    total = np.zeros(len(inside), np.float32)
    weights = 0.0
    for k in range(-steps, steps + 1):
        weight = 1 - abs(k) / (steps + 1)
        part = np.float32(k / steps) * reach
        r = np.clip((row + 0.5 + down * part).astype(np.int64), 0, frame.height - 1)
        c = np.clip((column + 0.5 + right * part).astype(np.int64), 0, frame.width - 1)
        total += np.float32(weight) * flat[r * frame.width + c]
        weights += weight
    total -= total.mean()
    return np.asarray(total / max(float(total.std()), 1e-6), np.float32)


def guard_hairs(
    inside: NDArray[np.int64], way: Flow, frame: Frame, length: Field, rng: np.random.Generator
) -> Field:
    """Single longer hairs all over the coat, light and dark, as a signed field over the whole frame."""
    count = int(len(inside) / frame.scale**2 * 26000 * max(1.0, frame.scale / 750))
    if count == 0:
        return np.zeros((frame.height, frame.width), np.float32)
    pick = rng.integers(0, len(inside), count)
    at = inside[pick]
    row, column = np.divmod(at, frame.width)
    right, down = way[0].ravel()[at], way[1].ravel()[at]
    turn = rng.normal(0, 0.13, count)
    cos, sin = np.cos(turn), np.sin(turn)
    right, down = right * cos - down * sin, right * sin + down * cos
    reach = 0.030 * frame.scale * length[pick] * rng.uniform(0.6, 1.4, count)
    n = int(np.clip(0.036 * frame.scale, 6, 28))
    t = np.linspace(0, 1, n)[None, :]
    bend = rng.normal(0, 0.10, count)[:, None] * t * t
    px = np.stack(
        [
            column[:, None] + 0.5 + reach[:, None] * (right[:, None] * t - down[:, None] * bend),
            row[:, None] + 0.5 + reach[:, None] * (down[:, None] * t + right[:, None] * bend),
        ],
        axis=-1,
    )
    sign = rng.choice([-1.0, 1.0], count) * rng.uniform(0.4, 1.0, count)
    value = sign[:, None] * (1 - t) ** 0.8 * (reach[:, None] / n)
    return splat(px, value, frame)


def fringe(
    rows: Sequence[Fringe], frame: Frame, coat: Field, rng: np.random.Generator
) -> tuple[Field, Field]:
    """Opacity and colour of short bent hairs along stretches of contour, their tips outside it.

    `coat` is the picture (height, width, 3) before any ink, from which hairs take their colour.
    """
    strands = [s for row in rows if (s := _strands(row, frame, coat, rng)) is not None]
    if not strands:
        return np.zeros((frame.height, frame.width), np.float32), coat
    places, values, colours = (np.concatenate([s[i] for s in strands]) for i in range(3))
    thick = max(0.0, 0.45 * (pen(frame) / 1.75 - 1))

    def gather(weight: Array) -> Field:
        drawn = splat(places, weight, frame)
        return ndimage.gaussian_filter(drawn, thick) * np.float32(1 + 2 * thick) if thick > 0.06 else drawn

    total = gather(values)
    colour = np.stack([gather(values * colours[:, i]) for i in range(3)], axis=-1)
    colour /= np.maximum(total, 1e-6)[..., None]
    return np.clip(total, 0, 0.92), colour


def _strands(
    row: Fringe, frame: Frame, coat: Field, rng: np.random.Generator
) -> tuple[Array, Array, Array] | None:
    """Sample places in pixels, opacities and colours of all hairs of one fringe."""
    points, weight = row.line.points, row.line.ink
    run = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    count = int(rng.poisson(run[-1] * row.density))
    if count < 1:
        return None
    where = rng.uniform(0, run[-1], count)
    root = np.stack([np.interp(where, run, points[:, i]) for i in (0, 1)], axis=1)
    along = np.gradient(points, axis=0)
    heading = np.stack([np.interp(where, run, along[:, i]) for i in (0, 1)], axis=1)
    angle = np.arctan2(heading[:, 1], heading[:, 0])
    inward = row.outside * np.stack([np.sin(angle), -np.cos(angle)], axis=1)
    colours = _root_colours(row, root + 0.012 * inward, frame, coat, rng)
    angle = angle + np.radians(row.outside * row.lift + rng.normal(0, row.jitter, count))
    length = row.length * rng.uniform(0.55, 1.25, count)
    way = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    sunk = np.zeros(count) if row.rooted else rng.uniform(0.35, 1.0, count)
    root = root - way * (length * sunk)[:, None]
    n = int(np.clip(row.length * frame.scale * 1.2, 8, 60))
    t = np.linspace(0, 1, n)
    side = np.stack([-way[:, 1], way[:, 0]], axis=1)
    # Hair bends back towards the body at its tip.
    bend = rng.normal(-0.10 * row.outside, 0.10, count)
    hair = root[:, None] + (length[:, None] * t)[..., None] * way[:, None]
    hair = hair + (length[:, None] * bend[:, None] * t * t)[..., None] * side[:, None]
    taper = np.minimum(1, 6 * t) * (1 - t) ** 0.7
    strength = row.opacity * np.interp(where, run, weight) * rng.uniform(0.5, 1.1, count)
    value = (strength * length * frame.scale / n)[:, None] * taper
    return frame.pixels(hair).reshape(-1, 2), value.ravel(), np.repeat(colours, n, axis=0)


def _root_colours(row: Fringe, root: Array, frame: Frame, coat: Field, rng: np.random.Generator) -> Array:
    if row.colour is not None:
        return np.tile(np.array(row.colour, np.float64), (len(root), 1))
    px = frame.pixels(root).astype(int)
    column, line = np.clip(px[:, 0], 0, frame.width - 1), np.clip(px[:, 1], 0, frame.height - 1)
    return np.asarray(coat[line, column] * rng.uniform(0.45, 0.95, len(root))[:, None], np.float64)


def soften(field: Field, sigma: float) -> Field:
    """Blur with a radius in pixels; wide blurs run on a reduced picture."""
    step = max(1, int(sigma / 3))
    if step == 1:
        return np.asarray(ndimage.gaussian_filter(field, sigma, truncate=3), np.float32)
    small = np.asarray(Image.fromarray(field).reduce(step), np.float32)
    small = ndimage.gaussian_filter(small, sigma / step, truncate=3)
    return enlarge(small, *field.shape)


def stripes(inside: NDArray[np.int64], way: Flow, frame: Frame, rng: np.random.Generator) -> Field:
    """Dark brindle stripes 0..1, running across the lie of the hair."""
    across = (-way[1], way[0])
    ones = np.ones(len(inside), np.float32)
    band = _drawn_out(inside, across, frame, 0.060, 0.0052 * frame.scale, ones, rng)
    return np.asarray(np.clip((band - 0.15) / 1.1, 0, 1), np.float32)
