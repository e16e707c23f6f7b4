"""Head and foot plates: the side view, closer."""

from __future__ import annotations

from dataclasses import replace

from .curves import Array, smooth
from .face import whiskers
from .head import Face
from .plan import Plan
from .profile import face_points, profile
from .settings import Settings
from .skeleton import at, solve

HEAD_RATIO = 1.25
FEET_RATIO = 1.41


def head(settings: Settings) -> Plan:
    s, side = solve(settings), profile(settings)
    ox, oy = s["occiput"]
    box = (ox - 0.235, oy - 0.385, ox + 0.475, oy + 0.185)

    def fade(x: Array, y: Array) -> Array:
        return smooth(0.02, 0.10, (y - oy + 0.36) - 0.5 * (ox - x) - 0.02)

    named = face_points(s, settings)
    whisk = tuple(whiskers(Face(s, settings)))
    layers = tuple(
        replace(layer, marks=(*layer.marks, *whisk)) if layer.name == "near" else layer
        for layer in side.layers
    )
    return replace(
        side, layers=layers, view="head", box=box, ratio=HEAD_RATIO, points=named, fade=fade, feet=()
    )


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
