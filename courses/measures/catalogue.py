"""What is measured, from which points, in which words, and how much a camera can spoil it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from courses.measures import readings as read

if TYPE_CHECKING:
    from collections.abc import Container, Mapping

    from courses.measures.readings import Reading

DEGREES, RATIO = "°", ""
PLUMB, GROUND = "from plumb", "from the ground"
BETWEEN, OVER = "between two lines", "one length over another"
ALONG, UPRIGHT = "along the ground, over the height", "along plumb, over the height"
_WITHOUT_GROUND = {
    PLUMB: "from the picture's vertical",
    GROUND: "from the picture's horizontal",
    ALONG: "along the picture's horizontal, over the height",
    UPRIGHT: "along the picture's vertical, over the height",
}

# One standard deviation of what the camera does to a measure, from a pinhole model of a dog of 60 cm
# over usual distances, heights and yaws; ratios have a share of their value.
RATIO_SHARE = 0.03
HEIGHT, FACING = "height", "facing"


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure: its words, its points by view, how to read it, and what else must be known.

    `needs` may hold `HEIGHT` (withers above a ground line) and `FACING`. `strokes` say which lines show
    it on the picture: a kind, then points (see `construction`).
    """

    name: str
    label: str
    definition: str
    points: Mapping[str, tuple[str, ...]]
    reads: Mapping[str, Reading]
    unit: str
    axis: str
    camera: float = 0.0
    camera_share: float = 0.0
    needs: frozenset[str] = frozenset()
    strokes: tuple[tuple[str, ...], ...] = ()

    @property
    def views(self) -> tuple[str, ...]:
        return tuple(self.points)

    @property
    def axis_without_ground(self) -> str:
        return _WITHOUT_GROUND.get(self.axis, self.axis)

    def camera_sd(self, value: float) -> float:
        return self.camera + self.camera_share * abs(value)

    def view_of(self, points: Container[str]) -> str:
        """The view of which most points were placed."""
        return min(self.points, key=lambda view: sum(name not in points for name in self.points[view]))


def joint_angle(
    name: str, label: str, at: str, first: str, second: str, camera: float, words: str
) -> Measure:
    return Measure(
        name,
        label,
        words,
        {"profile": (first, at, second)},
        {"profile": read.joint(first, at, second)},
        DEGREES,
        BETWEEN,
        camera,
        strokes=(("bone", at, first), ("bone", at, second), ("arc", at, first, second)),
    )


def lean_angle(
    name: str, label: str, upper: str, lower: str, camera: float, words: str, *, far: bool = False
) -> Measure:
    """`far` draws the arc beyond the upper end, where that lies outside the body."""
    return Measure(
        name,
        label,
        words,
        {"profile": (upper, lower)},
        {"profile": read.lean(upper, lower)},
        DEGREES,
        PLUMB,
        camera,
        needs=frozenset({FACING}),
        strokes=(
            (("bone", lower, upper), ("far plumb", lower, upper), ("far arc plumb", lower, upper))
            if far
            else (("bone", lower, upper), ("plumb", lower), ("arc plumb", lower, upper))
        ),
    )


def slope_angle(name: str, label: str, front: str, rear: str, camera: float, words: str) -> Measure:
    return Measure(
        name,
        label,
        words,
        {"profile": (front, rear)},
        {"profile": read.slope(front, rear)},
        DEGREES,
        GROUND,
        camera,
        needs=frozenset({FACING}),
        strokes=(("bone", front, rear), ("level", front), ("arc level", front, rear)),
    )


def proportion(
    name: str, label: str, first: tuple[str, str], second: tuple[str, str], words: str, *views: str
) -> Measure:
    views = views or ("profile",)
    names = tuple(dict.fromkeys((*first, *second)))
    reading = read.lengths(first, second)
    return Measure(
        name,
        label,
        words,
        dict.fromkeys(views, names),
        dict.fromkeys(views, reading),
        RATIO,
        OVER,
        camera_share=RATIO_SHARE,
        strokes=(("bone", *first), ("bone", *second)),
    )


def _over_height(
    name: str,
    label: str,
    points: tuple[str, ...],
    reading: Reading,
    axis: str,
    words: str,
    strokes: tuple[tuple[str, ...], ...],
    *,
    view: str = "profile",
    camera: float = 0.0,
    facing: bool = False,
) -> Measure:
    """A length over the height at the withers; a camera part of 0 means the share of a ratio."""
    return Measure(
        name,
        label,
        words,
        {view: (*dict.fromkeys((*points, "withers")),)},
        {view: reading},
        RATIO,
        axis,
        camera,
        0.0 if camera else RATIO_SHARE,
        frozenset({HEIGHT, FACING} if facing else {HEIGHT}),
        (*strokes, ("ground",), ("drop", "withers")),
    )


def _parallel(name: str, label: str, upper: str, lower: str, view: str, words: str) -> Measure:
    sides = tuple(f"{point}_{side}" for side in "lr" for point in (upper, lower))
    return Measure(
        name,
        label,
        words,
        {view: sides},
        {view: read.converging(upper, lower)},
        DEGREES,
        BETWEEN,
        2.0,
        strokes=(("bone", sides[0], sides[1]), ("bone", sides[2], sides[3])),
    )


def _toe_turn(side: str, word: str) -> Measure:
    feet = {"front": "foot", "rear": "rear_foot"}
    return Measure(
        f"apparent_toe_turn_{side}",
        f"Apparent turn of the {word} toes",
        "foot joint to toes from straight down, positive when turned out; apparent, since one picture "
        "cannot give the angle on the ground",
        {view: (f"{foot}_{side}", f"toe_{side}") for view, foot in feet.items()},
        {view: read.turned_out(foot, side) for view, foot in feet.items()},
        DEGREES,
        PLUMB,
        5.0,
        strokes=(),
    )


_ALL = (
    _over_height(
        "length_to_height",
        "Length to height",
        ("prosternum", "point_of_buttock"),
        read.ahead("prosternum", "point_of_buttock"),
        ALONG,
        "forechest to point of buttock along the ground, over withers to ground",
        (("span", "prosternum", "point_of_buttock"),),
        facing=True,
    ),
    _over_height(
        "depth_of_chest",
        "Depth of chest",
        ("brisket",),
        read.above("withers", "brisket"),
        UPRIGHT,
        "withers to brisket along plumb, over the height",
        (("level", "brisket"),),
    ),
    _over_height(
        "length_of_leg",
        "Length of leg",
        ("elbow",),
        read.above_ground("elbow"),
        UPRIGHT,
        "elbow joint to ground, over the height",
        (("drop", "elbow"),),
    ),
    lean_angle(
        "layback",
        "Layback of shoulder blade",
        "blade_top",
        "point_of_shoulder",
        2.0,
        "point of shoulder to top of blade from plumb, positive when the blade leans back",
        far=True,
    ),
    joint_angle(
        "shoulder_angle",
        "Shoulder angle",
        "point_of_shoulder",
        "blade_top",
        "elbow",
        2.5,
        "at the point of shoulder, between top of blade and elbow joint",
    ),
    proportion(
        "upper_arm_to_blade",
        "Upper arm to blade",
        ("point_of_shoulder", "elbow"),
        ("point_of_shoulder", "blade_top"),
        "point of shoulder to elbow joint, over point of shoulder to top of blade",
    ),
    _over_height(
        "elbow_set",
        "Set of elbow",
        ("elbow",),
        read.ahead("elbow", "withers"),
        ALONG,
        "elbow joint in front of the withers along the ground, over the height; negative when behind",
        (("plumb", "elbow"), ("span", "withers", "elbow")),
        camera=0.01,
        facing=True,
    ),
    lean_angle(
        "front_pastern",
        "Slope of front pastern",
        "wrist",
        "front_foot",
        2.0,
        "wrist to foot joint from plumb, positive when the foot is forward",
    ),
    slope_angle(
        "pelvis_slope",
        "Slope of pelvis",
        "hip_bone",
        "point_of_buttock",
        1.5,
        "hip bone to point of buttock from the ground, positive when falling to the rear",
    ),
    slope_angle(
        "croup_slope",
        "Slope of croup",
        "hip_bone",
        "set_on",
        1.5,
        "hip bone to root of tail from the ground, positive when falling to the rear",
    ),
    joint_angle(
        "stifle_angle",
        "Stifle angle",
        "stifle",
        "hip_joint",
        "hock_joint",
        3.0,
        "at the stifle, between hip joint and hock joint",
    ),
    joint_angle(
        "hock_angle",
        "Hock angle",
        "hock_joint",
        "stifle",
        "rear_foot",
        4.0,
        "at the hock joint, between stifle and rear foot joint",
    ),
    lean_angle(
        "rear_pastern",
        "Slope of rear pastern",
        "hock_joint",
        "rear_foot",
        2.0,
        "hock joint to rear foot joint from plumb, positive when the foot is forward",
    ),
    _over_height(
        "hind_reach",
        "Reach of hind foot",
        ("point_of_buttock", "rear_foot"),
        read.ahead("point_of_buttock", "rear_foot"),
        ALONG,
        "rear foot joint behind the point of buttock along the ground, over the height",
        (("plumb", "point_of_buttock"), ("span", "point_of_buttock", "rear_foot")),
        camera=0.01,
        facing=True,
    ),
    _over_height(
        "topline_rise",
        "Rise of topline",
        ("loin_top", "set_on"),
        read.bulge("loin_top", "withers", "set_on"),
        "square to the line withers–root of tail, over the height",
        "top of loin above the line withers–root of tail, square to it, over the height",
        (("bone", "withers", "set_on"), ("square", "loin_top", "withers", "set_on")),
        camera=0.01,
    ),
    proportion(
        "tail_reach",
        "Reach of tail",
        ("set_on", "tail_tip"),
        ("set_on", "point_of_hock"),
        "root to tip of tail, over root of tail to point of hock",
    ),
    proportion(
        "muzzle_to_skull",
        "Muzzle to skull",
        ("nose", "stop"),
        ("stop", "occiput"),
        "nose to stop, over stop to occiput",
        "profile",
        "head",
    ),
    _parallel(
        "front_parallel",
        "Convergence of forelegs",
        "wrist",
        "foot",
        "front",
        "between the lines wrist–foot joint of both legs, positive when they converge downwards",
    ),
    _parallel(
        "rear_parallel",
        "Convergence of rear pasterns",
        "hock",
        "rear_foot",
        "rear",
        "between the lines hock–foot joint of both legs, positive when they converge downwards",
    ),
    _over_height(
        "front_width",
        "Width of front",
        ("elbow_l", "elbow_r"),
        read.apart("elbow_l", "elbow_r"),
        "one length over the height",
        "distance between the elbows, over the height",
        (("bone", "elbow_l", "elbow_r"),),
        view="front",
    ),
    _toe_turn("l", "left"),
    _toe_turn("r", "right"),
)

MEASURES: dict[str, Measure] = {each.name: each for each in _ALL}


def found(name: str | Measure) -> Measure:
    """ValueError for a name that no measure has."""
    if isinstance(name, Measure):
        return name
    if name not in MEASURES:
        raise ValueError(f"There is no measure called {name!r}.")
    return MEASURES[name]
