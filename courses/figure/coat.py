"""Coat colours, patterns and white markings: from light on the form to colour.

A layer offers fields over its pixels: `from_back` (distance in H from the middle of the back), `under`
(0..1 on the under side), `points` (0..1 where tan points lie), `collar`, `bib` and `ease` (how early
white spreads there). A coat mixes colour ramps by them; the borders are broken up by the hair.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .curves import smooth
from .raster import Field

Ramp = tuple[tuple[int, int, int], ...]
_STOPS = (0.0, 0.30, 0.55, 0.78, 1.0)

WARM: Ramp = ((48, 34, 26), (104, 74, 50), (163, 123, 84), (214, 180, 136), (245, 229, 201))
COOL: Ramp = ((36, 32, 31), (78, 68, 62), (122, 110, 98), (180, 166, 148), (232, 222, 204))
CREAM: Ramp = ((62, 48, 38), (130, 104, 80), (190, 160, 124), (229, 207, 173), (250, 240, 220))
WHITE: Ramp = ((96, 88, 82), (158, 149, 140), (212, 205, 194), (240, 235, 225), (253, 250, 243))
BLACK: Ramp = ((14, 13, 14), (30, 28, 29), (48, 45, 45), (78, 73, 71), (122, 116, 110))
TAN: Ramp = ((50, 31, 21), (106, 68, 43), (158, 106, 68), (198, 148, 104), (234, 204, 166))
RED: Ramp = ((42, 22, 16), (88, 48, 33), (134, 77, 52), (178, 117, 83), (226, 184, 146))
PALE: Ramp = ((74, 58, 44), (146, 120, 92), (204, 178, 142), (236, 218, 188), (252, 244, 228))
SLATE: Ramp = ((30, 31, 34), (60, 62, 66), (95, 98, 102), (143, 145, 147), (206, 206, 203))


@dataclass(frozen=True)
class Coat:
    base: Ramp
    back: Ramp
    under: Ramp
    back_mix: float = 0.85
    back_dark: float = 0.40
    back_reach: tuple[float, float] = (0.05, 0.30)
    under_mix: float = 0.90
    points: Ramp | None = None
    stripes: float = 0.0
    hair: float = 1.0
    lift: float = 0.0


COAT_RAMPS: Mapping[str, Coat] = {
    "saddle": Coat(WARM, COOL, CREAM),
    "black_tan": Coat(BLACK, BLACK, BLACK, 0.0, 0.22, (0.02, 0.36), points=TAN, hair=1.25),
    "cream": Coat(PALE, CREAM, WHITE, 0.75, 0.07, under_mix=0.65),
    "red": Coat(RED, RED, TAN, 0.0, 0.16, (0.02, 0.36), under_mix=0.70),
    "slate": Coat(SLATE, SLATE, SLATE, 0.0, 0.26, (0.03, 0.30), under_mix=0.5, hair=1.15),
    "brindle": Coat(TAN, BLACK, WARM, 0.45, 0.20, (0.02, 0.26), under_mix=0.45, stripes=0.72),
}


def _table(ramp: Ramp) -> Field:
    t = np.linspace(0, 1, 512)
    return np.stack([np.interp(t, _STOPS, [c[i] for c in ramp]) for i in range(3)], axis=1).astype(np.float32)


_TABLES: dict[Ramp, Field] = {}


def _look_up(ramp: Ramp, t: Field) -> Field:
    table = _TABLES.setdefault(ramp, _table(ramp))
    return table[np.clip(t * 511, 0, 511).astype(np.int32)]


def _mix(colour: Field, other: Field, weight: Field) -> None:
    colour += (other - colour) * weight[:, None]


def white_weight(fields: Mapping[str, Field], markings: str, extent: float, hair: Field) -> Field:
    """Where the coat is white, 0..1, with a border that follows the hair."""
    ragged = 0.07 * hair
    weight = np.zeros_like(hair)
    if markings != "none" and "bib" in fields:
        weight = np.maximum(weight, smooth(0.42, 0.58, fields["bib"] + ragged).astype(np.float32))
    if markings == "collar" and "collar" in fields:
        weight = np.maximum(weight, smooth(0.42, 0.58, fields["collar"] + ragged).astype(np.float32))
    if extent > 0 and "ease" in fields:
        edge = 1.02 - 0.78 * extent
        weight = np.maximum(
            weight, smooth(edge - 0.05, edge + 0.05, fields["ease"] + ragged).astype(np.float32)
        )
    return weight


def paint(
    coat: Coat,
    light: Field,
    fields: Mapping[str, Field],
    hair: Field,
    tone: float,
    strength: float,
    white: Field,
) -> Field:
    """Colours (n, 3) 0..255 for n pixels from their lightness, coat fields and hair texture."""
    zero = np.zeros_like(light)
    low, high = coat.back_reach
    reach = fields.get("from_back")
    ragged = 0.018 * hair * fields.get("length", np.float32(1.0))
    back = 1 - smooth(low, high, reach + ragged).astype(np.float32) if reach is not None else zero
    under = coat.under_mix * fields.get("under", zero)
    stripes = coat.stripes * fields["stripes"] if coat.stripes and "stripes" in fields else zero
    t = (light - 0.5) * np.float32(1.14) + np.float32(0.535 + coat.lift)
    t = t * (1 - np.float32(coat.back_dark) * back) + np.float32(0.05) * under
    t = t * np.float32(tone) * (1 - 0.55 * fields.get("dark", zero))
    t = t + np.float32(0.034 * coat.hair) * hair * (0.6 + 0.9 * back) * (0.5 + t)
    # A soft shoulder keeps form in the brightest parts.
    t = np.where(t > 0.72, 0.72 + 0.30 * np.tanh((t - 0.72) / 0.30), t).astype(np.float32)
    colour = _look_up(coat.base, t)
    if coat.back_mix:
        _mix(colour, _look_up(coat.back, t), coat.back_mix * back)
    _mix(colour, _look_up(coat.under, t), under)
    if coat.stripes:
        _mix(colour, _look_up(BLACK, t), stripes * (1 - 0.5 * under))
    if coat.points is not None and "points" in fields:
        border = smooth(0.30, 0.68, fields["points"] + 0.08 * hair).astype(np.float32)
        _mix(colour, _look_up(coat.points, t - np.float32(coat.lift)), border)
    if strength != 1.0:
        luma = colour @ np.array([0.30, 0.59, 0.11], np.float32)
        washed = 0.45 * luma[:, None] + 0.55 * np.array([206, 196, 180], np.float32)
        colour += (washed - colour) * np.float32(0.72 * (1 - strength))
    if white.any():
        _mix(colour, _look_up(WHITE, t * 0.84 + 0.12), white)
    return np.clip(colour, 0, 255)
