"""The front view: x runs across the dog, picture right is the dog's left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import radians, tan

import numpy as np

from . import fronthead as heads
from .crosscoat import face_fields, front_fields, front_flow
from .curves import Contour, Trace, smooth
from .fronthead import LIGHT, FrontFace
from .frontpaw import FrontPaw
from .plan import FieldOf, Fringe, Layer, Mark, Plan, Proud, Shadow
from .rearbones import hind_bones
from .relief import Ridge
from .settings import Settings
from .sidecoat import outside, stretch
from .skeleton import Point, along, at, solve

Values = Mapping[str, float]
SHEET = (-0.60, -0.085, 0.60, 1.455)
RATIO = 0.75
IDEAL_OCCIPUT = 1.2712
DEPTH = 0.90
HORIZON = 0.50


@dataclass(frozen=True)
class FrontBones:
    """Joints of the dog's left foreleg; the other side mirrors them."""

    shoulder: Point
    elbow: Point
    wrist: Point
    foot: Point
    toe: Point
    brisket: float
    lift: float


def bones(v: Values) -> FrontBones:
    s = solve(v)
    lower = v["leg_shortening"]
    foot_y = float(s["front_foot"][1])
    foot = at(v["forefoot_spacing"] / 2, foot_y)
    return FrontBones(
        shoulder=at(v["shoulder_spacing"] / 2, 0.730 - 0.3 * lower),
        elbow=at(v["elbow_spacing"] / 2, 0.535 - lower),
        wrist=at(v["wrist_spacing"] / 2, 0.178),
        foot=foot,
        toe=at(foot[0] + foot_y * tan(radians(v["front_toe_turn"])), 0.0),
        brisket=1 - v["chest_depth"] + 0.018,
        lift=0.6 * (float(s["occiput"][1]) - IDEAL_OCCIPUT),
    )


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
        {"foot_front": _leg(moved, v)},
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
    left = _leg(b, v)
    shapes = {"trunk": _trunk(b, v), "leg_l": left, "leg_r": left.mirrored()}
    top = float(b.elbow[1])
    fade: FieldOf = lambda x, y: 1 - smooth(top - 0.03, top + 0.14, y) + 0 * x  # noqa: E731
    paws = [FrontPaw(b.foot, v, side) for side in (1.0, -1.0)]
    marks: list[Mark] = [m for paw in paws for m in paw.marks()]
    return Layer(
        "near",
        shapes,
        forms=tuple(_forms(b) + [f for paw in paws for f in paw.forms()]),
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
        fringes=tuple(_fringes(shapes, b, v)),
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


def symmetric(rows: list[tuple[float, float, float]]) -> Contour:
    """A contour from the points of its right half, top to bottom; the first and last lie on x = 0."""
    trace = Trace()
    for x, y, ink in rows:
        trace.to(at(x, y), ink)
    for x, y, ink in rows[-2:0:-1]:
        trace.to(at(-x, y), ink)
    return trace.close()


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


def _trunk(b: FrontBones, v: Values) -> Contour:
    """Neck, shoulders and forechest, down to the brisket between the legs."""
    sx, sy = b.shoulder
    neck, loose, rise = v["neck_depth"], v["dewlap"], b.lift
    ribs = _flatness(v)
    rows = [(0.0, 1.22 + rise, 0.0), (0.058, 1.21 + rise, 0.0), (0.083 * neck, 1.13 + rise, 0.6)]
    rows += [(0.092 * neck, 1.06 + 0.7 * rise, 1.0), (0.101 * neck + 0.004 * loose, 0.99 + 0.4 * rise, 1.0)]
    rows += [(0.5 * (0.115 + sx) * neck**0.5, 0.925, 1.0), ((sx + 0.022) * ribs, sy + 0.135, 1.0)]
    rows += [
        ((sx + 0.042) * ribs, sy + 0.065, 1.0),
        ((sx + 0.0500) * ribs, sy - 0.005, 1.0),
        ((sx + 0.0485) * ribs, sy - 0.060, 0.8),
    ]
    rows += [(0.4 * sx + 0.6 * float(b.elbow[0]) + 0.026, sy - 0.110, 0.0)]
    rows += [(0.058, b.brisket + 0.030, 0.0), (0.034, b.brisket + 0.007, 0.9), (0.0, b.brisket, 1.0)]
    return symmetric(rows)


def _flatness(v: Values) -> float:
    """Factor on the breadth of the shoulders over flat ribs."""
    return 1 + 0.45 * min(0.0, v["rib_spring"] - 1)


def _leg(b: FrontBones, v: Values) -> Contour:
    k = v["bone"]
    half = (1 + k) / 2
    flat = (float(b.shoulder[0]) + 0.05) * (1 - _flatness(v))
    trace = Trace()
    trace.bone(
        b.shoulder,
        b.elbow,
        (0.20, 0.042 - flat, 0),
        (0.34, 0.0480 - 0.9 * flat, 0.4),
        (0.52, 0.0480 - 0.6 * flat, 1),
        (0.72, 0.0470 - 0.25 * flat, 1),
        (0.90, 0.0455 * half, 1),
    )
    trace.bone(b.elbow, b.wrist, (0.025, 0.0435, 1), (0.12, 0.0410, 1), (0.24, 0.039, 1), k=half)
    trace.bone(
        b.elbow, b.wrist, (0.42, 0.033, 1), (0.64, 0.0270, 1), (0.84, 0.0248, 1), (0.95, 0.0275, 1), k=k
    )
    trace.bone(
        b.wrist, b.foot, (0.06, 0.0290, 1), (0.28, 0.0255, 1), (0.58, 0.0238, 1), (0.84, 0.0262, 1), k=k
    )
    FrontPaw(b.foot, v, 1.0).trace(trace)
    trace.bone(
        b.wrist, b.foot, (0.84, -0.0255, 1), (0.58, -0.0225, 1), (0.28, -0.0240, 1), (0.06, -0.0275, 1), k=k
    )
    trace.bone(b.elbow, b.wrist, (0.95, -0.0265, 1), (0.84, -0.0240, 1), (0.64, -0.0272, 1), k=k)
    trace.bone(
        b.elbow,
        b.wrist,
        (0.42, -0.0345, 1),
        (0.24, -0.0415, 1),
        (0.10, -0.0470, 1),
        (-0.02, -0.051, 0.9),
        k=half,
    )
    trace.bone(b.shoulder, b.elbow, (0.82, -0.056, 0.2), (0.50, -0.05, 0))
    return trace.close()


def _forms(b: FrontBones) -> list[Ridge]:
    sh, el, wr = b.shoulder, b.elbow, b.wrist
    rows = [
        (at(0.042, 0.750), at(0.048, 0.590), 0.026, 0.015),
        (at(0.088, 0.775), at(0.084, 0.600), 0.011, -0.0075),
        (sh + at(0.0, 0.03), el + at(0, -0.05), 0.030, 0.010),
        (sh + at(-0.010, 0.022), sh + at(-0.004, -0.012), 0.020, 0.006),
        (at(0.055, 1.12), at(0.098, 0.76), 0.030, 0.009),
        (at(0.026, 1.06), at(0.046, 0.84), 0.011, -0.0045),
        (el + at(0.010, -0.03), along(el, wr, 0.50, 0.008), 0.017, 0.005),
        (el + at(-0.022, -0.03), along(el, wr, 0.40, -0.016), 0.013, 0.0035),
        (along(el, wr, 0.10, -0.004), along(el, wr, 0.80, -0.002), 0.0065, -0.0018),
        (wr + at(0.0, 0.012), wr + at(0.0, -0.010), 0.015, 0.0040),
        (along(wr, b.foot, 0.30, 0.0), along(wr, b.foot, 0.85, 0.0), 0.010, 0.0015),
    ]
    flip = np.array([-1.0, 1.0])
    both = [Ridge(p * f, q * f, w, h) for p, q, w, h in rows for f in (np.ones(2), flip)]
    middle = [
        Ridge(at(0, 0.775), at(0, 0.735), 0.036, 0.007),
        Ridge(at(0, 0.655), at(0, b.brisket + 0.05), 0.016, -0.0050),
        Ridge(at(0, 1.0), at(0, 0.82), 0.030, 0.005),
    ]
    return both + middle


def _fringes(shapes: Mapping[str, Contour], b: FrontBones, v: Values) -> list[Fringe]:
    k, thick = v["coat_length"] ** 1.1, min(2.2, v["coat_length"] ** 0.9)
    trunk = shapes["trunk"]
    sx, sy = b.shoulder
    out = []
    for side in (1.0, -1.0):
        neck = stretch(trunk, at(side * 0.088, 1.10 + b.lift), at(side * (sx + 0.045), sy + 0.04))
        low = stretch(trunk, at(side * 0.045, b.brisket + 0.012), at(side * 0.002, b.brisket))
        for line, length, density, lift in ((neck, 0.032, 560, 9), (low, 0.034, 900, 38)):
            out.append(
                Fringe(
                    line,
                    outside(trunk, line),
                    length * k,
                    density * thick,
                    lift * v["coat_length"] ** 0.5,
                    6,
                    0.30,
                    ("leg_l", "leg_r", "skull", "muzzle"),
                )
            )
        leg = shapes["leg_l" if side > 0 else "leg_r"]
        rear = stretch(
            leg,
            b.elbow * np.array([side, 1]) + at(side * 0.045, -0.02),
            along(b.elbow, b.wrist, 0.6, 0.03) * np.array([side, 1]),
        )
        out.append(
            Fringe(rear, outside(leg, rear), 0.026 * k, 320 * thick, 9 * v["coat_length"] ** 0.5, 5, 0.26)
        )
    return out
