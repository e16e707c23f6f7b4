"""From contours to pixels: coverage masks, ink lines of changing width, and hair strokes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from .curves import Array, Contour
from .frame import Frame

Field = NDArray[np.float32]
FINER = 3


def _box(px: Array, frame: Frame, margin: float) -> tuple[int, int, int, int] | None:
    low = np.floor(px.min(axis=0) - margin).astype(int)
    high = np.ceil(px.max(axis=0) + margin).astype(int)
    x0, y0 = max(int(low[0]), 0), max(int(low[1]), 0)
    x1, y1 = min(int(high[0]), frame.width), min(int(high[1]), frame.height)
    return (x0, y0, x1, y1) if x1 > x0 and y1 > y0 else None


def _place(image: Image.Image, box: tuple[int, int, int, int], frame: Frame) -> Field:
    out = np.zeros((frame.height, frame.width), np.float32)
    out[box[1] : box[3], box[0] : box[2]] = np.asarray(image.reduce(FINER), np.float32) / 255
    return out


def mask(points: Array, frame: Frame) -> Field:
    """Coverage 0..1 of the polygon at every pixel."""
    px = frame.pixels(points)
    box = _box(px, frame, 1)
    if box is None:
        return np.zeros((frame.height, frame.width), np.float32)
    image = Image.new("L", ((box[2] - box[0]) * FINER, (box[3] - box[1]) * FINER), 0)
    corner = np.array(box[:2], np.float64)
    # ImageDraw paints the pixel on which a corner falls; half a fine pixel centres the edge.
    fine = (px - corner) * FINER - 0.5
    ImageDraw.Draw(image).polygon(fine.ravel().tolist(), fill=255)
    return _place(image, box, frame)


def union(*masks: Field) -> Field:
    out = masks[0].copy()
    for other in masks[1:]:
        np.maximum(out, other, out=out)
    return out


def pen(frame: Frame) -> float:
    """Width of the ink line in pixels; grows less than the picture, so that close views keep a fine line."""
    return float(1.75 * (frame.scale / 522) ** 0.62)


def ink(contour: Contour, frame: Frame, width: float | None = None) -> Field:
    """Opacity of a pen line along the contour: thin where light falls, heavier underneath."""
    base = pen(frame) if width is None else width
    px = frame.pixels(contour.points)
    weight = np.clip(contour.ink, 0, 1)
    if contour.closed:
        px, weight = np.vstack([px, px[:1]]), np.append(weight, weight[0])
    heading = np.gradient(px, axis=0)
    heading /= np.maximum(np.hypot(*heading.T)[:, None], 1e-9)
    facing = np.ones(len(px))
    if contour.closed:
        area = np.sum(px[:-1, 0] * px[1:, 1] - px[1:, 0] * px[:-1, 1])
        outward = np.stack([heading[:, 1], -heading[:, 0]], axis=1) * np.sign(area)
        facing = 0.80 + 0.55 * np.maximum(0, 0.85 * outward[:, 1] + 0.35 * outward[:, 0])
        facing = np.convolve(np.pad(facing, 4, mode="wrap"), np.ones(9) / 9, "valid")
    return stroke(px, base * weight**0.7 * facing, np.minimum(1, 1.15 * weight), frame)


def stroke(px: Array, width: Array, opacity: Array, frame: Frame) -> Field:
    """A line of changing width and opacity through pixel positions (n, 2)."""
    box = _box(px, frame, float(width.max()) + 2)
    if box is None or len(px) < 2:
        return np.zeros((frame.height, frame.width), np.float32)
    image = Image.new("L", ((box[2] - box[0]) * FINER, (box[3] - box[1]) * FINER), 0)
    pencil = ImageDraw.Draw(image)
    fine = (px - np.array(box[:2], np.float64)) * FINER - 0.5
    # A line finer than the grid would break up into dots: draw it as fine as can be, and paler.
    finest = 1.3 / FINER
    opacity = opacity * np.minimum(1, width / finest)
    half = np.maximum(width, finest) * FINER / 2
    heading = np.diff(fine, axis=0)
    heading /= np.maximum(np.hypot(*heading.T)[:, None], 1e-9)
    side = np.stack([-heading[:, 1], heading[:, 0]], axis=1)
    a, b = half[:-1, None] * side, half[1:, None] * side
    quads = np.concatenate([fine[:-1] + a, fine[1:] + b, fine[1:] - b, fine[:-1] - a], axis=1)
    tone = np.round(255 * (opacity[:-1] + opacity[1:]) / 2).astype(int).tolist()
    discs = np.concatenate([fine - half[:, None], fine + half[:, None]], axis=1)
    for quad, disc, fill in zip(quads.tolist(), discs[1:].tolist(), tone, strict=True):
        if fill > 3:
            pencil.polygon(quad, fill=fill)
            pencil.ellipse(disc, fill=fill)
    return _place(image, box, frame)


def splat(px: Array, value: Array, frame: Frame) -> Field:
    """Sum of values dropped at pixel positions, each shared among the four nearest pixels."""
    x, y = px[..., 0].ravel() - 0.5, px[..., 1].ravel() - 0.5
    w = value.ravel()
    inside = (x >= 0) & (y >= 0) & (x < frame.width - 1) & (y < frame.height - 1)
    x, y, w = x[inside], y[inside], w[inside]
    col, row = x.astype(np.int64), y.astype(np.int64)
    fx, fy = x - col, y - row
    at = row * frame.width + col
    size = frame.width * frame.height
    total = np.bincount(at, w * (1 - fx) * (1 - fy), size)
    total += np.bincount(at + 1, w * fx * (1 - fy), size)
    total += np.bincount(at + frame.width, w * (1 - fx) * fy, size)
    total += np.bincount(at + frame.width + 1, w * fx * fy, size)
    return total.reshape(frame.height, frame.width).astype(np.float32)
