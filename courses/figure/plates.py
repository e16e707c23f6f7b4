"""Head and foot plates: the side view, closer."""

from __future__ import annotations

from dataclasses import replace

from .curves import Array, smooth
from .face import whiskers
from .front import foot_front
from .frontbody import bones
from .head import Face
from .plan import Layer, Plan
from .profile import face_points, foot_side, profile
from .settings import Settings
from .skeleton import Point, at, solve

HEAD_RATIO = 1.25
FEET_RATIO = 1.41


def head(settings: Settings) -> Plan:
    """The head, running out into the paper below the neck."""
    s, side = solve(settings), profile(settings)
    named = face_points(s, settings)
    ox, oy = (float(c) for c in s["occiput"])
    left, right = ox - 0.235, max(float(named["nose"][0]) + 0.045, ox + 0.475)
    bottom, top = oy - 0.385, max(float(named["ear_tip"][1]), oy + 0.15) + 0.035

    def fade(x: Array, y: Array) -> Array:
        return smooth(0.02, 0.10, (y - oy + 0.36) - 0.5 * (ox - x) - 0.02)

    def cut(x: float) -> Point:
        return at(x, oy - 0.28 + 0.5 * (ox - x))

    ears = [layer for layer in side.layers if layer.name.startswith(("ear", "far_ear"))]
    behind = [layer for layer in ears if layer.name.startswith("far_ear")]
    layers = (*behind, _close(side, Face(s, settings)), *(layer for layer in ears if layer not in behind))
    window = (at(left, top), at(right, top), cut(right), cut(left))
    guides = {**side.points, **side.guides}
    box = (left, bottom, right, top)
    return Plan("head", box, HEAD_RATIO, layers, named, (), fade, guides, window)


def _close(side: Plan, face: Face) -> Layer:
    """Head and neck without the rest of the dog, with whiskers."""
    near = next(layer for layer in side.layers if layer.name == "near")
    return replace(
        near,
        shapes={name: near.shapes[name] for name in ("trunk", "head")},
        prouds=tuple(p for p in near.prouds if p.shape == "head"),
        marks=(*(m for m in near.marks if m.within == "head"), *whiskers(face)),
        fringes=tuple(f for f in near.fringes if "head" in f.hidden),
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
        "front_view_toes": at(float(across.toe[0]) + shift, 0.022),
        "toes": at(x0 + 0.05 * settings["foot_length"], 0.03),
    }

    def fade(x: Array, y: Array) -> Array:
        return 1 - smooth(0.215, 0.258, y + 0 * x)

    shadows = ((x0 + 0.03, 0.10, 0.62), (x0 + 0.245, 0.085, 0.62))
    box = (x0 - 0.125, -0.038, x0 + 0.335, 0.278)
    window = tuple(
        at(x, y) for x, y in ((box[0], 0.235), (box[2], 0.235), (box[2], box[1]), (box[0], box[1]))
    )
    return Plan("feet", box, FEET_RATIO, (side, ahead), named, shadows, fade, guides, window)
