"""The side view: its layers from back to front, its points, its sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from . import face as faces
from . import muscles, sidecoat
from .curves import Array, Contour, smooth
from .ears import Ear, ear
from .head import Face, head, head_points
from .limbs import foreleg, hindleg
from .paws import Paw
from .plan import FieldOf, Fringe, Layer, Mark, Plan, Proud, Shadow
from .relief import Ridge
from .settings import Settings
from .skeleton import Point, Skeleton, along, at, solve
from .stance import FAR_GROUND, far_side
from .trunk import back, forechest, tail, tail_line, trunk

Values = Mapping[str, float]
SHEET = (-1.32, -0.085, 0.80, 1.425)
RATIO = 1.41
_EAR_FLOW = (0.10, 1.0)


def profile(settings: Settings) -> Plan:
    s = solve(settings)
    far = far_side(s, settings)
    layers = (
        _far_leg("far_hindleg", hindleg(far, settings), far, settings, hind=True),
        _far_leg("far_foreleg", foreleg(far, settings), far, settings, hind=False),
        *ear_layers("far_ear", ear(s, settings, far=True), s, settings, far=True),
        near(s, settings),
        *ear_layers("ear", ear(s, settings), s, settings, far=False),
    )
    feet = (
        (float(s["front_foot"][0]) + 0.03, 0.16, 0.55),
        (float(s["rear_foot"][0]) + 0.04, 0.17, 0.55),
        (float(s["front_foot"][0] + s["rear_foot"][0]) / 2, 0.46, 0.38),
    )
    return Plan("profile", SHEET, RATIO, layers, points(s, settings), feet, guides=guides(s, settings))


def near(s: Skeleton, v: Values) -> Layer:
    """Trunk, near legs, head and tail as one body."""
    shapes = {
        "tail": tail(s, v),
        "trunk": trunk(s, v),
        "foreleg": foreleg(s, v),
        "hindleg": hindleg(s, v),
        "head": head(s, v),
    }
    paws = [Paw(s["front_foot"], v, "foreleg", hind=False), Paw(s["rear_foot"], v, "hindleg", hind=True)]
    face = Face(s, v)
    forms = muscles.fore(s) + muscles.body(s) + muscles.hind(s) + muscles.face(s)
    marks: list[Mark] = [m for paw in paws for m in paw.marks()]
    marks += [
        replace(m, within=m.within or "head") for m in faces.mouth(face) + faces.nose(face) + faces.eye(face)
    ]
    marks += _throat_folds(s, v)
    return Layer(
        "near",
        shapes,
        forms=tuple(forms + [form for paw in paws for form in paw.forms()]),
        prouds=_prouds(s),
        occlusion=_occlusion(s),
        flow=tuple(sidecoat.flow(s, v)),
        hidden={
            "tail": ("trunk", "hindleg"),
            "trunk": ("foreleg", "hindleg", "head", "ear", "tail"),
            "head": ("ear",),
        },
        fringes=tuple(sidecoat.fringes(shapes, s, v)),
        coat=sidecoat.fields(s, v),
        marks=tuple(marks),
        shadow=Shadow(0.015, -0.03, 0.03, 0.38),
    )


def _throat_folds(s: Skeleton, v: Values) -> list[Mark]:
    """Creases of loose skin below the throat."""
    loose = v["dewlap"]
    if loose < 0.05:
        return []
    low, high = s["point_of_shoulder"] + at(forechest(v), 0.010), s.head(0.30, -0.52)
    out = []
    for depth, first, last in ((0.010, 0.90, 0.40), (0.026, 0.94, 0.52), (0.042, 0.96, 0.64)):
        places = [first, 0.6 * first + 0.4 * last, 0.25 * first + 0.75 * last, last]
        bow = (0.6, 0.1, 0.2, 0.8)
        points = [
            along(low, high, t, depth * (1 + 0.5 * b) - 0.030 * loose)
            for t, b in zip(places, bow, strict=True)
        ]
        crease = faces.line(points, (0.1, 0.9, 0.9, 0.05))
        out.append(
            Mark("fold_shade", crease, (62, 44, 34), 0.30 * loose, soft=0.0035, pen=4.5, within="trunk")
        )
        out.append(Mark("fold", crease, (62, 44, 34), 0.42 * loose, soft=0.0005, pen=0.7, within="trunk"))
    return out


def foot_side(s: Skeleton, v: Values) -> Layer:
    """The near foreleg alone, for the plate of the feet."""
    paw = Paw(s["front_foot"], v, "foreleg", hind=False)
    return Layer(
        "foot_side",
        {"foreleg": foreleg(s, v)},
        forms=(*muscles.fore(s)[8:], *paw.forms()),
        flow=tuple(sidecoat.leg_flow(s)),
        coat=sidecoat.fields(s, v),
        marks=tuple(paw.marks()),
    )


def _far_leg(name: str, contour: Contour, far: Skeleton, v: Values, *, hind: bool) -> Layer:
    paw = Paw(far["rear_foot" if hind else "front_foot"], v, name, hind=hind, ground=FAR_GROUND)
    forms = muscles.hind(far) if hind else muscles.fore(far)[8:]
    chest = far.chest_line + 0.08
    below: FieldOf | None = None if hind else (lambda x, y: 1.0 * (y < chest) + 0 * x)
    return Layer(
        name,
        {name: contour.moved(0, FAR_GROUND)},
        tone=0.74,
        ink_width=0.85,
        forms=(*forms, *paw.forms()),
        flow=tuple(sidecoat.leg_flow(far)),
        coat=sidecoat.fields(far, v),
        marks=tuple(paw.marks()),
        keep=below,
    )


def ear_layers(name: str, shape: Ear, s: Skeleton, v: Values, *, far: bool) -> tuple[Layer, ...]:
    """The leather, faded into the head at its root, and the part of it that has tipped over."""
    _, w = sidecoat.head_frame(s)
    low = 0.115 * v["ear_set"]
    rise: FieldOf = lambda x, y: smooth(-0.06 - low, 0.075 - low, w(x, y))  # noqa: E731
    root = s.head(0.18, -0.05 - low)
    way = s.head(0.15, 0.36) - s.head(0.18, 0.0)
    flow = tuple((root + way * t, way) for t in (0.0, 0.5, 1.0))
    tone = 0.72 if far else 0.90
    strong = 0.45 if far else 1.0
    marks = (
        Mark(f"{name}_inner", shape.inner, (140, 106, 90), 0.62 * strong, soft=0.0050, within=name),
        Mark(f"{name}_deep", shape.deep, (48, 34, 29), 0.78 * strong, soft=0.0115, within=name),
        Mark(f"{name}_rim", shape.rim, (224, 200, 168), 0.45 * strong, soft=0.0018, pen=2.2, within=name),
        Mark(f"{name}_pocket", shape.pocket, (52, 38, 31), 0.5 * strong, soft=0.0006, pen=0.8, within=name),
    )
    tufts = (
        ()
        if shape.flap is not None
        else tuple(
            Fringe(shape.tuft, 1.0, 0.040 * k, n, lift, 12, 0.42 * strong, colour=colour, rooted=True)
            for k, n, lift, colour in (
                (1.0, 700, 34, (232, 214, 184)),
                (0.8, 300, 30, (206, 180, 146)),
                (0.7, 220, 24, (96, 74, 60)),
            )
        )
    )
    coat: dict[str, FieldOf] = {
        "from_back": lambda x, y: 0.10 + 0 * x + 0 * y,
        "length": lambda x, y: 0.60 + 0 * x + 0 * y,
        "points": lambda x, y: 0.0 * x + 0 * y,
    }
    edge = Ridge(shape.base, s.head(0.15, 0.36), 0.007, 0.004)
    leather = Layer(
        name,
        {name: shape.leather},
        tone=tone,
        flow=flow,
        clip=rise,
        coat=coat,
        forms=(edge,),
        marks=marks,
        fringes=tufts,
    )
    if shape.flap is None:
        return (leather,)
    flap_name = f"{name}_flap"
    flap = Layer(
        flap_name,
        {flap_name: shape.flap},
        tone=tone,
        flow=tuple((p, -q) for p, q in flow),
        coat=coat,
        shadow=Shadow(0.004, -0.008, 0.008, 0.35),
    )
    return leather, flap


def points(s: Skeleton, v: Values) -> dict[str, Point]:
    """The points of the measures, in H."""
    named = dict(s.joints)
    named.update(face_points(s, v))
    named.update(
        prosternum=s["point_of_shoulder"] + at(forechest(v), -0.004),
        brisket=at(s["elbow"][0] - 0.02, s.chest_line),
        loin_top=back(s, v, 0.70),
        set_on=along(s["hip_bone"], s["point_of_buttock"], 0.70, -0.053),
        tail_tip=tail_line(s, v)[-1],
        ground_front=at(s["front_foot"][0], 0),
        ground_rear=at(s["rear_foot"][0], 0),
    )
    return named


def face_points(s: Skeleton, v: Values) -> dict[str, Point]:
    """The points of the head, as the profile and the head plate report them."""
    shape = ear(s, v)
    named = head_points(s, v)
    named.update(faces.eye_points(Face(s, v)))
    named.update(ear_base=shape.base, ear_tip=shape.tip)
    return named


def guides(s: Skeleton, v: Values) -> dict[str, Point]:
    """Further places that zones and regions are drawn from."""
    line, face = tail_line(s, v), Face(s, v)
    return {
        "tail_middle": line[13],
        "back_middle": back(s, v, 0.40),
        "flank": at(s["hip_joint"][0] + 0.30, s.chest_line + v["tuck_up"]),
        "belly": at(s["elbow"][0] - 0.27, s.chest_line + 0.227 * v["tuck_up"]),
        "crown": face.at(0.25, 0.07),
        "lip_middle": face.at(0.74, -0.32, lower=True),
        "throat": along(s["point_of_shoulder"] + at(forechest(v), 0.01), s.head(0.30, -0.52), 0.55),
        "front_toes": at(s["front_foot"][0] + 0.045 * v["foot_length"], 0.03),
        "rear_toes": at(s["rear_foot"][0] + 0.035 * v["foot_length"], 0.03),
    }


def _prouds(s: Skeleton) -> tuple[Proud, ...]:
    elbow_y, stifle_y = float(s["elbow"][1]), float(s["stifle"][1])
    u, _ = sidecoat.head_frame(s)

    def below(y0: float, y1: float) -> FieldOf:
        return lambda x, y: 1 - smooth(y0, y1, y) + 0 * x

    def forward(x: Array, y: Array) -> Array:
        return smooth(0.18, 0.42, u(x, y))

    return (
        Proud("foreleg", 0.022, below(elbow_y - 0.02, elbow_y + 0.10)),
        Proud("hindleg", 0.020, below(stifle_y - 0.02, stifle_y + 0.13)),
        Proud("head", 0.012, forward),
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
