"""Eye, nose, mouth and whiskers on the side of the head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, pi, sin

import numpy as np

from .curves import Contour, centripetal
from .head import LIP_CORNER, Face
from .plan import Mark
from .skeleton import HEAD_LENGTH, Point

Values = Mapping[str, float]
Colour = tuple[int, int, int]

EYE = (0.472, -0.080)
_ALMOND = [
    (-0.049, 0.004), (-0.024, 0.021), (0.006, 0.025), (0.030, 0.009), (0.046, -0.021),
    (0.016, -0.024), (-0.020, -0.016),
]  # fmt: skip
_ROUND = [
    (-0.039, 0.000), (-0.023, 0.026), (0.003, 0.033), (0.028, 0.021), (0.040, -0.009),
    (0.015, -0.030), (-0.019, -0.023),
]  # fmt: skip
_NOSE = [
    (0.927, -0.043), (0.960, -0.041), (0.985, -0.052), (0.998, -0.078), (0.996, -0.104), (0.985, -0.128),
    (0.968, -0.141), (0.950, -0.132), (0.935, -0.108), (0.926, -0.078), (0.922, -0.056),
]  # fmt: skip
_NOSTRIL = [
    (0.950, -0.088), (0.962, -0.079), (0.975, -0.083), (0.981, -0.098), (0.974, -0.109),
    (0.972, -0.098), (0.962, -0.092),
]  # fmt: skip
_LIPS = [
    (0.970, -0.196), (0.958, -0.222), (0.920, -0.240), (0.860, -0.249), (0.790, -0.254), (0.720, -0.262),
    (0.660, -0.274), LIP_CORNER,
]  # fmt: skip
_DARK: Colour = (44, 36, 34)
_FLESH: Colour = (196, 142, 126)


def blend(a: Colour, b: Colour, t: float) -> Colour:
    return (round(a[0] + (b[0] - a[0]) * t), round(a[1] + (b[1] - a[1]) * t), round(a[2] + (b[2] - a[2]) * t))


def area(points: Sequence[Point]) -> Contour:
    return centripetal(np.array(points), np.ones(len(points)))


def line(points: Sequence[Point], ink: Sequence[float]) -> Contour:
    return centripetal(np.array(points), np.array(ink, np.float64), closed=False)


def disc(centre: Point, radius: float, squeeze: float = 1.0) -> Contour:
    turn = np.arange(24) * (2 * pi / 24)
    ring = centre + radius * np.stack([squeeze * np.cos(turn), np.sin(turn)], axis=1)
    return Contour(ring, np.ones(24))


def pigment(v: Values) -> Colour:
    """Colour of nose and rims, from flesh to black."""
    return blend(_FLESH, _DARK, v["pigment"])


def iris(v: Values) -> Colour:
    return blend((62, 38, 22), (214, 178, 92), v["eye_paleness"])


def eye_shape(v: Values) -> list[tuple[float, float]]:
    """Offsets of the lid opening from the eye's centre, in head lengths."""
    k, r = v["eye_size"], v["eye_roundness"]
    return [
        (k * (a[0] + r * (b[0] - a[0])), k * (a[1] + r * (b[1] - a[1])))
        for a, b in zip(_ALMOND, _ROUND, strict=True)
    ]


def eye_points(face: Face) -> dict[str, Point]:
    opening = eye_shape(face.values)
    return {"eye_outer": _eye_at(face, *opening[0]), "eye_inner": _eye_at(face, *opening[4])}


def _eye_at(face: Face, du: float, dv: float) -> Point:
    centre = face.at(*EYE)
    step = face.skeleton.head(du, dv) - face.skeleton.head(0, 0)
    return np.asarray(centre + step)


def eye(face: Face) -> list[Mark]:
    v = face.values
    opening = eye_shape(v)
    ring = [_eye_at(face, a, b) for a, b in opening]
    rim, k = pigment(v), v["eye_size"]
    centre = _eye_at(face, 0.001 * k, 0.002 * k)
    radius = 0.0285 * HEAD_LENGTH * k
    grown = [_eye_at(face, 1.45 * a - 0.002, 1.55 * b) for a, b in opening]
    lids = [_eye_at(face, 1.15 * a, 1.20 * b) for a, b in opening]
    brow = ((-0.046, 0.026), (-0.014, 0.046), (0.022, 0.039), (0.052, 0.006))
    below = ((-0.030, -0.036), (0.006, -0.046), (0.040, -0.044))
    colour = iris(v)
    return [
        Mark("socket", area(grown), (44, 31, 22), 0.42, soft=0.0052),
        Mark(
            "under_eye",
            line([_eye_at(face, k * a, k * b) for a, b in below], (0, 1, 0)),
            (226, 200, 164),
            0.28,
            soft=0.0030,
            pen=3.2,
        ),
        Mark("lids", area(lids), rim, 0.95, soft=0.0005),
        Mark("white", area(ring), blend((122, 100, 84), rim, 0.25), 1.0, soft=0.0004),
        Mark("iris", disc(centre, radius), colour, 1.0, soft=0.0004, within_area=area(ring)),
        Mark(
            "iris_low",
            disc(centre + at_up(-0.42 * radius), 0.55 * radius),
            blend(colour, (232, 196, 140), 0.35),
            0.7,
            soft=0.0018,
            within_area=area(ring),
        ),
        Mark(
            "iris_lid",
            disc(centre + at_up(0.85 * radius), 0.75 * radius),
            (18, 12, 9),
            0.70,
            soft=0.0022,
            within_area=area(ring),
        ),
        Mark("pupil", disc(centre, 0.46 * radius), (12, 10, 9), 1.0, soft=0.0005, within_area=area(ring)),
        Mark(
            "corner",
            disc(ring[4] + np.array([-0.0026, 0.0018]) * k, 0.0024 * k),
            (92, 58, 50),
            0.7,
            soft=0.0008,
        ),
        Mark(
            "glint",
            disc(centre + np.array([-0.0026, 0.0042]) * k, 0.0019 * k),
            (250, 248, 240),
            0.95,
            soft=0.0003,
        ),
        Mark("upper_lid", line(ring[:5], (0.4, 1, 1, 1, 0.7)), blend(rim, (20, 14, 12), 0.5), 0.95, pen=1.25),
        Mark(
            "brow",
            line([_eye_at(face, k * a, k * b) for a, b in brow], (0.05, 0.5, 0.45, 0.05)),
            (50, 37, 30),
            0.40,
            pen=0.7,
        ),
    ]


def at_up(dy: float) -> Point:
    return np.array([0.0, dy])


def nose(face: Face) -> list[Mark]:
    colour = pigment(face.values)
    light = blend(colour, (232, 224, 216), 0.36)
    dark = blend(colour, (12, 9, 9), 0.75)
    at = face.at
    top = line([at(0.936, -0.052), at(0.962, -0.050), at(0.984, -0.062)], (0.1, 1, 0.2))
    wing = line([at(0.942, -0.098), at(0.954, -0.116), at(0.970, -0.122)], (0.1, 0.8, 0.1))
    edge = line([at(*p) for p in (*_NOSE[6:], _NOSE[0])], (0.2, 0.8, 0.8, 0.8, 0.6, 0.2))
    return [
        Mark("nose", area([at(*p) for p in _NOSE]), colour, 1.0, soft=0.0006),
        Mark(
            "nose_under",
            area(
                [
                    at(*p)
                    for p in (
                        (0.998, -0.096),
                        (0.985, -0.128),
                        (0.966, -0.140),
                        (0.946, -0.124),
                        (0.972, -0.114),
                    )
                ]
            ),
            dark,
            0.60,
            soft=0.0022,
        ),
        Mark("nostril", area([at(*p) for p in _NOSTRIL]), dark, 0.95, soft=0.0004),
        Mark("nose_top", top, light, 0.55, soft=0.0012, pen=2.0),
        Mark("nose_wing", wing, light, 0.35, soft=0.0006, pen=1.0),
        Mark("nose_edge", edge, (40, 30, 26), 0.5, soft=0.0008, pen=0.8),
    ]


def mouth(face: Face) -> list[Mark]:
    v = face.values
    loose, deep = v["lips"], 0.075
    rows = []
    for u, w in _LIPS:
        hang = deep * loose * np.exp(-(((u - 0.76) / 0.13) ** 2))
        rows.append(face.at(u, w - float(hang)))
    ink = (0.5, 0.9, 1, 1, 1, 0.9, 0.6, 0.15)
    rim = blend(pigment(v), (50, 37, 30), 0.4)
    philtrum = line([face.at(0.977, -0.152), face.at(0.969, -0.174), face.at(0.966, -0.200)], (0.7, 0.7, 0.5))
    corner = area(
        [face.at(u, w) for u, w in ((0.60, -0.272), (0.63, -0.286), (0.60, -0.302), (0.575, -0.290))]
    )
    return [
        Mark(
            "under_lip",
            line(rows, (0, 0.5, 0.8, 0.9, 0.9, 0.7, 0.4, 0)),
            (60, 42, 32),
            0.30,
            soft=0.0035,
            pen=4.5,
        ),
        Mark("corner", corner, (60, 42, 32), 0.30, soft=0.005),
        Mark("lips", line(rows, ink), rim, 0.92, pen=0.95),
        Mark("philtrum", philtrum, rim, 0.7, pen=0.6),
    ]


def whiskers(face: Face) -> list[Mark]:
    """Pits in rows and thin whiskers; worth drawing only close up."""
    marks = []
    for row, (u0, v0, n) in enumerate(((0.900, -0.150, 4), (0.890, -0.180, 4), (0.872, -0.210, 3))):
        for i in range(n):
            u, w = u0 - 0.034 * i - 0.006 * row, v0 - 0.004 * i
            marks.append(Mark("pit", disc(face.at(u, w), 0.0011), (52, 38, 30), 0.75))
            reach = 0.13 + 0.02 * i
            turn = -2.35 - 0.12 * row + 0.05 * i
            end = (u + reach * cos(turn), w + reach * sin(turn) * 0.75)
            bent = (u + 0.5 * reach * cos(turn) - 0.012, w + 0.42 * reach * sin(turn) * 0.75)
            marks.append(
                Mark(
                    "whisker",
                    line([face.at(u, w), face.at(*bent), face.at(*end)], (0.55, 0.35, 0.02)),
                    (60, 46, 38),
                    0.55,
                    pen=0.45,
                )
            )
    return marks
