"""Head and foot plates: the side view, closer."""

from __future__ import annotations

from dataclasses import replace

from .curves import Array, smooth
from .head import head_points
from .plan import Plan
from .profile import profile
from .settings import Settings
from .skeleton import at, solve

HEAD_RATIO = 1.25
FEET_RATIO = 1.41


def head(settings: Settings) -> Plan:
    s, side = solve(settings), profile(settings)
    ox, oy = s["occiput"]
    box = (ox - 0.20, oy - 0.42, ox + 0.52, oy + 0.22)

    def fade(x: Array, y: Array) -> Array:
        return smooth(0.02, 0.10, (y - oy + 0.42) - 0.5 * (ox - x) - 0.02)

    named = head_points(s, settings)
    return replace(side, view="head", box=box, ratio=HEAD_RATIO, points=named, fade=fade, feet=())


def feet(settings: Settings) -> Plan:
    s, side = solve(settings), profile(settings)
    x0 = float(s["front_foot"][0])
    layers = tuple(layer for layer in side.layers if layer.name == "near")
    named = {
        "wrist": s["wrist"],
        "front_foot": s["front_foot"],
        "ground_front": at(x0, 0),
    }

    def fade(x: Array, y: Array) -> Array:
        return 1 - smooth(0.205, 0.245, y + 0 * x)

    box = (x0 - 0.20, -0.05, x0 + 0.22, 0.25)
    return replace(side, view="feet", box=box, ratio=FEET_RATIO, layers=layers, points=named, fade=fade)
