"""Measures that a club adds, since authors and registries differ on what they measure from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from courses.measures import readings as read
from courses.measures.catalogue import (
    BETWEEN,
    DEGREES,
    FACING,
    GROUND,
    OVER,
    PLUMB,
    RATIO,
    RATIO_SHARE,
    Measure,
)
from courses.measures.points import POINTS, point_label

if TYPE_CHECKING:
    from courses.measures.readings import Reading

# Between the camera parts of the built-in measures; a joint moves more than a single line.
JOINT_CAMERA, LINE_CAMERA = 3.0, 2.0


def angle_at(name: str, label: str, at: str, first: str, second: str, *, view: str = "profile") -> Measure:
    """The angle at `at` between the lines to `first` and `second`, 0–180°."""
    _check(view, at, first, second)
    words = [point_label(view, point).lower() for point in (at, first, second)]
    return Measure(
        name,
        label,
        f"at {words[0]}, between {words[1]} and {words[2]}",
        {view: (first, at, second)},
        {view: read.joint(first, at, second)},
        DEGREES,
        BETWEEN,
        JOINT_CAMERA,
        strokes=(("bone", at, first), ("bone", at, second), ("arc", at, first, second)),
    )


def angle_to_axis(
    name: str, label: str, first: str, second: str, axis: Literal["ground", "plumb"], *, view: str = "profile"
) -> Measure:
    """The line `first`–`second`, whichever way round, from the ground or from plumb.

    In profile and on the head −90…90°: from plumb positive when the upper end lies further back, from
    the ground positive when the line falls to the rear. From front and rear 0–90°, without a sign.
    """
    _check(view, first, second)
    if axis not in {"ground", "plumb"}:
        raise ValueError("The axis is ground or plumb.")
    signed = view in {"profile", "head"}
    words = [point_label(view, point).lower() for point in (first, second)]
    if axis == "plumb":
        reading, shown, sign = read.line_from_plumb(first, second), PLUMB, "the upper end lies further back"
        strokes = (("bone", first, second), ("plumb", first), ("arc plumb", first, second))
    else:
        reading, shown, sign = read.line_from_ground(first, second), GROUND, "it falls to the rear"
        strokes = (("bone", first, second), ("level", first), ("arc level", first, second))
    return Measure(
        name,
        label,
        f"{words[0]} to {words[1]} {shown}{f', positive when {sign}' if signed else ''}",
        {view: (first, second)},
        {view: reading if signed else _without_sign(reading)},
        DEGREES,
        shown,
        LINE_CAMERA,
        needs=frozenset({FACING} if signed else ()),
        strokes=strokes,
    )


def ratio_of_lengths(
    name: str, label: str, first: tuple[str, str], second: tuple[str, str], *, view: str = "profile"
) -> Measure:
    """The distance between the two points of `first` over that of `second`."""
    _check(view, *first)
    _check(view, *second)
    words = [point_label(view, point).lower() for point in (*first, *second)]
    return Measure(
        name,
        label,
        f"{words[0]} to {words[1]}, over {words[2]} to {words[3]}",
        {view: tuple(dict.fromkeys((*first, *second)))},
        {view: read.lengths(first, second)},
        RATIO,
        OVER,
        camera_share=RATIO_SHARE,
        strokes=(("bone", *first), ("bone", *second)),
    )


def _without_sign(reading: Reading) -> Reading:
    return lambda stance: abs(reading(stance))


def _check(view: str, *names: str) -> None:
    known = {point.name for point in POINTS.get(view, ())}
    strange = [name for name in names if name not in known]
    if strange:
        raise ValueError(f"The {view} view has no point called {', '.join(strange)}.")
    if len(set(names)) < len(names):
        raise ValueError("The points of a measure must differ from one another.")
