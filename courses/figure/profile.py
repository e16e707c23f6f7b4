"""The side view: layers, points, lie of the hair and coat fields."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import numpy as np

from . import head as heads
from . import muscles
from .curves import Array, Contour, smooth
from .limbs import foreleg, hindleg
from .plan import FieldOf, Fringe, Layer, Plan, Proud, Shadow
from .relief import distance
from .settings import Settings
from .skeleton import Point, Skeleton, along, at, solve
from .stance import FAR_GROUND, far_side
from .trunk import back, forechest, tail, tail_line, trunk

Values = Mapping[str, float]
SHEET = (-1.32, -0.085, 0.80, 1.425)
RATIO = 1.41


def profile(settings: Settings) -> Plan:
    s = solve(settings)
    far = far_side(s, settings)
    shapes = {
        "tail": tail(s, settings),
        "trunk": trunk(s, settings),
        "foreleg": foreleg(s, settings),
        "hindleg": hindleg(s, settings),
        "head": heads.head(s, settings),
    }
    layers = (
        _far_leg("far_hindleg", hindleg(far, settings).moved(0, FAR_GROUND), far, settings, hind=True),
        _far_leg("far_foreleg", foreleg(far, settings).moved(0, FAR_GROUND), far, settings, hind=False),
        Layer("far_ear", {"far_ear": heads.far_ear(s, settings)}, tone=0.70),
        Layer(
            "near",
            shapes,
            forms=tuple(muscles.fore(s) + muscles.body(s) + muscles.hind(s) + muscles.face(s)),
            prouds=_prouds(s),
            occlusion=_occlusion(s),
            flow=tuple(_flow(s, settings)),
            hidden={
                "tail": ("trunk", "hindleg"),
                "trunk": ("foreleg", "hindleg", "head", "ear", "tail"),
                "head": ("ear",),
            },
            fringes=tuple(_fringes(shapes, s)),
            coat=coat_fields(s, settings),
            shadow=Shadow(0.015, -0.03, 0.03, 0.38),
        ),
        Layer("ear", {"ear": heads.ear(s, settings)}, tone=0.86),
    )
    feet = (
        (float(s["front_foot"][0]) + 0.03, 0.16, 0.55),
        (float(s["rear_foot"][0]) + 0.04, 0.17, 0.55),
        (float(s["front_foot"][0] + s["rear_foot"][0]) / 2, 0.46, 0.38),
    )
    return Plan("profile", SHEET, RATIO, layers, points(s, settings), feet, guides=guides(s, settings))


def points(s: Skeleton, v: Values) -> dict[str, Point]:
    named = dict(s.joints)
    line = tail_line(s, v)
    named.update(heads.head_points(s, v))
    named.update(
        prosternum=s["point_of_shoulder"] + at(forechest(v), 0.008),
        brisket=at(s["elbow"][0] - 0.02, s.chest_line),
        loin_top=back(s, v, 0.70),
        set_on=along(s["hip_bone"], s["point_of_buttock"], 0.70, -0.053),
        tail_tip=line[-1],
        ground_front=at(s["front_foot"][0], 0),
        ground_rear=at(s["rear_foot"][0], 0),
    )
    return named


def guides(s: Skeleton, v: Values) -> dict[str, Point]:
    line = tail_line(s, v)
    return {
        "tail_middle": line[13],
        "back_middle": back(s, v, 0.40),
        "flank": at(s["hip_joint"][0] + 0.30, s.chest_line + v["tuck_up"]),
        "belly": at(s["elbow"][0] - 0.27, s.chest_line + 0.227 * v["tuck_up"]),
    }


def _far_leg(name: str, contour: Contour, far: Skeleton, v: Values, *, hind: bool) -> Layer:
    return Layer(name, {name: contour}, tone=0.74, ink_width=0.85)


def _prouds(s: Skeleton) -> tuple[Proud, ...]:
    elbow_y, stifle_y = float(s["elbow"][1]), float(s["stifle"][1])

    def below(y0: float, y1: float) -> FieldOf:
        return lambda x, y: 1 - smooth(y0, y1, y) + 0 * x

    def along_head(x: Array, y: Array) -> Array:
        a, origin = s.head_axis, s["occiput"]
        u = ((x - origin[0]) * a[0] + (y - origin[1]) * a[1]) / 0.425
        return smooth(0.18, 0.42, u)

    return (
        Proud("foreleg", 0.022, below(elbow_y - 0.02, elbow_y + 0.10)),
        Proud("hindleg", 0.020, below(stifle_y - 0.02, stifle_y + 0.13)),
        Proud("head", 0.012, along_head),
    )


def _occlusion(s: Skeleton) -> tuple[tuple[Point, Point, float, float], ...]:
    shoulder, elbow, point = s["point_of_shoulder"], s["elbow"], s["point_of_elbow"]
    hip, stifle = s["hip_joint"], s["stifle"]
    return (
        (s.head(0.25, -0.50), s.head(0.40, -0.50), 0.030, 0.30),
        (point + at(-0.035, 0.02), point + at(-0.03, -0.05), 0.022, 0.25),
        (along(hip, stifle, 0.55, 0.15), along(hip, stifle, 0.85, 0.11), 0.026, 0.12),
        (shoulder + at(-0.02, -0.13), elbow + at(0.06, 0.0), 0.030, 0.16),
    )


def _strand(
    a: Point, b: Point, n: int, heading: tuple[float, float] | None = None
) -> list[tuple[Point, Point]]:
    way = (b - a) if heading is None else at(*heading)
    return [(a + (b - a) * t, way) for t in np.linspace(0, 1, n)]


def _flow(s: Skeleton, v: Values) -> list[tuple[Point, Point]]:
    h, w, hip_bone, buttock = s.head, s["withers"], s["hip_bone"], s["point_of_buttock"]
    shoulder, elbow, wrist, foot = s["point_of_shoulder"], s["elbow"], s["wrist"], s["front_foot"]
    hip, stifle, hock, hindfoot = s["hip_joint"], s["stifle"], s["hock_joint"], s["rear_foot"]
    line = tail_line(s, v)
    tail_way = np.gradient(line, axis=0)
    c = s.chest_line
    rows = _strand(h(0.95, -0.10), h(0.50, -0.08), 6)
    rows += _strand(h(0.50, -0.04), h(0.02, 0.0), 5)
    rows += _strand(h(0.92, -0.25), h(0.40, -0.34), 6)
    rows += _strand(h(0.0, -0.02), w, 8)
    rows += _strand(h(0.32, -0.30), shoulder + at(0.02, 0.06), 8)
    rows += _strand(h(0.20, -0.20), along(w, shoulder, 0.5), 7)
    rows += _strand(w, hip_bone + at(0, 0.03), 9, (-1, -0.12))
    rows += _strand(at(w[0] - 0.10, 0.80), at(hip_bone[0], 0.80), 8, (-1, -0.30))
    rows += _strand(at(w[0] - 0.10, 0.66), at(hip_bone[0], 0.68), 8, (-1, -0.34))
    rows += _strand(at(elbow[0] - 0.15, c + 0.05), at(hip_bone[0] + 0.05, c + 0.11), 6, (-1, -0.30))
    rows += _strand(along(w, shoulder, 0.2, 0.0), along(w, shoulder, 0.8), 5, (-0.6, -1))
    rows += _strand(shoulder + at(0.03, 0.02), shoulder + at(0.0, -0.16), 4, (-0.45, -1))
    rows += _strand(shoulder, elbow, 5, (-0.55, -1))
    rows += _strand(hip_bone, buttock, 5, (-1, -0.7))
    rows += _strand(along(hip, stifle, 0.1), along(hip, stifle, 0.9), 6, (-0.45, -1))
    rows += _strand(buttock + at(0.02, -0.03), along(stifle, hock, 0.3, -0.08), 6, (-0.10, -1))
    rows += _strand(elbow, wrist, 9) + _strand(wrist, foot, 5) + _strand(foot, at(foot[0] + 0.05, 0.01), 3)
    rows += (
        _strand(stifle, hock, 8)
        + _strand(hock, hindfoot, 7)
        + _strand(hindfoot, at(hindfoot[0] + 0.05, 0.01), 3)
    )
    rows += [(line[i], tail_way[i]) for i in range(2, 27, 2)]
    return rows


def _fringes(shapes: Mapping[str, object], s: Skeleton) -> list[Fringe]:
    return []


def _to_line(points: list[Point]) -> FieldOf:
    """Distance from a polyline."""

    def field(x: Array, y: Array) -> Array:
        out = distance(x, y, points[0], points[1])
        for a, b in pairwise(points):
            out = np.minimum(out, distance(x, y, a, b))
        return out

    return field


def coat_fields(s: Skeleton, v: Values) -> dict[str, FieldOf]:
    w, hip_bone, buttock, shoulder, elbow = (
        s[n] for n in ("withers", "hip_bone", "point_of_buttock", "point_of_shoulder", "elbow")
    )
    h, c = s.head, s.chest_line
    line = tail_line(s, v)
    spine = _to_line(
        [
            h(0.35, 0.06),
            h(0.0, 0.02),
            w,
            at(-0.30, 0.98),
            hip_bone + at(0, 0.03),
            along(hip_bone, buttock, 0.6, -0.05),
        ]
    )
    tail_core = _to_line([line[i] for i in range(0, 27, 3)])
    low = _to_line(
        [
            h(0.80, -0.36), h(0.40, -0.44), along(shoulder, h(0.30, -0.52), 0.5, -0.07),
            shoulder + at(0.06, 0.0), at(elbow[0], c), at(elbow[0] - 0.30, c + 0.02),
            at(hip_bone[0] + 0.05, c + 0.10),
        ]
    )  # fmt: skip

    def from_back(x: Array, y: Array) -> Array:
        return np.minimum(spine(x, y), 0.10 + 1.2 * tail_core(x, y))

    def under(x: Array, y: Array) -> Array:
        belly = 0.9 * (1 - smooth(0.01, 0.17, low(x, y)))
        legs = 0.85 * (1 - smooth(0.14, 0.40, y + 0 * x))
        return np.maximum(belly, legs)

    return {"from_back": from_back, "under": under}
