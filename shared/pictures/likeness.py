"""A fingerprint that survives resizing and saving again, to notice a photograph that is there already.

The picture is brought to 64 × 64 tones; of its cosine transform the 16 × 16 slowest waves are kept, and
each gives one bit: above or below the middle of them all. It recognises the same photograph, not the
same dog; drawn exhibits that differ in one joint only come out alike too.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PIL import Image

if TYPE_CHECKING:
    from numpy.typing import NDArray

_SIDE = 64
_KEPT = 16
# Of 256 bits. Two different photographs differ in about half of them.
ALIKE = 24


def fingerprint(image: Image.Image) -> str:
    """64 hexadecimal digits."""
    tones = np.asarray(
        image.convert("L").resize((_SIDE, _SIDE), Image.Resampling.LANCZOS, reducing_gap=3.0), float
    )
    waves = _COSINES @ tones @ _COSINES.T
    middle = np.median(waves.ravel()[1:])  # the first wave is the mean tone, which says nothing of the shape
    return np.packbits(waves > middle).tobytes().hex()


def distance(one: str, other: str) -> int:
    """Bits in which two fingerprints differ; ValueError if they are not of the same length."""
    if len(one) != len(other):
        raise ValueError("The fingerprints are of different kinds.")
    return (int(one, 16) ^ int(other, 16)).bit_count()


def alike(one: str, other: str) -> bool:
    return distance(one, other) <= ALIKE


def _cosines() -> NDArray[np.float64]:
    """The first rows of the cosine transform, type II, unscaled."""
    wave, place = np.ogrid[:_KEPT, :_SIDE]
    rows: NDArray[np.float64] = np.cos(np.pi * wave * (2 * place + 1) / (2 * _SIDE))
    return rows


_COSINES = _cosines()
