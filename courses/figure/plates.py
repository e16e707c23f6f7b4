"""Head and foot plates: the side view, closer."""

from __future__ import annotations

from dataclasses import replace

from .curves import Array, smooth
from .face import whiskers
from .front import bones, foot_front
from .head import Face
from .plan import Plan
from .profile import face_points, foot_side, profile
from .settings import Settings
from .skeleton import at, solve

HEAD_RATIO = 1.25
FEET_RATIO = 1.41


def head(settings: Settings) -> Plan:
    s, side = solve(settings), profile(settings)
    ox, oy = s["occiput"]
    top = max(float(face_points(s, settings)["ear_tip"][1]), oy + 0.15) + 0.035
    right = max(float(face_points(s, settings)["nose"][0]) + 0.045, ox + 0.475)
    box = (ox - 0.235, oy - 0.385, right, top)

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
    """One forefoot twice on the same ground: from the side, and beside it from the front."""
    s = solve(settings)
    x0 = float(s["front_foot"][0])
    across = bones(settings)
    shift = x0 + 0.245 - float(across.foot[0])
    side, ahead = foot_side(s, settings), foot_front(across, settings, shift)
    named = {"wrist": s["wrist"], "front_foot": s["front_foot"], "ground_front": at(x0, 0)}
    guides = {
        "front_view_foot": across.foot + at(shift, 0),
        "front_view_wrist": across.wrist + at(shift, 0),
    }

    def fade(x: Array, y: Array) -> Array:
        return 1 - smooth(0.215, 0.258, y + 0 * x)

    shadows = ((x0 + 0.03, 0.10, 0.62), (x0 + 0.245, 0.085, 0.62))
    box = (x0 - 0.125, -0.038, x0 + 0.335, 0.278)
    return Plan("feet", box, FEET_RATIO, (side, ahead), named, shadows, fade, guides, grows=False)
