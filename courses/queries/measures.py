"""What is measured on an exhibit, how surely, and what the clauses of the edition in force say to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import pgettext
from shapely.geometry import MultiPoint

from courses.measures.catalogue import GROUND, MEASURES, PLUMB, Measure
from courses.measures.construction import Construction, construction
from courses.measures.measures import PLACEMENT_SD, Measurement, measurable, measure, verdict
from courses.measures.points import POINTS
from courses.measures.spread import PooledPoint, pooled
from courses.measures.stance import Stance
from courses.measures.wording import digits_of, signed, value_of
from courses.models import Breed, Clause, Edition, Exhibit, Placement
from courses.models.choices import Camera

Points = dict[str, tuple[float, ...]]


@dataclass(frozen=True)
class Placed:
    """The points of an exhibit as `measure` takes them: (x, y), or (x, y, sd_x, sd_y) from several people."""

    points: Points
    placement_sd: float
    camera: str
    people: int

    @property
    def exact(self) -> bool:
        return self.camera == Camera.EXACT


@dataclass(frozen=True)
class Measured:
    """One measure of an exhibit, and the clause that asks for it if one does."""

    measure: Measure
    taken: Measurement
    clause: Clause | None = None

    @property
    def verdict(self) -> str:
        """ "within", "outside", "cannot tell", or nothing if no clause asks."""
        return verdict(self.taken, self.clause.low, self.clause.high) if self.clause else ""

    @property
    def value(self) -> str:
        """The value with half its interval: "35° ± 3", "0.95 ± 0.08", "35°" when it is exact."""
        return value_of(self.taken)

    @property
    def asks(self) -> str:
        """What the clause asks: "30–40° from plumb"."""
        if self.clause is None:
            return ""
        return (
            f"{range_words(self.taken, self.clause.low, self.clause.high)} {axis_words(self.measure)}".strip()
        )


def range_words(taken: Measurement, low: float, high: float) -> str:
    """A range with its unit; "to" between ends where a dash could be read as a minus."""
    digits = digits_of(taken.unit)
    between = "–" if low >= 0 else f" {pgettext('between two numbers', 'to')} "
    return f"{signed(low, digits)}{between}{signed(high, digits)}{taken.unit}"


def axis_words(chosen: Measure) -> str:
    """ "from plumb", "from the ground", or nothing where the measure's name says enough."""
    return _(chosen.axis) if chosen.axis in (PLUMB, GROUND) else ""


def drawn(taken: Measured, placed: Placed) -> dict[str, object]:
    """The lines that show a measure, in picture units, as the page's script draws them."""
    built = construction(placed.points, taken.measure)
    return {"name": taken.measure.name, "label": _(taken.measure.label), "value": taken.value} | lines_of(
        built
    )


def lines_of(built: Construction) -> dict[str, object]:
    """Segments [kind, x1, y1, x2, y2], arcs [radius, x1, y1, x2, y2, clockwise], bone ends, place of the value."""
    bones = [segment for segment in built.segments if segment.kind == "bone"]
    return {
        "segments": [[each.kind, *_rounded(*each.start, *each.end)] for each in built.segments],
        "arcs": [
            [*_rounded(each.radius, *each.start, *each.end), int(each.clockwise)] for each in built.arcs
        ],
        "ends": [_rounded(*end) for end in sorted({end for bone in bones for end in (bone.start, bone.end)})],
        "at": _rounded(*built.label_at),
    }


def _rounded(*numbers: float) -> list[float]:
    return [round(number, 5) for number in numbers]


def cover_of(exhibit: Exhibit, placed: Placed) -> list[list[list[float]]]:
    """The ground that the dog covers, as polygons: its drawn outline, or what its points span."""
    outline = (exhibit.drawing or {}).get("outline", [])
    if outline:
        return outline
    hull = MultiPoint([at[:2] for at in placed.points.values()]).convex_hull.buffer(0.04, quad_segs=3)
    return [] if hull.is_empty else [[_rounded(x, y) for x, y in hull.exterior.coords[:-1]]]


def finished(placements: Iterable[Placement]) -> list[Placement]:
    """Those that count: the drawing's own, and those that their makers have finished."""
    return [each for each in placements if each.exact or each.finished_at]


def points_in(placement: Placement, view: str) -> Points:
    """The visible points of one placement that the view knows."""
    known = {point.name for point in POINTS.get(view, ())}
    return {name: tuple(at) for name, at in placement.points.items() if at and name in known}


def pooled_on(exhibit: Exhibit) -> dict[str, PooledPoint]:
    """The finished placements of a photograph pooled point by point; reads its prefetched placements."""
    return pooled([points_in(each, exhibit.view) for each in finished(exhibit.placements.all())])


def placed_on(exhibit: Exhibit) -> Placed:
    """The points to measure from. A drawing's own are exact and stand for themselves."""
    counted = finished(exhibit.placements.all())
    for placement in counted:
        if placement.exact:
            return Placed(points_in(placement, exhibit.view), 0.0, Camera.EXACT, 0)
    spread = pooled_on(exhibit)
    camera = Camera.UNKNOWN if exhibit.camera == Camera.EXACT else exhibit.camera
    if len(counted) < 2:
        return Placed({name: (at.x, at.y) for name, at in spread.items()}, PLACEMENT_SD, camera, len(counted))
    means = {name: (at.x, at.y) for name, at in spread.items()}
    usual = PLACEMENT_SD * Stance(means, exhibit.view).height_or_extent() if means else 0.0
    steadied = {name: at.steadied(usual) for name, at in spread.items()}
    return Placed(steadied, PLACEMENT_SD, camera, len(counted))


def measurable_clauses(breed: Breed | int) -> QuerySet[Clause]:
    """The clauses of the edition in force that ask for a measure, in the order of the standard."""
    return Clause.objects.filter(
        edition__breed=breed, edition__state=Edition.State.RELEASED, measure__in=MEASURES
    )


def measured(placed: Placed, view: str, clauses: Sequence[Clause] = ()) -> list[Measured]:
    """Every measure that the points allow, those that a clause asks for first."""
    taken = {name: each for name in possible(placed, view) if (each := take(placed, name)) is not None}
    asked = [
        Measured(MEASURES[clause.measure], taken[clause.measure], clause)
        for clause in clauses
        if clause.measure in taken
    ]
    spoken_of = {each.measure.name for each in asked}
    return asked + [Measured(MEASURES[name], taken[name]) for name in taken if name not in spoken_of]


def possible(placed: Placed, view: str) -> list[str]:
    """Names of the measures that the points allow."""
    return measurable(placed.points, view) if placed.points else []


def take(placed: Placed, name: str) -> Measurement | None:
    """One measure of the points, or None where they coincide or lie so that there is no value."""
    try:
        return measure(placed.points, name, placement_sd=placed.placement_sd, camera=placed.camera)
    except ValueError:
        return None


def missing_for(placed: Placed, view: str, clause: Clause) -> list[str]:
    """Words for the points that a clause's measure still needs in this view."""
    chosen = MEASURES[clause.measure]
    labels = {point.name: point.label for point in POINTS.get(view, ())}
    needed = (*chosen.points.get(view, ()), *grounds_of(view))
    return [_(labels[name]) for name in dict.fromkeys(needed) if name in labels and name not in placed.points]


def grounds_of(view: str) -> tuple[str, ...]:
    """The two points through which the ground runs."""
    return tuple(point.name for point in POINTS.get(view, ()) if point.name.startswith("ground"))
