"""Neck, shoulders, chest and forelegs from the front: bones, contours, relief and fringes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians, tan

import numpy as np

from .curves import Contour, Trace
from .face import line
from .frontpaw import FrontPaw
from .plan import Fringe, Mark
from .relief import Ridge
from .sidecoat import outside, stretch
from .skeleton import Point, along, at, solve

Values = Mapping[str, float]
IDEAL_OCCIPUT = 1.2712


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
        wrist=at(v["wrist_spacing"] / 2, float(s["wrist"][1]) + 0.0043),
        foot=foot,
        toe=at(foot[0] + foot_y * tan(radians(v["front_toe_turn"])), 0.0),
        brisket=1 - v["chest_depth"] + 0.018,
        lift=0.6 * (float(s["occiput"][1]) - IDEAL_OCCIPUT),
    )


def symmetric(rows: list[tuple[float, float, float]]) -> Contour:
    """A contour from the points of its right half, top to bottom; the first and last lie on x = 0."""
    trace = Trace()
    for x, y, ink in rows:
        trace.to(at(x, y), ink)
    for x, y, ink in rows[-2:0:-1]:
        trace.to(at(-x, y), ink)
    return trace.close()


def trunk(b: FrontBones, v: Values) -> Contour:
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


def leg(b: FrontBones, v: Values) -> Contour:
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
        b.wrist, b.foot, (0.06, 0.0290, 1), (0.28, 0.0255, 1), (0.54, 0.0236, 1), (0.76, 0.0250, 1), k=k
    )
    FrontPaw(b.foot, v, 1.0).trace(trace)
    trace.bone(
        b.wrist, b.foot, (0.76, -0.0242, 1), (0.54, -0.0224, 1), (0.28, -0.0240, 1), (0.06, -0.0275, 1), k=k
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


def forms(b: FrontBones) -> list[Ridge]:
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


def fringes(shapes: Mapping[str, Contour], b: FrontBones, v: Values) -> list[Fringe]:
    k, thick = v["coat_length"] ** 1.1, min(2.2, v["coat_length"] ** 0.9)
    trunk = shapes["trunk"]
    sx, sy = b.shoulder
    out = []
    for side in (1.0, -1.0):
        neck = stretch(trunk, at(side * 0.088, 1.10 + b.lift), at(side * (sx + 0.045), sy + 0.04))
        low = stretch(trunk, at(side * 0.045, b.brisket + 0.012), at(side * 0.002, b.brisket))
        for edge, length, density, lift in ((neck, 0.032, 560, 9), (low, 0.034, 900, 38)):
            out.append(
                Fringe(
                    edge,
                    outside(trunk, edge),
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


def throat_folds(b: FrontBones, v: Values) -> list[Mark]:
    """Creases of loose skin that hang from the throat."""
    loose = v["dewlap"]
    if loose < 0.05:
        return []
    out = []
    for x0, x1, low in ((0.012, 0.018, 0.850), (0.030, 0.034, 0.880), (0.050, 0.048, 0.910)):
        for side in (1.0, -1.0):
            top = 1.005 + b.lift
            rows = [(x0, top), (x0 + 0.012, 0.5 * (top + low) + 0.01), (x1, low + 0.02), (0.6 * x1, low)]
            crease = line([at(side * x, y) for x, y in rows], (0.3, 0.9, 0.9, 0.05))
            out.append(
                Mark("fold_shade", crease, (62, 44, 34), 0.26 * loose, soft=0.0055, pen=6.5, within="trunk")
            )
            out.append(Mark("fold", crease, (62, 44, 34), 0.20 * loose, soft=0.0010, pen=0.7, within="trunk"))
    return out
