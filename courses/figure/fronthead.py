"""The head from the front: skull, muzzle, ears, eyes, nose and mouth. x across, y up, in H.

Written for the ideal head, whose eyes lie at y = 1.178; `FrontFace.at` moves a point to where it lies on
this one. The right half of the picture is defined, the left mirrors it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin

import numpy as np

from .curves import Array, Contour, Trace, centripetal, ramp, smooth
from .face import area, blend, disc, eye_shape, iris, line, pigment
from .leather import fold, ring
from .plan import FieldOf, Fringe, Layer, Mark, Shadow
from .relief import Ridge
from .skeleton import HEAD_LENGTH, Point, at

Values = Mapping[str, float]
EYE = (0.0470, 1.178)
LIGHT = (-0.40, 0.62, 0.68)

_SKULL = [
    (0.0, 1.2745, 1), (0.026, 1.2740, 1), (0.052, 1.2680, 1), (0.076, 1.2490, 1), (0.091, 1.2180, 1),
    (0.0985, 1.1860, 0.9), (0.1010, 1.1560, 0.8), (0.0960, 1.1260, 0.7), (0.0845, 1.0960, 0.6),
    (0.068, 1.066, 0.3), (0.040, 1.044, 0), (0.0, 1.040, 0),
]  # fmt: skip
_MUZZLE = [
    (0.0, 1.176, 0), (0.017, 1.170, 0), (0.027, 1.140, 0), (0.036, 1.108, 0.05), (0.046, 1.078, 0.5),
    (0.0525, 1.048, 1), (0.0535, 1.022, 1), (0.047, 1.003, 1), (0.034, 0.9915, 1), (0.018, 0.987, 1),
    (0.0, 0.986, 1),
]  # fmt: skip
_EAR = [
    (0.022, 1.244, 0), (0.029, 1.276, 0.6), (0.046, 1.327, 1), (0.069, 1.373, 1), (0.085, 1.396, 1),
    (0.096, 1.402, 1), (0.107, 1.393, 1), (0.119, 1.355, 1), (0.1255, 1.312, 1), (0.1235, 1.266, 1),
    (0.112, 1.226, 0.9), (0.098, 1.194, 0.3), (0.074, 1.188, 0), (0.046, 1.208, 0),
]  # fmt: skip
_CONCHA = [
    (0.046, 1.262), (0.058, 1.310), (0.076, 1.358), (0.093, 1.388), (0.104, 1.366), (0.112, 1.322),
    (0.111, 1.276), (0.099, 1.240), (0.074, 1.236),
]  # fmt: skip
_DEEP = [(0.062, 1.262), (0.074, 1.306), (0.090, 1.340), (0.101, 1.312), (0.102, 1.274), (0.090, 1.244)]
_TUFT = [(0.040, 1.246), (0.045, 1.276), (0.058, 1.312), (0.072, 1.342)]
ROOT = (0.064, 1.236)
TIP = (0.096, 1.402)


@dataclass(frozen=True)
class FrontFace:
    """Moves a point of the ideal front head by the parameters of the head; `lift` is its height change."""

    values: Values
    lift: float

    def at(self, x: float, y: float, side: float = 1.0) -> Point:
        v = self.values
        wide = 1 + (v["skull_width"] - 1) * ramp(1.05, 1.14, y)
        muzzle = 1 - ramp(1.07, 1.15, y)
        wide *= 1 + (v["muzzle_width"] - 1) * muzzle * (1 if abs(x) < 0.06 else 0.3)
        rise = v["skull_dome"] * 0.040 * ramp(1.20, 1.27, y) * (1 - ramp(0.03, 0.10, abs(x)))
        return at(side * x * wide, y + rise + self.lift)

    def trace(self, rows: Sequence[tuple[float, float, float]], side: float = 1.0) -> Contour:
        trace = Trace()
        for x, y, ink in rows:
            trace.to(self.at(x, y, side), ink)
        return trace.close()

    def both(self, rows: Sequence[tuple[float, float, float]]) -> Contour:
        """A symmetric contour from its right half; first and last lie in the middle."""
        trace = Trace()
        for x, y, ink in rows:
            trace.to(self.at(x, y), ink)
        for x, y, ink in rows[-2:0:-1]:
            trace.to(self.at(x, y, -1.0), ink)
        return trace.close()


def skull(face: FrontFace) -> Contour:
    return face.both(_SKULL)


def muzzle(face: FrontFace) -> Contour:
    """The muzzle with lips; loose lips hang at its sides, a weak underjaw leaves less below them."""
    v = face.values
    loose, jaw = v["lips"], v["underjaw"]
    rows = []
    for x, y, ink in _MUZZLE:
        low = 1 - ramp(0.990, 1.050, y)
        lateral = ramp(-0.004, 0.026, x)
        y += low * (0.012 * (1 - jaw) * (1 - lateral) - loose * (0.008 + 0.027 * lateral))
        x *= 1 + 0.12 * loose * low
        rows.append((x, y, ink))
    return face.both(rows)


def _ear_points(v: Values, face: FrontFace, rows: Sequence[Sequence[float]], side: float) -> Array:
    low, k = v["ear_set"], v["ear_length"]
    turn = radians(-34 * low)
    out = []
    for row in rows:
        x, y = row[0] - ROOT[0], row[1] - ROOT[1]
        y *= 1 + (k - 1) * ramp(-0.01, 0.03, y)
        x *= 1 + 0.4 * (k - 1)
        x, y = x * cos(turn) - y * sin(turn), y * cos(turn) + x * sin(turn)
        wide = v["skull_width"]
        out.append((side * wide * (x + ROOT[0] + 0.022 * low), y + ROOT[1] - 0.034 * low + face.lift))
    return np.array(out)


def ear_place(face: FrontFace, place: tuple[float, float]) -> Point:
    """A place of the ideal right-hand ear on this head, leaving out any fold."""
    return np.asarray(_ear_points(face.values, face, (place,), 1.0)[0])


def ear_layers(face: FrontFace, side: float) -> list[Layer]:
    """One ear: the leather seen from within, and its tipped end, if any."""
    v, name = face.values, "ear_l" if side > 0 else "ear_r"
    edge = _ear_points(v, face, _EAR, side)
    whole = ring(edge, [row[2] for row in _EAR])
    concha, deep = (ring(_ear_points(v, face, rows, side), [1.0] * len(rows)) for rows in (_CONCHA, _DEEP))
    tuft = centripetal(_ear_points(v, face, _TUFT, side), np.ones(len(_TUFT)), closed=False)
    root, tip = _ear_points(v, face, (ROOT, TIP), side)
    leather, flap, _ = fold(whole, root, tip, v["ear_fold"], side, tilt=-8, draw=0.10)
    marks = (
        Mark(f"{name}_inner", concha, (146, 112, 96), 0.66, soft=0.0040, within=name),
        Mark(f"{name}_deep", deep, (50, 36, 31), 0.74, soft=0.0105, within=name),
    )
    tufts = (
        ()
        if flap is not None
        else tuple(
            Fringe(tuft, -side, 0.034 * k, n, lift, 13, 0.42, colour=colour, rooted=True)
            for k, n, lift, colour in (
                (1.0, 760, 26, (232, 214, 184)),
                (0.8, 320, 20, (206, 180, 146)),
                (0.7, 220, 16, (96, 74, 60)),
            )
        )
    )
    way = tip - root
    flow = tuple((root + way * t, way) for t in (0.0, 0.5, 1.0))
    coat: dict[str, FieldOf] = {"from_back": _even(0.09), "length": _even(0.6), "points": _even(0.0)}
    low = float(root[1])

    def rise(x: Array, y: Array) -> Array:
        return smooth(low - 0.030, low + 0.026, y + 0.22 * (side * x - 0.064))

    out = [
        Layer(
            name,
            {name: leather},
            tone=0.92,
            flow=flow,
            coat=coat,
            marks=marks,
            fringes=tufts,
            light=LIGHT,
            clip=rise,
        )
    ]
    if flap is not None:
        down = tuple((p, -q) for p, q in flow)
        shade = Shadow(0.002, -0.006, 0.008, 0.35)
        name += "_flap"
        out.append(Layer(name, {name: flap}, tone=0.90, flow=down, coat=coat, shadow=shade, light=LIGHT))
    return out


def _even(value: float) -> FieldOf:
    return lambda x, y: value + 0 * x + 0 * y


def back_of_ear(face: FrontFace, side: float) -> list[Layer]:
    """The same ear seen from behind: hair all over, nothing of its inside."""
    plain = ear_layers(face, side)
    return [replace(layer, marks=(), fringes=(), tone=0.88, ink_width=0.85, haze=0.26) for layer in plain]


def eyes(face: FrontFace) -> list[Mark]:
    return [mark for side in (1.0, -1.0) for mark in _eye(face, side)]


def _eye(face: FrontFace, side: float) -> list[Mark]:
    v = face.values
    k, rim = v["eye_size"], pigment(v)
    centre = face.at(*EYE, side)
    # The profile's lids, turned to the front: narrower, the outer corner higher, the inner one lower.
    tilt = radians(20)

    def lid(du: float, dv: float, grow: float = 1.0) -> Point:
        x, y = -du * 0.94 * grow * HEAD_LENGTH, dv * 0.98 * grow * HEAD_LENGTH
        return centre + at(
            side * (x * cos(tilt) - y * sin(tilt) * 0.4), y * cos(tilt) + x * sin(tilt) + 0.0012
        )

    opening = eye_shape(v)
    ring = [lid(*p) for p in opening]
    inside = area(ring)
    colour = iris(v)
    ball = centre + at(-0.0006 * side, 0.0014)
    radius = 0.0098 * k
    glint = ball + at(-0.0030, 0.0036) * k
    return [
        Mark("socket", area([lid(a, b, 1.6) for a, b in opening]), (44, 31, 22), 0.40, soft=0.0058),
        Mark("lids", area([lid(a, b, 1.2) for a, b in opening]), rim, 0.95, soft=0.0005),
        Mark("white", inside, blend((122, 100, 84), rim, 0.3), 1.0, soft=0.0004),
        Mark("iris", disc(ball, radius), colour, 1.0, soft=0.0004, within_area=inside),
        Mark(
            "iris_low",
            disc(ball - at(0, 0.4 * radius), 0.55 * radius),
            blend(colour, (232, 196, 140), 0.3),
            0.7,
            soft=0.0016,
            within_area=inside,
        ),
        Mark(
            "iris_lid",
            disc(ball + at(0, 0.9 * radius), 0.75 * radius),
            (18, 12, 9),
            0.7,
            soft=0.002,
            within_area=inside,
        ),
        Mark("pupil", disc(ball, 0.48 * radius), (12, 10, 9), 1.0, soft=0.0004, within_area=inside),
        Mark("glint", disc(glint, 0.0018 * k), (250, 248, 240), 0.95, soft=0.0003),
        Mark("upper_lid", line(ring[:5], (0.4, 1, 1, 1, 0.7)), blend(rim, (20, 14, 12), 0.5), 0.95, pen=1.2),
    ]


def nose(face: FrontFace) -> list[Mark]:
    colour = pigment(face.values)
    light, dark = blend(colour, (232, 224, 216), 0.34), blend(colour, (12, 9, 9), 0.78)

    def both(rows: Sequence[tuple[float, float]]) -> Contour:
        return face.both([(x, y, 1.0) for x, y in rows])

    pad = both(
        [
            (0, 1.0795),
            (0.013, 1.079),
            (0.024, 1.0745),
            (0.0295, 1.064),
            (0.0270, 1.0535),
            (0.0165, 1.0465),
            (0.006, 1.0405),
            (0, 1.0385),
        ]
    )
    marks = [Mark("nose", pad, colour, 1.0, soft=0.0006)]
    top = both([(0, 1.0775), (0.014, 1.0765), (0.022, 1.0715), (0.012, 1.0700), (0, 1.0705)])
    marks.append(Mark("nose_top", top, light, 0.50, soft=0.0022))
    for side in (1.0, -1.0):
        hole = [
            (0.0075, 1.0590),
            (0.0125, 1.0630),
            (0.0190, 1.0625),
            (0.0225, 1.0575),
            (0.0240, 1.0530),
            (0.0180, 1.0555),
            (0.0120, 1.0555),
        ]
        marks.append(Mark("nostril", area([face.at(x, y, side) for x, y in hole]), dark, 0.95, soft=0.0005))
        wing = line(
            [face.at(x, y, side) for x, y in ((0.014, 1.0495), (0.022, 1.0512), (0.0265, 1.0575))],
            (0.1, 0.7, 0.1),
        )
        marks.append(Mark("wing", wing, light, 0.4, soft=0.0006, pen=0.9))
    cleft = line([face.at(0, 1.066), face.at(0, 1.052), face.at(0, 1.040)], (0.2, 0.8, 1))
    marks.append(Mark("cleft", cleft, dark, 0.7, pen=0.6))
    return marks


def mouth(face: FrontFace) -> list[Mark]:
    v = face.values
    rim = blend(pigment(v), (50, 37, 30), 0.4)
    hang = 0.030 * v["lips"]
    rows = [
        (0.0, 1.0215, 0.0),
        (0.010, 1.0155, 0.1),
        (0.024, 1.0130, 0.3),
        (0.037, 1.0165, 0.8),
        (0.0465, 1.0250, 1.0),
    ]
    marks = [Mark("philtrum", line([face.at(0, 1.040), face.at(0, 1.0215)], (1, 0.9)), rim, 0.85, pen=0.8)]
    for side in (1.0, -1.0):
        points = [face.at(x, y - hang * h, side) for x, y, h in rows]
        marks.append(
            Mark("lip_shade", line(points, (0.2, 0.8, 1, 0.6, 0)), (60, 42, 32), 0.32, soft=0.003, pen=4.0)
        )
        marks.append(Mark("lips", line(points, (1, 1, 0.9, 0.6, 0.1)), rim, 0.9, pen=0.95))
        for i, (x, y) in enumerate(
            ((0.030, 1.045), (0.036, 1.040), (0.041, 1.034), (0.031, 1.034), (0.037, 1.029))
        ):
            marks.append(
                Mark("pit", disc(face.at(x, y, side), 0.0009 + 0.0001 * (i % 2)), (60, 44, 34), 0.55)
            )
    return marks


def forms(face: FrontFace) -> list[Ridge]:
    rows = [
        (0.030, 1.196, 0.062, 1.199, 0.009, 0.0040),
        (0.040, 1.172, 0.058, 1.174, 0.010, -0.0045),
        (0.070, 1.160, 0.090, 1.176, 0.013, 0.0060),
        (0.074, 1.122, 0.084, 1.138, 0.018, 0.0050),
        (0.040, 1.150, 0.048, 1.110, 0.010, -0.0050),
        (0.036, 1.236, 0.050, 1.222, 0.020, 0.0030),
    ]
    both = [Ridge(face.at(a, b, s), face.at(c, d, s), w, h) for a, b, c, d, w, h in rows for s in (1.0, -1.0)]
    furrow = Ridge(face.at(0, 1.262), face.at(0, 1.196), 0.008, -0.0026)
    return [*both, furrow]


def muzzle_forms(face: FrontFace) -> list[Ridge]:
    bridge = Ridge(face.at(0, 1.165), face.at(0, 1.088), 0.012, 0.007)
    pads = [Ridge(face.at(0.026, 1.046, s), face.at(0.034, 1.024, s), 0.014, 0.005) for s in (1.0, -1.0)]
    return [bridge, *pads]
