"""Where the figure lies on the paper: H units, pixels, and picture units (longer side = 1, y down)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .curves import Array

PAPER = (0xF7, 0xF1, 0xE4)


@dataclass(frozen=True)
class Frame:
    """`scale` pixels to H; the figure's origin lies at pixel (ox, oy)."""

    width: int
    height: int
    scale: float
    ox: float
    oy: float

    @classmethod
    def around(cls, box: tuple[float, float, float, float], width: int, ratio: float) -> Frame:
        """The frame of this shape that shows at least the box (left, bottom, right, top) in H."""
        left, bottom, right, top = box
        height = round(width / ratio)
        scale = min(width / (right - left), height / (top - bottom))
        ox = width / 2 - scale * (left + right) / 2
        return cls(width, height, scale, ox, height + scale * bottom)

    def crop(self, x0: int, y0: int, x1: int, y1: int) -> Frame:
        """The part of this frame from pixel (x0, y0) to before (x1, y1)."""
        return Frame(x1 - x0, y1 - y0, self.scale, self.ox - x0, self.oy - y0)

    def reduced(self, step: int) -> Frame:
        """This frame with blocks of step × step pixels for pixels."""
        height, width = -(-self.height // step), -(-self.width // step)
        return Frame(width, height, self.scale / step, self.ox / step, self.oy / step)

    def pixels(self, points: Array) -> Array:
        """H to pixels, the centre of the first pixel being (0.5, 0.5)."""
        return np.stack(
            [self.ox + points[..., 0] * self.scale, self.oy - points[..., 1] * self.scale], axis=-1
        )

    def picture(self, points: Array) -> Array:
        return self.pixels(np.asarray(points, dtype=np.float64)) / max(self.width, self.height)

    def grid(self, step: int = 1) -> tuple[Array, Array]:
        """x and y in H of the centres of blocks of `step` pixels: (1, n) and (m, 1)."""
        columns = np.arange(0, self.width, step, dtype=np.float64) + step / 2
        rows = np.arange(0, self.height, step, dtype=np.float64) + step / 2
        x = np.asarray((columns - self.ox) / self.scale)[None, :]
        y = np.asarray((self.oy - rows) / self.scale)[:, None]
        return x, y
