"""Anatomical points placed on an exhibit, against the points of several people.

What counts is how far a point lies from the key's, in heights at the withers, so that neither the framing of
the picture nor the size of the dog changes the mark. The key's point is the median of those who placed it,
and its spread is how far the furthest of them lies from it: whoever places a point as one of them did, has
it right.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import fsum, hypot, isfinite
from statistics import median

from .explanation import Line, per_cent

Spot = tuple[float, float]

# A point on the edge counts whole, in floating point too.
NOISE = 1e-12


@dataclass(frozen=True)
class PointRules:
    """How placed points are marked; all three in heights at the withers.

    least: within this distance a point always counts whole, however well the panel agrees. fading: how far
    beyond the spread (or `least`) the credit falls evenly to nothing. widest: a point on which those who
    placed it lie further apart than this is not fit to be asked.

    Raises ValueError where one of them is not a finite number above 0, or `widest` is below `least`.
    """

    least: float = 0.01
    fading: float = 0.05
    widest: float = 0.05

    def __post_init__(self) -> None:
        for name in ("least", "fading", "widest"):
            value = getattr(self, name)
            if not (isfinite(value) and value > 0):
                raise ValueError(f"{name} is {value}; it must be a finite number above 0")
        if self.widest < self.least:
            raise ValueError(f"widest is {self.widest}; it must not lie below least, {self.least}")


DEFAULT_POINT_RULES = PointRules()


@dataclass(frozen=True)
class KeyPoint:
    """One point of the key.

    label: its name in words. place: (x, y) in units of the picture's longer side; None where it is not
    visible. spread: in heights at the withers. Raises ValueError for a place or spread that is not finite,
    or a negative spread.
    """

    label: str
    place: Spot | None
    spread: float = 0.0

    def __post_init__(self) -> None:
        if self.place is not None and not all(map(isfinite, self.place)):
            raise ValueError(f"{self.label} lies at {self.place}: a place is two finite numbers")
        if not (isfinite(self.spread) and self.spread >= 0):
            raise ValueError(f"the spread of {self.label} is {self.spread}; it must be finite, not below 0")


@dataclass(frozen=True)
class PointKey:
    """The points asked, by name, in order, and the dog's height at the withers in picture units."""

    points: Mapping[str, KeyPoint]
    height: float

    def __post_init__(self) -> None:
        if not self.points:
            raise ValueError("the key {} asks for no point: it needs at least one")
        if not (isfinite(self.height) and self.height > 0):
            raise ValueError(f"the height at the withers is {self.height}; it must be finite and above 0")


@dataclass(frozen=True)
class PlacedPoint:
    """How one point was marked: its distance in heights (None where there is none), and its credit, 0 to 1."""

    name: str
    distance: float | None
    credit: float


@dataclass(frozen=True)
class PointsScore:
    """How an answer was marked: the mean credit, each point in the key's order, and lines that sum to it."""

    score: float
    answered: bool
    points: tuple[PlacedPoint, ...]
    lines: tuple[Line, ...] = field(repr=False)


def score_points(
    key: PointKey, placed: Mapping[str, Spot | None], rules: PointRules = DEFAULT_POINT_RULES
) -> PointsScore:
    """Mark one answer: each point's credit is 1 within r = max(spread, least), 0 from r + fading.

    placed: name to (x, y), None for "not visible"; a name left out was not placed. "Not visible" earns 1
    where the key says so too, else 0. The score is the mean over the key's points. Raises ValueError for a
    name that is not asked, or a place that is not finite.
    """
    _check(key, placed)
    results = tuple(_result(name, each, key, placed, rules) for name, each in key.points.items())
    share = 1 / len(results)
    lines = tuple(
        Line(
            _words(key.points[each.name], each, placed, rules), share * each.credit, "placed", available=share
        )
        for each in results
    )
    score = fsum(each.credit for each in results) / len(results)
    return PointsScore(score, bool(placed), results, lines)


def settle(label: str, places: Iterable[Spot | None], height: float) -> KeyPoint:
    """The key's point from what several people placed, None for "not visible".

    Its place is the median along each axis, its spread the distance of the furthest; it is not visible where
    more than half say so. Raises ValueError for no one at all and for a height that is not above 0.
    """
    said = list(places)
    if not said:
        raise ValueError(f"nobody has placed {label}: a key point needs at least one person")
    if not height > 0:
        raise ValueError(f"the height at the withers is {height}; it must be above 0")
    seen = [place for place in said if place is not None]
    if 2 * len(seen) < len(said):
        return KeyPoint(label, None)
    x, y = median(place[0] for place in seen), median(place[1] for place in seen)
    return KeyPoint(label, (x, y), max(hypot(place[0] - x, place[1] - y) for place in seen) / height)


def height_of(withers: Spot, ground: Sequence[Spot]) -> float:
    """The height at the withers: from them to the line through two ground points, or the level of one.

    Raises ValueError without ground, and where the two ground points are one.
    """
    if not ground:
        raise ValueError("a height needs the ground: one or two points on it")
    first = ground[0]
    if len(ground) == 1:
        return abs(first[1] - withers[1])
    along = (ground[1][0] - first[0], ground[1][1] - first[1])
    length = hypot(*along)
    if not length:
        raise ValueError(f"both ground points lie at {first}: they say nothing of the ground’s direction")
    return abs(along[0] * (withers[1] - first[1]) - along[1] * (withers[0] - first[0])) / length


def whole_within(point: KeyPoint, rules: PointRules) -> float:
    """How far from the key's point a placed one still counts whole, in heights."""
    return max(point.spread, rules.least)


def _check(key: PointKey, placed: Mapping[str, Spot | None]) -> None:
    for name, place in placed.items():
        if name not in key.points:
            raise ValueError(f"{name} is not asked: the key has {', '.join(key.points)}")
        if place is not None and not all(map(isfinite, place)):
            raise ValueError(f"{name} lies at {place}: a place is two finite numbers")


def _result(
    name: str, point: KeyPoint, key: PointKey, placed: Mapping[str, Spot | None], rules: PointRules
) -> PlacedPoint:
    given = placed.get(name)
    if given is None or point.place is None:
        return PlacedPoint(name, None, float(name in placed and given is point.place))
    distance = hypot(given[0] - point.place[0], given[1] - point.place[1]) / key.height
    beyond = (distance - whole_within(point, rules) - NOISE) / rules.fading
    return PlacedPoint(name, distance, min(1.0, max(0.0, 1 - beyond)))


def _words(point: KeyPoint, result: PlacedPoint, placed: Mapping[str, Spot | None], rules: PointRules) -> str:
    if result.name not in placed:
        return f"{point.label}: not placed"
    if result.distance is None:
        return f"{point.label}: {_hidden_words(point, placed[result.name])}"
    away = f"{point.label}: {_tenths(result.distance)} of the height away"
    whole = whole_within(point, rules)
    if result.credit == 1:
        return f"{away}, whole to {_tenths(whole)}"
    if result.credit > 0:
        return f"{away}; whole to {_tenths(whole)}, nothing from {_tenths(whole + rules.fading)}"
    return f"{away}; nothing from {_tenths(whole + rules.fading)}"


def _hidden_words(point: KeyPoint, given: Spot | None) -> str:
    if given is not None:
        return "placed, where the key says that it is not visible"
    return (
        "not visible, as the key has it" if point.place is None else "said not to be visible; the key has it"
    )


def _tenths(heights: float) -> str:
    return f"{100 * heights:.1f} %"


def points_in_words(rules: PointRules = DEFAULT_POINT_RULES) -> tuple[str, ...]:
    """The rules as sentences that a trainee can read before answering."""
    return (
        "Every point asked counts alike. It is marked by how far it lies from the key’s, in per cent of the "
        "dog’s height at the withers.",
        f"It counts whole as far as the furthest of those who placed the key lies from their middle, and always "
        f"within {per_cent(rules.least)}; from there it falls evenly to nothing {per_cent(rules.fading)} further "
        "out.",
        "“Not visible” earns everything where the key says so too, and nothing where the key has the point.",
    )
