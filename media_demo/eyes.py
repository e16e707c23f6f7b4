"""Trainees who are not there: what an eye of a given kind would mark on an exhibit.

An eye sees a fault by chance, the more readily the further it goes; it drops its pin near the middle of what
it saw, names it as the key does or takes it for a neighbour, and weighs it with a habit and a spread of its
own. Where nothing is wrong it marks something now and then. Everything hangs on the random numbers given:
the same numbers, the same answer.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from shapely.geometry import Point, Polygon

Place = tuple[float, float]
Outline = Sequence[Place]

# House figures of the simulation, without a source: how people mark when they are not sure.
NEAR_NAME = 0.6  # of the faults seen but not named as the key does, so many get a neighbour's name
WEIGHED_UNNAMED = 0.5  # of the pins without a name, so many carry a weight
FALSE_NAMED = 0.85  # of the pins where nothing is wrong, so many carry a name


@dataclass(frozen=True)
class Eye:
    """How someone looks; `scenario/people.toml` explains each quantity."""

    sees: float
    faintest: float
    false_alarm: float
    names: float
    severity_bias: float
    severity_sd: float
    aim_sd: float
    zones: Mapping[str, float] = field(default_factory=dict)

    def chance_of_seeing(self, zone: str, degree: float) -> float:
        """Between 0 and 1, for a fault of degree 0 to 1 in a zone: quickly more from the faintest on."""
        beyond = min(1.0, max(0.0, (degree - self.faintest) / (1 - self.faintest)))
        return self.zones.get(zone, self.sees) * beyond * (2 - beyond)


@dataclass(frozen=True)
class ThereToSee:
    """A fault that the exhibit shows. `regions` are polygons in picture units; none for the whole dog."""

    fault: Hashable
    zone: str
    level: int
    degree: float
    regions: Sequence[Outline]
    neighbours: Sequence[Hashable] = ()


@dataclass(frozen=True)
class Nameable:
    """A fault on the club's list that this view could show."""

    fault: Hashable
    zone: str
    level: int


@dataclass(frozen=True)
class Scene:
    """An exhibit as an eye meets it: width and height of the picture, and of the dog, in picture units."""

    size: Place
    withers: float
    faults: Sequence[ThereToSee]
    zones: Mapping[str, Outline]
    names: Sequence[Nameable]
    heaviest: int  # the highest level that does not disqualify


@dataclass(frozen=True)
class Pin:
    """A mark. No place: the whole dog. No name or level: left open."""

    x: float | None
    y: float | None
    fault: Hashable | None
    level: int | None


def look(eye: Eye, scene: Scene, chance: Random) -> list[Pin]:
    """The pins that this eye drops, in no order; none means that it found nothing."""
    seen = [
        there for there in scene.faults if chance.random() < eye.chance_of_seeing(there.zone, there.degree)
    ]
    pins = [_mark(eye, scene, there, chance) for there in seen]
    faulty = {there.zone for there in scene.faults}
    for zone, outline in scene.zones.items():
        if zone not in faulty and chance.random() < eye.false_alarm:
            pins.append(_false_alarm(eye, scene, zone, outline, chance))
    chance.shuffle(pins)
    return pins


def _mark(eye: Eye, scene: Scene, there: ThereToSee, chance: Random) -> Pin:
    fault = there.fault if chance.random() < eye.names else _near_name(scene, there, chance)
    level = _weigh(eye, there.level, scene.heaviest + 1, chance)
    if fault is None and chance.random() > WEIGHED_UNNAMED:
        level = None
    return Pin(*_aim(eye, scene, there.regions, chance), fault, level)


def _near_name(scene: Scene, there: ThereToSee, chance: Random) -> Hashable | None:
    near = list(there.neighbours) or [
        named.fault for named in scene.names if named.zone == there.zone and named.fault != there.fault
    ]
    return chance.choice(near) if near and chance.random() < NEAR_NAME else None


def _aim(
    eye: Eye, scene: Scene, regions: Sequence[Outline], chance: Random
) -> tuple[float | None, float | None]:
    if not regions:
        return None, None
    x, y = middle(chance.choice(regions))
    spread = eye.aim_sd * scene.withers
    return _within(chance.gauss(x, spread), scene.size[0]), _within(chance.gauss(y, spread), scene.size[1])


def _false_alarm(eye: Eye, scene: Scene, zone: str, outline: Outline, chance: Random) -> Pin:
    """Nobody throws a dog out of the ring by mistake: what disqualifies is not called at random."""
    x, y = _somewhere_in(outline, chance)
    known = [named for named in scene.names if named.zone == zone and named.level <= scene.heaviest]
    if not known or chance.random() > FALSE_NAMED:
        return Pin(x, y, None, None)
    named = chance.choice(known)
    return Pin(x, y, named.fault, _weigh(eye, named.level, scene.heaviest, chance))


def _weigh(eye: Eye, level: int, highest: int, chance: Random) -> int:
    return min(highest, max(0, round(chance.gauss(level + eye.severity_bias, eye.severity_sd))))


def middle(outline: Outline) -> Place:
    """A place in the middle of a region and within it."""
    shape = Polygon(outline)
    point = shape.centroid if shape.contains(shape.centroid) else shape.representative_point()
    return point.x, point.y


def _somewhere_in(outline: Outline, chance: Random) -> Place:
    shape = Polygon(outline)
    left, top, right, bottom = shape.bounds
    for _ in range(40):
        x, y = chance.uniform(left, right), chance.uniform(top, bottom)
        if shape.contains(Point(x, y)):
            return x, y
    return middle(outline)


def _within(value: float, end: float) -> float:
    return min(end, max(0.0, value))
