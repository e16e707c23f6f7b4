"""How the dog stands in the picture: where the ground is, which way is up, which way it faces."""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING

from courses.measures.propagation import Uncertain, Vector

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

ROLL_SD = 2.0
ROLL = "roll of the camera"

_GROUND = {"profile": ("ground_front", "ground_rear"), "front": ("ground_l", "ground_r")}
_GROUND["rear"] = _GROUND["front"]
_FORE = {
    *("nose", "stop", "occiput", "withers", "blade_top", "point_of_shoulder", "prosternum", "elbow"),
    *("point_of_elbow", "brisket", "wrist", "front_foot", "ground_front"),
}
_HIND = {
    *("loin_top", "hip_bone", "hip_joint", "point_of_buttock", "set_on", "stifle", "hock_joint"),
    *("point_of_hock", "rear_foot", "tail_tip", "ground_rear"),
}
# Within one half of the dog: pairs of which the first is in front, however the dog is made.
_FRONT_OF = (
    ("nose", "occiput"),
    ("stop", "occiput"),
    ("prosternum", "withers"),
    ("point_of_shoulder", "withers"),
    ("point_of_shoulder", "blade_top"),
    ("hip_bone", "point_of_buttock"),
    ("hip_bone", "set_on"),
    ("hip_joint", "point_of_buttock"),
    ("stifle", "hock_joint"),
    ("stifle", "point_of_hock"),
)


class MissingPoint(ValueError):
    """Points that a measure or comparison needs and the picture does not have; `names` lists them all."""

    def __init__(self, names: Iterable[str], purpose: str) -> None:
        self.names = tuple(names)
        super().__init__(f"{purpose} needs {', '.join(self.names)}.")


def facing(points: Mapping[str, Sequence[float]]) -> int:
    """+1 for a dog that looks to the right of the picture, −1 to the left, 0 if the points do not tell."""
    if "ground_front" in points and "ground_rear" in points:
        return _sign(points["ground_front"][0] - points["ground_rear"][0])
    fore = [at[0] for name, at in points.items() if name in _FORE]
    hind = [at[0] for name, at in points.items() if name in _HIND]
    if fore and hind:
        return _sign(sum(fore) / len(fore) - sum(hind) / len(hind))
    for front, rear in _FRONT_OF:
        if front in points and rear in points:
            return _sign(points[front][0] - points[rear][0])
    return 0


def _sign(number: float) -> int:
    return (number > 0) - (number < 0)


class Stance:
    """Points of one view as vectors with slopes, and the axes that they are measured against.

    With two ground points the ground line runs through them; otherwise it is parallel to the picture's
    own horizontal, through the one ground point if there is one, and carries `ROLL_SD` degrees.
    """

    def __init__(self, points: Mapping[str, Sequence[float]], view: str) -> None:
        self.points = {name: _checked(name, at) for name, at in points.items()}
        self.view = view
        self.ground = [name for name in _GROUND.get(view, ()) if name in points]
        self.ground_names = _GROUND.get(view, ())
        self.level_known = len(self.ground) == 2

    def __getitem__(self, name: str) -> Vector:
        x, y = self.points[name][:2]
        return Vector(Uncertain(x, {f"{name} x": 1.0}), Uncertain(y, {f"{name} y": 1.0}))

    @cached_property
    def facing(self) -> int:
        return facing(self.points) if self.view in {"profile", "head"} else 1

    @cached_property
    def forward(self) -> Vector:
        """Along the ground: towards the front of a dog in profile, else to the right of the picture."""
        if self.level_known:
            first, second = (self[name] for name in self.ground)
            along = (first - second).unit()
            if abs(along.y.value) > abs(along.x.value):
                raise ValueError("The ground line is steeper than 45°.")
            return along if self.view == "profile" or along.x.value > 0 else -along
        way = float(self.facing or 1)
        return Vector(Uncertain(way), Uncertain(0.0, {ROLL: way * math.radians(1)}))

    @cached_property
    def up(self) -> Vector:
        along = self.forward
        upright = Vector(along.y, -along.x)
        return upright if along.x.value > 0 else -upright

    @cached_property
    def height(self) -> Uncertain:
        """At the withers, above the ground line; ValueError if the withers are not above it."""
        height = self.above_ground("withers")
        if height.value <= 0:
            raise ValueError("The withers lie on the ground line or below it.")
        return height

    def above_ground(self, name: str) -> Uncertain:
        return (self[name] - self[self.ground[0]]).dot(self.up)

    def sds(self, placement_sd: float) -> dict[str, float]:
        """Standard deviation of each coordinate, in picture units, and of the roll in degrees."""
        own = placement_sd * self.height_or_extent()
        sds = {ROLL: ROLL_SD}
        for name, at in self.points.items():
            sds[f"{name} x"], sds[f"{name} y"] = at[2:] if len(at) == 4 else (own, own)
        return sds

    def height_or_extent(self) -> float:
        """The length in which errors of placing are given: the height, or else the points' larger extent."""
        if "withers" in self.points and self.ground:
            return abs(self.above_ground("withers").value)
        xs, ys = zip(*(at[:2] for at in self.points.values()), strict=True)
        return float(max(max(xs) - min(xs), max(ys) - min(ys)))


def _checked(name: str, at: Sequence[float]) -> tuple[float, ...]:
    numbers = tuple(float(number) for number in at)
    if len(numbers) not in {2, 4} or not all(math.isfinite(number) for number in numbers):
        raise ValueError(f"{name} must be (x, y) or (x, y, sd_x, sd_y).")
    if min(numbers[2:], default=0.0) < 0:
        raise ValueError(f"{name} has a negative standard deviation.")
    return numbers
