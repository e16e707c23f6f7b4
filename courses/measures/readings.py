"""The few shapes that a measure can have: an angle at a joint, a lean, a slope, a length over the height.

Each function takes the names of its points and returns how to read the value from a `Stance`. Signs are
the same everywhere: a lean from plumb is positive when the upper end lies further back, a slope from the
ground when the line falls to the rear.
"""

from __future__ import annotations

from collections.abc import Callable

from courses.measures.propagation import Uncertain, Vector, angle_of
from courses.measures.stance import Stance

Reading = Callable[[Stance], Uncertain]


def joint(first: str, at: str, second: str) -> Reading:
    """0–180° at `at` between the lines to `first` and to `second`."""

    def read(stance: Stance) -> Uncertain:
        one, other = stance[first] - stance[at], stance[second] - stance[at]
        return angle_of(abs(one.cross(other)), one.dot(other))

    return read


def lean(upper: str, lower: str) -> Reading:
    """The line `lower` → `upper` from plumb, −180…180°, positive when it leans back."""

    def read(stance: Stance) -> Uncertain:
        line = stance[upper] - stance[lower]
        return angle_of(-line.dot(stance.forward), line.dot(stance.up))

    return read


def slope(front: str, rear: str) -> Reading:
    """The line `front` → `rear` from the ground, −180…180°, positive when it falls."""

    def read(stance: Stance) -> Uncertain:
        line = stance[rear] - stance[front]
        return angle_of(-line.dot(stance.up), -line.dot(stance.forward))

    return read


def line_from_plumb(first: str, second: str) -> Reading:
    """A line without direction from plumb, −90…90°, positive when its upper end lies further back."""

    def read(stance: Stance) -> Uncertain:
        second_is_upper = (stance[second] - stance[first]).dot(stance.up).value >= 0
        return lean(second, first)(stance) if second_is_upper else lean(first, second)(stance)

    return read


def line_from_ground(first: str, second: str) -> Reading:
    """A line without direction from the ground, −90…90°, positive when it falls to the rear."""

    def read(stance: Stance) -> Uncertain:
        first_is_ahead = (stance[first] - stance[second]).dot(stance.forward).value >= 0
        return slope(first, second)(stance) if first_is_ahead else slope(second, first)(stance)

    return read


def lengths(first: tuple[str, str], second: tuple[str, str]) -> Reading:
    """One distance over another."""

    def read(stance: Stance) -> Uncertain:
        return (stance[first[0]] - stance[first[1]]).length() / (
            stance[second[0]] - stance[second[1]]
        ).length()

    return read


def ahead(front: str, rear: str) -> Reading:
    """How far `front` lies in front of `rear` along the ground, over the height at the withers."""

    def read(stance: Stance) -> Uncertain:
        return (stance[front] - stance[rear]).dot(stance.forward) / stance.height

    return read


def above(upper: str, lower: str) -> Reading:
    """How far `upper` lies over `lower` along plumb, over the height."""

    def read(stance: Stance) -> Uncertain:
        return (stance[upper] - stance[lower]).dot(stance.up) / stance.height

    return read


def above_ground(name: str) -> Reading:
    def read(stance: Stance) -> Uncertain:
        return stance.above_ground(name) / stance.height

    return read


def apart(first: str, second: str) -> Reading:
    """Distance over the height."""

    def read(stance: Stance) -> Uncertain:
        return (stance[first] - stance[second]).length() / stance.height

    return read


def bulge(at: str, front: str, rear: str) -> Reading:
    """How far `at` lies above the line `front`–`rear`, square to it, over the height."""

    def read(stance: Stance) -> Uncertain:
        line = (stance[rear] - stance[front]).unit()
        offset = line.cross(stance[at] - stance[front])
        upwards = line.cross(stance.up).value > 0
        return (offset if upwards else -offset) / stance.height

    return read


def converging(upper: str, lower: str) -> Reading:
    """Between the lines `upper` → `lower` of both sides, positive when they meet downwards."""

    def read(stance: Stance) -> Uncertain:
        left, right = (stance[f"{lower}_{side}"] - stance[f"{upper}_{side}"] for side in "lr")
        angle = angle_of(right.cross(left), right.dot(left))
        return -angle if _left_is_on_the_left(stance, upper) else angle

    return read


def turned_out(foot: str, side: str) -> Reading:
    """The line foot → toe of one side from straight down, positive when it points away from the other."""

    def read(stance: Stance) -> Uncertain:
        line = stance[f"toe_{side}"] - stance[f"{foot}_{side}"]
        to_the_right = angle_of(line.dot(_rightwards(stance)), -line.dot(stance.up))
        outwards_is_left = (side == "l") == _left_is_on_the_left(stance, foot)
        return -to_the_right if outwards_is_left else to_the_right

    return read


def _rightwards(stance: Stance) -> Vector:
    return stance.forward if stance.forward.x.value > 0 else -stance.forward


def _left_is_on_the_left(stance: Stance, name: str) -> bool:
    """Whether the dog's left is on the left of the picture: as placed, or else as the view has it."""
    if f"{name}_l" in stance.points and f"{name}_r" in stance.points:
        return stance.points[f"{name}_l"][0] < stance.points[f"{name}_r"][0]
    return stance.view == "rear"
