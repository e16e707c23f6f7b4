"""The coat in the side view: lie of the hair, fringes, and the fields that patterns are made of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np

from .curves import Array, Contour, smooth
from .face import EYE
from .head import Face
from .plan import FieldOf, Fringe
from .relief import distance
from .skeleton import Point, Skeleton, along, at
from .trunk import back, forechest, tail_line

Values = Mapping[str, float]
Strand = tuple[Point, Point]


def strand(a: Point, b: Point, n: int, heading: tuple[float, float] | None = None) -> list[Strand]:
    """n samples of the lie of the hair between two places, along their line or in a given direction."""
    way = (b - a) if heading is None else at(*heading)
    return [(np.asarray(a + (b - a) * t), way) for t in np.linspace(0, 1, n)]


def flow(s: Skeleton, v: Values) -> list[Strand]:
    h, w, hip_bone, buttock = s.head, s["withers"], s["hip_bone"], s["point_of_buttock"]
    shoulder = s["point_of_shoulder"]
    elbow, c = s["elbow"], s.chest_line
    hip, stifle, hock = s["hip_joint"], s["stifle"], s["hock_joint"]
    rows = strand(h(0.95, -0.10), h(0.54, -0.06), 6, tuple(h(0.5, -0.02) - h(0.95, -0.06)))
    rows += strand(h(0.50, 0.0), h(0.02, 0.0), 6)
    rows += strand(h(0.92, -0.25), h(0.45, -0.30), 6)
    rows += strand(h(0.52, -0.14), h(0.12, -0.20), 5, tuple(h(0.10, -0.26) - h(0.5, -0.12)))
    rows += strand(h(0.44, -0.34), h(0.26, -0.42), 3, tuple(h(0.16, -0.52) - h(0.44, -0.30)))
    rows += strand(h(0.0, -0.02), w, 8)
    rows += strand(h(0.26, -0.46), shoulder + at(0.045, 0.06), 7)
    rows += strand(h(0.14, -0.25), along(w, shoulder, 0.5), 7)
    rows += strand(w, hip_bone + at(0, 0.03), 9, (-1, -0.10))
    rows += strand(at(w[0] - 0.10, 0.82), at(hip_bone[0], 0.82), 8, (-1, -0.26))
    rows += strand(at(w[0] - 0.12, 0.68), at(hip_bone[0], 0.69), 8, (-1, -0.36))
    rows += strand(at(elbow[0] - 0.15, c + 0.05), at(hip_bone[0] + 0.05, c + 0.11), 6, (-1, -0.34))
    rows += strand(along(w, shoulder, 0.2), along(w, shoulder, 0.8), 5, (-0.62, -1))
    rows += strand(shoulder + at(0.045, 0.02), shoulder + at(0.01, -0.16), 4, (-0.30, -1))
    rows += strand(shoulder, elbow, 5, (-0.50, -1))
    rows += strand(hip_bone, buttock, 5, (-1, -0.62))
    rows += strand(along(hip, stifle, 0.0), along(hip, stifle, 0.9), 6, (-0.42, -1))
    rows += strand(buttock + at(0.02, -0.03), along(stifle, hock, 0.3, -0.08), 6, (-0.10, -1))
    rows += leg_flow(s)
    line = tail_line(s, v)
    way = np.gradient(line, axis=0)
    return rows + [(line[i], way[i]) for i in range(2, 27, 2)]


def leg_flow(s: Skeleton) -> list[Strand]:
    elbow, wrist, foot = s["elbow"], s["wrist"], s["front_foot"]
    stifle, hock, hindfoot = s["stifle"], s["hock_joint"], s["rear_foot"]
    rows = strand(elbow, wrist, 9) + strand(wrist, foot, 5) + strand(foot, at(foot[0] + 0.05, 0.01), 3)
    rows += strand(stifle, hock, 8) + strand(hock, hindfoot, 7)
    return rows + strand(hindfoot, at(hindfoot[0] + 0.05, 0.01), 3)


def stretch(contour: Contour, first: Point, last: Point) -> Contour:
    """The part of a closed contour from the point nearest to `first` to that nearest to `last`.

    Of the two ways round, the shorter; it runs from first to last.
    """
    n = len(contour.points)
    i, j = (int(np.argmin(np.hypot(*(contour.points - p).T))) for p in (first, last))
    ahead = (j - i) % n
    step = np.arange(ahead + 1) if ahead <= n - ahead else -np.arange(n - ahead + 1)
    index = (i + step) % n
    return Contour(contour.points[index], contour.ink[index], closed=False)


def outside(contour: Contour, part: Contour) -> float:
    """+1 when the paper lies to the left of this stretch as it runs, −1 when to the right."""
    p = contour.points
    area = float(np.sum(p[:-1, 0] * p[1:, 1] - p[1:, 0] * p[:-1, 1]))
    start = int(np.argmin(np.hypot(*(p - part.points[0]).T)))
    forward = np.allclose(p[(start + 1) % len(p)], part.points[min(1, len(part.points) - 1)])
    return -1.0 if (area > 0) == bool(forward) else 1.0


def fringes(shapes: Mapping[str, Contour], s: Skeleton, v: Values) -> list[Fringe]:
    """Hair that breaks the contour: nape, back, belly, forechest, throat, breech, forearm and tail."""
    h, shoulder, buttock, elbow = s.head, s["point_of_shoulder"], s["point_of_buttock"], s["elbow"]
    c, fc, line = s.chest_line, forechest(v), tail_line(s, v)
    withers, croup = s["withers"], along(s["hip_bone"], buttock, 0.60, -0.055)
    chest = shoulder + at(fc, 0.0)
    over = ("foreleg", "hindleg", "head", "ear")
    rows = (
        ("trunk", h(-0.04, -0.022), withers + at(0.02, 0.01), 0.030, 480, 9, 5, 0.32, over),
        ("trunk", withers + at(0.01, 0.0), croup, 0.034, 420, 7, 4, 0.30, over),
        (
            "trunk",
            at(elbow[0] - 0.06, c),
            at(s["hip_joint"][0] + 0.24, c + v["tuck_up"]),
            0.036,
            560,
            10,
            7,
            0.28,
            over,
        ),
        ("trunk", chest + at(0, 0.05), at(elbow[0] + 0.05, c + 0.03), 0.040, 640, 12, 7, 0.26, over),
        ("trunk", h(0.34, -0.47), chest + at(0, 0.05), 0.028, 420, 8, 6, 0.26, over),
        (
            "hindleg",
            buttock + at(-0.022, -0.03),
            s["point_of_hock"] + at(0.02, 0.05),
            0.046,
            760,
            13,
            7,
            0.40,
            (),
        ),
        (
            "foreleg",
            s["point_of_elbow"] + at(0, -0.01),
            along(elbow, s["wrist"], 0.7, -0.033),
            0.030,
            420,
            12,
            6,
            0.36,
            (),
        ),
        (
            "tail",
            along(line[2], line[3], 0, -0.04),
            along(line[23], line[24], 0, -0.02),
            0.046,
            800,
            12,
            6,
            0.40,
            ("trunk", "hindleg"),
        ),
        (
            "tail",
            along(line[2], line[3], 0, 0.05),
            along(line[23], line[24], 0, 0.03),
            0.052,
            1000,
            13,
            6,
            0.40,
            ("trunk", "hindleg"),
        ),
    )
    k, thick = v["coat_length"] ** 1.1, min(2.2, v["coat_length"] ** 0.9)
    out = []
    for name, first, last, length, density, lift, jitter, dark, hidden in rows:
        part = stretch(shapes[name], first, last)
        lifted = lift * v["coat_length"] ** 0.5
        side = outside(shapes[name], part)
        out.append(Fringe(part, side, length * k, density * thick, lifted, jitter, dark, hidden))
    end = Contour(line[20:26], np.linspace(0.5, 1, 6), closed=False)
    tuft = 1500 * thick * min(1.0, v["tail_brush"])
    return [*out, Fringe(end, 1.0, 0.050 * k, tuft, 0, 9, 0.36, ("trunk", "hindleg"), rooted=True)]


def to_line(points: Sequence[Point]) -> FieldOf:
    """Distance from a polyline."""

    def field(x: Array, y: Array) -> Array:
        out: Array | None = None
        for a, b in pairwise(points):
            d = distance(x, y, a, b)
            out = d if out is None else np.minimum(out, d)
        assert out is not None
        return out

    return field


def bump(point: Point, width: float) -> FieldOf:
    """1 at a point, falling off as a Gaussian."""
    return lambda x, y: np.exp(-0.5 * ((x - point[0]) ** 2 + (y - point[1]) ** 2) / width**2)


def head_frame(s: Skeleton) -> tuple[FieldOf, FieldOf]:
    """Fields u and v of the frame of the head."""
    a, origin = s.head_axis, s["occiput"]

    def u(x: Array, y: Array) -> Array:
        return np.asarray(((x - origin[0]) * a[0] + (y - origin[1]) * a[1]) / 0.425)

    def v(x: Array, y: Array) -> Array:
        return np.asarray(((y - origin[1]) * a[0] - (x - origin[0]) * a[1]) / 0.425)

    return u, v


def fields(s: Skeleton, v: Values) -> dict[str, FieldOf]:
    """Coat fields of the whole dog from the side; the far legs use them too."""
    return {
        "from_back": _from_back(s, v),
        "under": _under(s, v),
        "points": _points(s, v),
        "bib": _bib(s, v),
        "collar": _collar(s, v),
        "ease": _ease(s, v),
        "length": _length(s),
    }


def _spine(s: Skeleton, v: Values) -> list[Point]:
    h, hip_bone = s.head, s["hip_bone"]
    croup = along(hip_bone, s["point_of_buttock"], 0.6, -0.05)
    return [
        h(0.36, 0.06),
        h(0.0, 0.02),
        s["withers"],
        back(s, v, 0.35),
        back(s, v, 0.7),
        hip_bone + at(0, 0.03),
        croup,
    ]


def _from_back(s: Skeleton, v: Values) -> FieldOf:
    face, line = Face(s, v), tail_line(s, v)
    spine, core = to_line(_spine(s, v)), to_line([line[i] for i in range(0, 27, 3)])
    bridge = to_line([face.at(0.56, -0.02), face.at(0.90, -0.05)])

    buttock, hock = s["point_of_buttock"], s["point_of_hock"]
    down = (hock - buttock) / np.hypot(*(hock - buttock))

    def field(x: Array, y: Array) -> Array:
        # The dark of the tail does not shine through the thigh that hides it.
        inside = np.maximum(0, (x - buttock[0]) * -down[1] + (y - buttock[1]) * down[0])
        d = np.minimum(spine(x, y), 0.09 + 1.3 * core(x, y) + 4 * inside)
        return np.asarray(np.minimum(d, 0.17 + 4 * bridge(x, y)))

    return field


def _under(s: Skeleton, v: Values) -> FieldOf:
    h, c, shoulder, elbow = s.head, s.chest_line, s["point_of_shoulder"], s["elbow"]
    throat = along(shoulder + at(forechest(v), 0.01), h(0.30, -0.52), 0.5, -0.01)
    low = to_line(
        [
            h(0.86, -0.34),
            h(0.40, -0.44),
            throat,
            shoulder + at(forechest(v), 0.0),
            at(elbow[0] + 0.06, c + 0.06),
            at(elbow[0], c),
            at(elbow[0] - 0.30, c + 0.02),
            at(s["hip_bone"][0] + 0.05, c + 0.10),
        ]
    )
    cheek, brow = bump(h(0.42, -0.20), 0.040), bump(h(EYE[0] + 0.005, -0.028), 0.010)
    breech = to_line([s["point_of_buttock"] + at(-0.01, -0.06), s["point_of_hock"] + at(0.03, 0.10)])

    def field(x: Array, y: Array) -> Array:
        out = 0.9 * (1 - smooth(0.01, 0.17, low(x, y)))
        out = np.maximum(out, 0.85 * (1 - smooth(0.14, 0.40, y + 0 * x)))
        out = np.maximum(out, np.maximum(0.50 * cheek(x, y), 0.6 * brow(x, y)))
        return np.maximum(out, 0.55 * (1 - smooth(0.0, 0.09, breech(x, y))))

    return field


def _points(s: Skeleton, v: Values) -> FieldOf:
    """Where a black-and-tan dog is tan."""
    face, h = Face(s, v), s.head
    muzzle = to_line([face.at(0.92, -0.22), face.at(0.66, -0.21), face.at(0.48, -0.30), face.at(0.36, -0.36)])
    jaw = to_line([face.at(0.90, -0.31), h(0.45, -0.40), h(0.30, -0.46)])
    brow = bump(h(EYE[0] + 0.008, -0.026), 0.012)
    chest = bump(s["point_of_shoulder"] + at(forechest(v) - 0.01, -0.03), 0.036)
    breech = to_line([s["point_of_buttock"] + at(-0.005, -0.05), s["point_of_hock"] + at(0.02, 0.16)])

    def field(x: Array, y: Array) -> Array:
        out = 1 - smooth(0.20, 0.42, y + 0 * x)
        out = np.maximum(out, 1 - smooth(0.008, 0.048, muzzle(x, y)))
        out = np.maximum(out, 1 - smooth(0.010, 0.040, jaw(x, y)))
        out = np.maximum(out, brow(x, y))
        return np.maximum(out, np.maximum(chest(x, y), 1 - smooth(0.012, 0.050, breech(x, y))))

    return field


def _bib(s: Skeleton, v: Values) -> FieldOf:
    shoulder = s["point_of_shoulder"]
    line = to_line([shoulder + at(forechest(v) + 0.01, 0.05), shoulder + at(forechest(v), -0.05)])

    def field(x: Array, y: Array) -> Array:
        return np.maximum(1 - smooth(0.02, 0.085, line(x, y)), 1 - smooth(0.030, 0.085, y + 0 * x))

    return field


def _collar(s: Skeleton, v: Values) -> FieldOf:
    face, h, w, shoulder = Face(s, v), s.head, s["withers"], s["point_of_shoulder"]
    top = along(w, s["occiput"], 0.20)
    band = to_line([top + at(0.0, 0.02), along(w, shoulder, 0.45) + at(0.06, 0.03), shoulder + at(0.03, 0.0)])
    chest = to_line([shoulder + at(0.05, 0.08), shoulder + at(0.03, -0.12), s["elbow"] + at(0.05, -0.02)])
    blaze = to_line([h(0.40, 0.10), face.at(0.56, 0.01), face.at(0.92, -0.02)])
    muzzle = to_line([face.at(0.98, -0.14), face.at(0.88, -0.30)])
    belly = to_line([at(s["elbow"][0], s.chest_line - 0.02), at(s["elbow"][0] - 0.40, s.chest_line + 0.02)])
    tip = tail_line(s, v)[-5:]
    end = to_line(list(tip))
    fore_x, split = float(s["elbow"][0]), (float(s["elbow"][0]) + float(s["stifle"][0])) / 2

    def field(x: Array, y: Array) -> Array:
        out = 1 - smooth(0.030, 0.100, band(x, y) + 0.014 * np.sin(38 * y + 11 * x) * np.cos(23 * x))
        out = np.maximum(out, 1 - smooth(0.05, 0.12, chest(x, y)))
        out = np.maximum(out, 1 - smooth(0.010, 0.030, blaze(x, y)))
        out = np.maximum(out, 1 - smooth(0.030, 0.070, muzzle(x, y)))
        out = np.maximum(out, 1 - smooth(0.015, 0.050, belly(x, y)))
        out = np.maximum(out, 1 - smooth(0.04, 0.09, end(x, y)))
        height = np.where(x > split, 0.44, 0.20)
        return np.maximum(out, 1 - smooth(-0.05, 0.05, y - height + 0.10 * (x - fore_x) * (x > split)))

    return field


def _ease(s: Skeleton, v: Values) -> FieldOf:
    """White spreads from muzzle, neck, feet, belly and tail tip; last to go are back and ears."""
    collar, under, from_back = _collar(s, v), _under(s, v), _from_back(s, v)
    patch = bump(at(s["hip_bone"][0] + 0.28, 0.70), 0.13)

    def field(x: Array, y: Array) -> Array:
        far = np.clip(from_back(x, y) / 0.55, 0, 1)
        out = 0.34 * far + 0.24 * under(x, y) + 0.42 * collar(x, y)
        return np.maximum(out, 0.62 * patch(x, y) + 0.10 * far)

    return field


def _length(s: Skeleton) -> FieldOf:
    """Hair is short on head and legs, longest on breech and neck."""
    u, _ = head_frame(s)
    buttock = bump(s["point_of_buttock"] + at(0.0, -0.12), 0.10)
    ruff = bump(along(s["withers"], s["point_of_shoulder"], 0.4) + at(0.10, 0.05), 0.12)

    def field(x: Array, y: Array) -> Array:
        face = smooth(0.10, 0.55, u(x, y)) * smooth(0.95, 1.02, y + 0 * x)
        legs = 1 - smooth(0.20, 0.50, y + 0 * x)
        return (1 - 0.45 * face) * (1 - 0.50 * legs) + 0.35 * buttock(x, y) + 0.25 * ruff(x, y)

    return field
