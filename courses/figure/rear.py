"""The rear view: x runs across the dog, picture right is the dog's right."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians

import numpy as np

from .crosscoat import both_sides, face_fields, rear_fields
from .curves import Array, Contour, Trace, ramp, smooth
from .front import DEPTH, HORIZON, RATIO, SHEET
from .frontbody import IDEAL_OCCIPUT, symmetric
from .fronthead import LIGHT, ROOT, TIP, FrontFace, back_of_ear, ear_place, skull
from .plan import FieldOf, Fringe, Layer, Mark, Plan, Proud, Shadow
from .rearbones import HindBones, hind_bones
from .rearpaw import RearPaw
from .relief import Ridge
from .settings import Settings
from .sidecoat import Strand, outside, strand, stretch
from .skeleton import Point, along, at
from .trunk import tail_line

Values = Mapping[str, float]
_FLIP = np.array([-1.0, 1.0])
_TAIL = ((0.0, 0.06, 0.25, 0.60, 0.85, 0.96, 1.0), (0.021, 0.027, 0.034, 0.042, 0.035, 0.020, 0.003))


def rear(settings: Settings) -> Plan:
    b = hind_bones(settings)
    fields = rear_fields(b.croup)
    layers = (
        _head_beyond(b, settings),
        *_ears_beyond(b, settings),
        _forelegs_beyond(b, settings, fields),
        _ribs(b, settings, fields),
        _near(b, settings, fields),
        _tail(b, settings),
    )
    x = float(b.foot[0])
    feet = ((x, 0.10, 0.55), (-x, 0.10, 0.55), (0.0, 0.20, 0.40))
    return Plan("rear", SHEET, RATIO, layers, points(b, settings), feet, guides=guides(b, settings))


def points(b: HindBones, v: Values) -> dict[str, Point]:
    named = {"set_on": b.set_on, "tail_tip": tail_centre(b, v)[-1]}
    rows = {
        "hip": b.hip,
        "stifle": b.stifle,
        "hock": b.hock,
        "rear_foot": b.foot,
        "toe": b.toe,
        "ground": at(b.foot[0], 0),
    }
    for name, p in rows.items():
        named[f"{name}_r"] = p
        named[f"{name}_l"] = p * _FLIP
    return named


def guides(b: HindBones, v: Values) -> dict[str, Point]:
    """Further places that zones and regions are drawn from."""
    face = _beyond(b, v)
    named = {"crown": face.at(0, 1.24)}
    sides = {
        "rib": at(0.150 * v["rib_spring"], 0.72),
        "ear_base": ear_place(face, ROOT),
        "ear_tip": ear_place(face, TIP),
    }
    for name, p in sides.items():
        named[f"{name}_r"], named[f"{name}_l"] = p, p * _FLIP
    return named


def tail_centre(b: HindBones, v: Values) -> Array:
    """Centre line of the tail from behind: the side view's heights, swung out of the middle."""
    side = tail_line(b.side, v)
    drop = side[:, 1] - side[0, 1]
    drop = np.minimum.accumulate(drop) if drop[-1] < 0 else np.maximum.accumulate(drop)
    t = np.linspace(0, 1, len(side))
    # A tail that points at the viewer still covers some height of the picture.
    drop = drop + np.sign(drop[-1] or -1) * 0.16 * t * (1 - np.minimum(1, abs(drop[-1]) / 0.4))
    swing = radians(v["tail_side"]) * smooth(0.0, 0.35, t)
    x = np.cumsum(np.append(0, np.hypot(np.diff(drop), 0.35 * np.abs(np.diff(side[:, 0])))) * np.sin(swing))
    sway = 0.014 * np.sin(2.2 * np.pi * t) * (1 - min(1.0, abs(v["tail_side"]) / 20))
    start = b.set_on - at(0, 0.012)
    y = start[1] + np.cumsum(np.append(0, np.diff(drop)) * np.cos(swing))
    return _even_steps(np.stack([start[0] + x + sway, y], axis=1))


def _even_steps(line: Array) -> Array:
    """The same line with its points at equal distances."""
    run = np.append(0, np.cumsum(np.hypot(*np.diff(line, axis=0).T)))
    where = np.linspace(0, run[-1], len(line))
    return np.stack([np.interp(where, run, line[:, i]) for i in (0, 1)], axis=1)


def _tail(b: HindBones, v: Values) -> Layer:
    line = tail_centre(b, v)
    t = np.linspace(0, 1, len(line))
    heading = np.gradient(line, axis=0)
    heading /= np.maximum(np.hypot(*heading.T), 1e-6)[:, None]
    normal = np.stack([-heading[:, 1], heading[:, 0]], axis=1)
    # Seen end on, a tail shows less of its breadth as well as of its length.
    shown = min(1.0, float(np.sum(np.hypot(*np.diff(line, axis=0).T))) / 0.30)
    half = shown * np.interp(t, *_TAIL) * (1 + (v["tail_brush"] - 1) * smooth(0.02, 0.25, t))
    sides = [line + normal * half[:, None], line - normal * half[:, None]]
    trace = Trace()
    order = [*range(0, 26, 3), 25, 26]
    for i in order:
        trace.to(sides[0][i], ramp(0.0, 0.22, t[i]))
    for i in order[-2::-1]:
        trace.to(sides[1][i], ramp(0.0, 0.22, t[i]))
    shape = trace.close()
    start = line[0]

    def clip(x: Array, y: Array) -> Array:
        return smooth(0.005, 0.10, np.hypot(x - start[0], y - start[1]))

    k = v["coat_length"] ** 1.1 * v["tail_brush"]
    fringes = []
    for side in sides:
        part = stretch(shape, side[3], side[25])
        fringes.append(Fringe(part, outside(shape, part), 0.046 * k, 900, 12, 6, 0.40))
    core: FieldOf = lambda x, y: 0.10 + 0.6 * np.abs(x - np.interp(y, line[::-1, 1], line[::-1, 0])) + 0 * y  # noqa: E731
    up = bool(line[-1, 1] > start[1])
    if up:
        core = lambda x, y: 0.12 + 0 * x + 0 * y  # noqa: E731
    tip = line[-4]
    coat: dict[str, FieldOf] = {
        "from_back": core,
        "collar": lambda x, y: 1 - smooth(0.05, 0.09, np.hypot(x - tip[0], y - tip[1])),
        "ease": lambda x, y: 0.5 * (1 - smooth(0.05, 0.20, np.hypot(x - tip[0], y - tip[1]))),
        "bib": lambda x, y: 0 * x + 0 * y,
    }
    flow = tuple((line[i], heading[i]) for i in range(0, 27, 3))
    return Layer(
        "tail",
        {"tail": shape},
        flow=flow,
        coat=coat,
        clip=clip,
        fringes=tuple(fringes),
        shadow=Shadow(0.012, -0.012, 0.018, 0.34),
        light=LIGHT,
    )


def _near(b: HindBones, v: Values, fields: Mapping[str, FieldOf]) -> Layer:
    leg = _leg(b, v)
    paws = [RearPaw(b.foot, v, side) for side in (1.0, -1.0)]
    shapes = {"croup": _croup(b, v), "leg_r": leg, "leg_l": leg.mirrored()}
    top = float(b.stifle[1])
    fade: FieldOf = lambda x, y: 1 - smooth(top + 0.02, top + 0.24, y) + 0 * x  # noqa: E731
    marks: list[Mark] = [m for paw in paws for m in paw.marks()]
    return Layer(
        "near",
        shapes,
        forms=tuple(_forms(b) + [f for paw in paws for f in paw.forms()]),
        prouds=(Proud("leg_l", 0.016, fade), Proud("leg_r", 0.016, fade)),
        occlusion=((at(0, 0.80), at(0, 0.56), 0.020, 0.35), (at(0, 0.62), at(0, 0.50), 0.035, 0.30)),
        flow=tuple(_flow(b)),
        hidden={"croup": ("leg_l", "leg_r")},
        fringes=tuple(_fringes(shapes, b, v)),
        coat=fields,
        marks=tuple(marks),
        shadow=Shadow(0.010, -0.02, 0.028, 0.36),
        light=LIGHT,
    )


def _croup(b: HindBones, v: Values) -> Contour:
    x, y = b.hip
    wide = x / 0.098
    rows = [(0.0, b.croup, 1.0), (0.036 * wide, b.croup - 0.005, 1.0), (0.070 * wide, b.croup - 0.030, 1.0)]
    rows += [(0.093 * wide, b.croup - 0.070, 0.9), (x + 0.009, y + 0.050, 0.8), (x + 0.023, y + 0.010, 0.4)]
    rows += [(x + 0.018, y - 0.06, 0), (0.07, 0.66, 0), (0.03, 0.62, 0), (0.0, 0.62, 0)]
    return symmetric(rows)


def _leg(b: HindBones, v: Values) -> Contour:
    k, broad = v["bone"], v["thigh_breadth"]
    hip, stifle, hock, foot = b.hip, b.stifle, b.hock, b.foot
    half = (k + broad) / 2
    trace = Trace()
    trace.xy(hip, (-0.020, 0.060, 0), (0.006, 0.045, 0), (0.024 * broad, 0.010, 0.6))
    trace.bone(hip, stifle, (0.09, 0.0345, 1), (0.27, 0.0425, 1), k=broad)
    trace.bone(hip, stifle, (0.50, 0.0440, 1), (0.76, 0.0395, 1), k=broad)
    trace.bone(stifle, hock, (-0.02, 0.0350, 1), (0.16, 0.0315, 1), (0.36, 0.0280, 1), k=half)
    trace.bone(stifle, hock, (0.58, 0.0225, 1), (0.78, 0.0190, 1), (0.92, 0.0205, 1), k=k)
    trace.bone(
        hock,
        foot,
        (0.02, 0.0225, 1),
        (0.14, 0.0205, 1),
        (0.40, 0.0180, 1),
        (0.70, 0.0180, 1),
        (0.88, 0.0205, 1),
        k=k,
    )
    RearPaw(foot, v, 1.0).trace(trace)
    trace.bone(
        hock,
        foot,
        (0.88, -0.0205, 1),
        (0.70, -0.0180, 1),
        (0.40, -0.0180, 1),
        (0.14, -0.0215, 1),
        (0.02, -0.0240, 1),
        k=k,
    )
    trace.bone(stifle, hock, (0.92, -0.0220, 1), (0.78, -0.0235, 1), k=k)
    trace.bone(stifle, hock, (0.58, -0.0345, 1), (0.36, -0.0520, 1), (0.12, -0.0720, 1), k=half)
    gap = 0.004 + 0.10 * max(0.0, 1 - broad)
    y = float(along(stifle, hock, 0.12, -0.0720 * half)[1])
    trace.to(at(0.020 + gap, y + 0.050)).to(at(0.010 + gap, y + 0.100), 0.9)
    trace.to(at(0.005, y + 0.175), 0.4).to(at(0.004, max(0.80, y + 0.24)), 0)
    return trace.close()


def _forms(b: HindBones) -> list[Ridge]:
    hip, stifle, hock, foot = b.hip, b.stifle, b.hock, b.foot
    rows = [
        (at(0.050, 0.80), along(stifle, hock, 0.46, -0.012), 0.030, 0.009),
        (hip + at(0.015, 0.02), along(stifle, hock, 0.30, 0.008), 0.032, 0.006),
        (hip + at(-0.014, -0.03), along(stifle, hock, 0.10, -0.014), 0.013, -0.0040),
        (at(0.046, 0.785), at(0.052, 0.760), 0.018, 0.006),
        (at(0.060, b.croup - 0.035), at(0.075, b.croup - 0.075), 0.022, 0.006),
        (along(stifle, hock, 0.45, 0.002), along(stifle, hock, 0.98, 0.0), 0.0075, 0.0042),
        (along(stifle, hock, 0.55, 0.016), along(stifle, hock, 0.92, 0.013), 0.0060, -0.0042),
        (along(stifle, hock, 0.55, -0.018), along(stifle, hock, 0.92, -0.015), 0.0060, -0.0042),
        (hock + at(0, 0.010), hock + at(0, -0.012), 0.0115, 0.0048),
        (along(hock, foot, 0.15), along(hock, foot, 0.85), 0.0070, 0.0018),
    ]
    return [Ridge(p * f, q * f, w, h) for p, q, w, h in rows for f in (np.ones(2), _FLIP)]


def _flow(b: HindBones) -> list[Strand]:
    hip, stifle, hock, foot = b.hip, b.stifle, b.hock, b.foot
    rows = strand(at(0.01, b.croup), at(0.01, 0.80), 6, (0.05, -1.0))
    rows += strand(at(0.06, b.croup - 0.02), hip, 5, (0.40, -1.0))
    rows += strand(hip + at(0.02, 0), stifle + at(0.01, 0), 7, (0.10, -1.0))
    rows += strand(at(0.04, 0.78), along(stifle, hock, 0.3, -0.03), 7, (0.05, -1.0))
    rows += strand(stifle, hock, 8) + strand(hock, foot, 7) + strand(foot, b.toe, 3)
    return both_sides(rows)


def _fringes(shapes: Mapping[str, Contour], b: HindBones, v: Values) -> list[Fringe]:
    k, thick, lift = v["coat_length"] ** 1.1, min(2.2, v["coat_length"] ** 0.9), v["coat_length"] ** 0.5
    out = []
    for name, side in (("leg_r", 1.0), ("leg_l", -1.0)):
        leg, flip = shapes[name], np.array([side, 1.0])
        outer = stretch(leg, (b.hip + at(0.034, -0.01)) * flip, along(b.stifle, b.hock, 0.3, 0.03) * flip)
        inner = stretch(leg, at(0.012, 0.64) * flip, along(b.stifle, b.hock, 0.5, -0.038) * flip)
        out.append(Fringe(outer, outside(leg, outer), 0.030 * k, 460 * thick, 9 * lift, 5, 0.30, ("tail",)))
        out.append(Fringe(inner, outside(leg, inner), 0.040 * k, 640 * thick, 13 * lift, 7, 0.34, ("tail",)))
    return out


def _far(p: Point) -> Point:
    return at(p[0] * DEPTH, HORIZON + (p[1] - HORIZON) * DEPTH)


def _ribs(b: HindBones, v: Values, fields: Mapping[str, FieldOf]) -> Layer:
    """The barrel of the ribs beyond the loin."""
    wide, low = 0.158 * v["rib_spring"], 1 - v["chest_depth"] + 0.035
    top = b.croup - 0.012
    rows = [
        (0.0, top, 0.0),
        (0.40 * wide, top - 0.015, 0.3),
        (0.76 * wide, 0.87, 0.9),
        (0.96 * wide, 0.77, 1.0),
    ]
    rows += [
        (wide, 0.69, 1.0),
        (0.94 * wide, 0.61, 1.0),
        (0.66 * wide, low + 0.040, 1.0),
        (0.30 * wide, low + 0.005, 1.0),
        (0.0, low, 1.0),
    ]
    return Layer(
        "ribs",
        {"ribs": symmetric(rows)},
        tone=0.76,
        flow=((at(0.1, 0.8), at(0.1, -1)), (at(-0.1, 0.8), at(-0.1, -1))),
        coat=fields,
        ink_width=0.85,
        shadow=Shadow(0.0, -0.02, 0.03, 0.25),
        light=LIGHT,
    )


def _forelegs_beyond(b: HindBones, v: Values, fields: Mapping[str, FieldOf]) -> Layer:
    """The forelegs seen between the hind legs, smaller and darker."""
    k = v["bone"] * DEPTH
    elbow = _far(at(v["elbow_spacing"] / 2, 0.535 - v["leg_shortening"]))
    wrist = _far(at(v["wrist_spacing"] / 2, 0.178))
    foot = _far(at(v["forefoot_spacing"] / 2, 0.066))
    trace = Trace()
    trace.xy(elbow, (0.040, 0.10, 0), (0.042, 0.0, 0.6))
    trace.bone(elbow, wrist, (0.16, 0.036, 1), (0.40, 0.031, 1), (0.70, 0.026, 1), (0.94, 0.027, 1), k=k)
    trace.bone(wrist, foot, (0.10, 0.027, 1), (0.50, 0.023, 1), (0.85, 0.025, 1), k=k)
    ground = at(foot[0], HORIZON * (1 - DEPTH))
    trace.xy(ground, (0.036, 0.045, 1), (0.040, 0.018, 1), (0.034, 0.001, 1), (0.0, 0.0, 1))
    trace.xy(ground, (-0.034, 0.001, 1), (-0.040, 0.018, 1), (-0.034, 0.045, 1))
    trace.bone(wrist, foot, (0.85, -0.025, 1), (0.50, -0.023, 1), (0.10, -0.026, 1), k=k)
    trace.bone(elbow, wrist, (0.94, -0.026, 1), (0.70, -0.026, 1), (0.40, -0.033, 1), (0.16, -0.043, 1), k=k)
    trace.xy(elbow, (-0.050, 0.02, 0.3), (-0.045, 0.10, 0))
    leg = trace.close()
    flow = ((at(0.1, 0.4), at(0, -1)), (at(-0.1, 0.4), at(0, -1)))
    return Layer(
        "forelegs",
        {"fore_l": leg, "fore_r": leg.mirrored()},
        tone=0.60,
        flow=flow,
        coat=fields,
        ink_width=0.8,
        light=LIGHT,
    )


def _beyond(b: HindBones, v: Values) -> FrontFace:
    occiput = float(b.side["occiput"][1])
    return FrontFace(v, 0.6 * (occiput - IDEAL_OCCIPUT) - 0.058)


def _head_beyond(b: HindBones, v: Values) -> Layer:
    """Neck and back of the skull above the croup."""
    face = _beyond(b, v)
    rise, neck, top = face.lift, v["neck_depth"], b.croup
    low = max(1.00 + 0.5 * rise, top + 0.040)
    high = max(1.12 + rise, low + 0.070)
    rows = [(0.0, high + 0.08, 0.0), (0.060, high + 0.07, 0.0), (0.084 * neck, high, 0.7)]
    rows += [(0.091 * neck, max(1.06 + 0.8 * rise, low + 0.035), 1.0), (0.102 * neck, low, 1.0)]
    rows += [
        (0.112, top - 0.020, 0.9),
        (0.116, top - 0.085, 0.4),
        (0.110, top - 0.16, 0.0),
        (0.0, top - 0.18, 0.0),
    ]
    shapes = {"neck": symmetric(rows), "skull": skull(face)}
    flow = ((at(0, 1.2), at(0, -1)), (at(0, 1.0), at(0, -1)))
    coat: dict[str, FieldOf] = {
        **face_fields(face.lift),
        "from_back": lambda x, y: 0.06 + 0.9 * np.abs(x) + 0 * y,
        "under": lambda x, y: 0 * x + 0 * y,
        "points": lambda x, y: 0 * x + 0 * y,
        "length": lambda x, y: 0.8 + 0 * x + 0 * y,
    }
    coat["collar"] = lambda x, y: (1 - smooth(1.00, 1.04, y - 0.25 * np.abs(x))) + 0 * x
    return Layer(
        "head_beyond",
        shapes,
        tone=0.90,
        haze=0.26,
        flow=flow,
        coat=coat,
        hidden={"neck": ("skull",)},
        ink_width=0.85,
        light=LIGHT,
    )


def _ears_beyond(b: HindBones, v: Values) -> list[Layer]:
    return [layer for side in (1.0, -1.0) for layer in back_of_ear(_beyond(b, v), side)]
