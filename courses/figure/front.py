"""The front view: x runs across the dog, picture right is the dog's left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from . import frontbody as body
from . import fronthead as heads
from .crosscoat import face_fields, front_fields, front_flow
from .curves import Trace, smooth
from .frontbody import FrontBones, bones, symmetric
from .fronthead import LIGHT, FrontFace
from .frontpaw import FrontPaw
from .plan import FieldOf, Layer, Mark, Plan, Proud, Shadow
from .rearbones import hind_bones
from .relief import Ridge
from .settings import Settings
from .skeleton import Point, along, at

Values = Mapping[str, float]
SHEET = (-0.60, -0.085, 0.60, 1.455)
RATIO = 0.75
DEPTH = 0.90
HORIZON = 0.50


def front(settings: Settings) -> Plan:
    b = bones(settings)
    face = FrontFace(settings, b.lift)
    fields, features = front_fields(b.brisket, b.shoulder), face_fields(b.lift)
    flow = tuple(front_flow(b.lift, b.brisket, b.shoulder, (b.elbow, b.wrist, b.foot, b.toe)))
    layers = (
        _behind(settings, fields),
        _ribs(b, settings, fields),
        _near(b, settings, fields, flow),
        _skull(face, features, flow),
        *heads.ear_layers(face, 1.0),
        *heads.ear_layers(face, -1.0),
        _muzzle(face, features, flow),
    )
    x = float(b.foot[0])
    feet = ((x, 0.10, 0.55), (-x, 0.10, 0.55), (0.0, 0.20, 0.40))
    return Plan("front", SHEET, RATIO, layers, points(b), feet, guides=guides(b, face))


def points(b: FrontBones) -> dict[str, Point]:
    named = {"withers": at(0, 1.0), "brisket": at(0, b.brisket)}
    rows = {
        "point_of_shoulder": b.shoulder,
        "elbow": b.elbow,
        "wrist": b.wrist,
        "foot": b.foot,
        "toe": b.toe,
        "ground": at(b.foot[0], 0),
    }
    for name, p in rows.items():
        named[f"{name}_l"] = p
        named[f"{name}_r"] = p * np.array([-1.0, 1.0])
    return named


def foot_front(b: FrontBones, v: Values, shift: float) -> Layer:
    """The left foreleg alone, moved across by `shift`, for the plate of the feet."""
    moved = replace(
        b, **{n: getattr(b, n) + at(shift, 0) for n in ("shoulder", "elbow", "wrist", "foot", "toe")}
    )
    paw = FrontPaw(moved.foot, v, 1.0)
    middle = Ridge(along(moved.wrist, moved.foot, 0.3), along(moved.wrist, moved.foot, 0.85), 0.010, 0.0015)
    wrist = Ridge(moved.wrist + at(0.0, 0.012), moved.wrist + at(0.0, -0.010), 0.015, 0.0040)
    coat = {n: _moved(f, shift) for n, f in front_fields(b.brisket, b.shoulder).items()}
    flow = [
        (p + at(shift, 0), d)
        for p, d in front_flow(b.lift, b.brisket, b.shoulder, (b.elbow, b.wrist, b.foot, b.toe))
    ]
    return Layer(
        "foot_front",
        {"foot_front": body.leg(moved, v)},
        forms=(middle, wrist, *paw.forms()),
        flow=tuple(flow),
        coat=coat,
        marks=tuple(paw.marks()),
        light=LIGHT,
    )


def _moved(field: FieldOf, shift: float) -> FieldOf:
    return lambda x, y: field(x - shift, y)


def guides(b: FrontBones, face: FrontFace) -> dict[str, Point]:
    """Further places that zones and regions are drawn from."""
    named = {
        "nose": face.at(0, 1.06),
        "chin": face.at(0, 1.0),
        "crown": face.at(0, 1.275),
        "throat": at(0, 0.93 + 0.5 * face.lift),
    }
    sides = {
        "eye": face.at(*heads.EYE),
        "cheek": face.at(0.085, 1.12),
        "lip": face.at(0.035, 1.0),
        "rib": at(b.shoulder[0] + 0.045, b.shoulder[1] + 0.02),
        "ear_base": heads.ear_place(face, heads.ROOT),
        "ear_tip": heads.ear_place(face, heads.TIP),
    }
    for name, p in sides.items():
        named[f"{name}_l"], named[f"{name}_r"] = p, p * np.array([-1.0, 1.0])
    return named


def _near(
    b: FrontBones, v: Values, fields: Mapping[str, FieldOf], flow: tuple[tuple[Point, Point], ...]
) -> Layer:
    left = body.leg(b, v)
    shapes = {"trunk": body.trunk(b, v), "leg_l": left, "leg_r": left.mirrored()}
    top = float(b.elbow[1])
    fade: FieldOf = lambda x, y: 1 - smooth(top - 0.03, top + 0.14, y) + 0 * x  # noqa: E731
    paws = [FrontPaw(b.foot, v, side) for side in (1.0, -1.0)]
    marks: list[Mark] = [m for paw in paws for m in paw.marks()] + body.throat_folds(b, v)
    return Layer(
        "near",
        shapes,
        forms=tuple(body.forms(b) + [f for paw in paws for f in paw.forms()]),
        prouds=(Proud("leg_l", 0.020, fade), Proud("leg_r", 0.020, fade)),
        occlusion=(
            (at(0, b.brisket + 0.01), at(0, b.brisket - 0.03), 0.030, 0.42),
            (b.elbow + at(-0.055, 0.02), b.elbow + at(-0.050, -0.05), 0.018, 0.26),
            (
                b.elbow * np.array([-1, 1]) + at(0.055, 0.02),
                b.elbow * np.array([-1, 1]) + at(0.050, -0.05),
                0.018,
                0.26,
            ),
        ),
        flow=flow,
        hidden={"trunk": ("leg_l", "leg_r", "skull", "muzzle")},
        fringes=tuple(body.fringes(shapes, b, v)),
        coat=fields,
        marks=tuple(marks),
        shadow=Shadow(0.010, -0.015, 0.028, 0.36),
        light=LIGHT,
    )


def _skull(face: FrontFace, fields: Mapping[str, FieldOf], flow: tuple[tuple[Point, Point], ...]) -> Layer:
    marks = [replace(m, within=m.within or "skull") for m in heads.eyes(face)]
    return Layer(
        "skull",
        {"skull": heads.skull(face)},
        forms=tuple(heads.forms(face)),
        hidden={"skull": ("muzzle", "ear_l", "ear_r")},
        flow=flow,
        coat=fields,
        marks=tuple(marks),
        shadow=Shadow(0.006, -0.055, 0.030, 0.42),
        light=LIGHT,
    )


def _muzzle(face: FrontFace, fields: Mapping[str, FieldOf], flow: tuple[tuple[Point, Point], ...]) -> Layer:
    top = 1.176 + face.lift
    fade: FieldOf = lambda x, y: 1 - smooth(top - 0.085, top - 0.01, y) + 0 * x  # noqa: E731
    return Layer(
        "muzzle",
        {"muzzle": heads.muzzle(face)},
        forms=tuple(heads.muzzle_forms(face)),
        flow=flow,
        coat=fields,
        clip=fade,
        marks=tuple(heads.mouth(face) + heads.nose(face)),
        shadow=Shadow(0.004, -0.012, 0.012, 0.30),
        ink_width=0.72,
        light=LIGHT,
    )


def _behind(v: Values, fields: Mapping[str, FieldOf]) -> Layer:
    """Belly and hind legs beyond, smaller and darker."""
    h = hind_bones(v)
    k = v["bone"]

    def far(p: Point) -> Point:
        return at(p[0] * DEPTH, HORIZON + (p[1] - HORIZON) * DEPTH)

    hip, stifle, hock, foot = (far(p) for p in (h.hip, h.stifle, h.hock, h.foot))
    trace = Trace()
    trace.xy(hip, (0.045, 0.02, 0.0), (0.052, -0.10, 0.3))
    trace.bone(stifle, hock, (0.00, 0.040, 1), (0.22, 0.032, 1), (0.45, 0.026, 1), (0.75, 0.020, 1), k=DEPTH)
    trace.bone(hock, foot, (0.05, 0.020, 1), (0.45, 0.0175, 1), (0.80, 0.019, 1), k=DEPTH * k)
    ground = at(foot[0], HORIZON - HORIZON * DEPTH)
    trace.xy(ground, (0.030, 0.045, 1), (0.034, 0.020, 1), (0.030, 0.002, 1), (0.0, 0.0, 1))
    trace.xy(ground, (-0.030, 0.002, 1), (-0.034, 0.020, 1), (-0.026, 0.048, 1))
    trace.bone(hock, foot, (0.80, -0.019, 1), (0.45, -0.0175, 1), (0.05, -0.021, 1), k=DEPTH * k)
    trace.bone(stifle, hock, (0.75, -0.023, 1), (0.45, -0.036, 1), (0.15, -0.055, 1), k=DEPTH)
    trace.xy(at(0, 0), (0.018, float(stifle[1]) + 0.04, 0.5), (0.010, float(hip[1]), 0))
    leg = trace.close()
    low = 1 - v["chest_depth"] + 0.5 * v["tuck_up"] + 0.02
    belly = symmetric(
        [(0, 0.80, 0), (0.10, 0.78, 0), (0.115, 0.66, 0), (0.085, low + 0.03, 0), (0.04, low, 0), (0, low, 0)]
    )
    return Layer(
        "behind",
        {"belly": belly, "hind_l": leg, "hind_r": leg.mirrored()},
        tone=0.60,
        flow=((at(0.1, 0.6), at(0, -1)), (at(-0.1, 0.2), at(0, -1))),
        coat=fields,
        ink_width=0.8,
        light=LIGHT,
    )


def _ribs(b: FrontBones, v: Values, fields: Mapping[str, FieldOf]) -> Layer:
    """The barrel of the ribs behind the shoulders."""
    wide, low = 0.169 * v["rib_spring"], b.brisket - 0.004
    rows = [(0.0, 0.965, 0.0), (0.45 * wide, 0.945, 0.4), (0.74 * wide, 0.86, 1.0), (0.94 * wide, 0.76, 1.0)]
    rows += [
        (wide, 0.69, 1.0),
        (0.95 * wide, 0.62, 1.0),
        (0.72 * wide, low + 0.050, 1.0),
        (0.36 * wide, low + 0.008, 1.0),
        (0.0, low, 1.0),
    ]
    return Layer(
        "ribs",
        {"ribs": symmetric(rows)},
        tone=0.80,
        flow=((at(0.1, 0.8), at(0.1, -1)), (at(-0.1, 0.8), at(-0.1, -1))),
        coat=fields,
        ink_width=0.85,
        shadow=Shadow(0.0, -0.03, 0.03, 0.30),
        light=LIGHT,
    )
