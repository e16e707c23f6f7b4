"""Two exhibits of a plate laid one over the other at shared points, and what differs between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from shapely import affinity, make_valid, unary_union
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from courses.measures.alignment import Difference, Similarity, align, difference
from courses.measures.catalogue import HEIGHT, MEASURES, Measure
from courses.measures.points import BONES, point_label
from courses.measures.stance import facing
from courses.models import Clause, Exhibit, Plate, PlateExhibit
from courses.models.choices import Zone
from courses.queries.measures import Measured, Placed, cover_of, drawn, measured, placed_on
from courses.queries.plate import sides_of

# Where dogs are laid over one another when the plate speaks of their other end.
HIND = {
    *("hip_bone", "hip_joint", "point_of_buttock", "set_on", "stifle", "hock_joint", "point_of_hock"),
    *("rear_foot", "ground_rear"),
}
FORE = {
    *("withers", "blade_top", "point_of_shoulder", "prosternum", "elbow", "point_of_elbow", "brisket"),
    *("wrist", "front_foot", "ground_front"),
}
IN_FRONT = {Zone.HEAD, Zone.NECK, Zone.FOREQUARTERS}
BEHIND = {Zone.HINDQUARTERS, Zone.TAIL}
FEWEST = 3  # points that hold a picture without turning about one of them
APART = 0.004  # picture units: outlines nearer than 3 px of a laptop's width are one line


@dataclass(frozen=True)
class Side:
    """One of the two: its exhibit, its letter on the plate, its points."""

    exhibit: Exhibit
    letter: str
    placed: Placed


@dataclass(frozen=True)
class Way:
    """A way to lay the incorrect over the correct: by which part, and the similarity that does it."""

    name: str
    label: str
    points: list[str]
    fit: Similarity


@dataclass(frozen=True)
class Row:
    """A measure of both, as one clause of the plate asks for it or as none does."""

    measure: Measure
    clause: Clause | None
    correct: Measured
    incorrect: Measured
    difference: Difference

    @property
    def words(self) -> str:
        """How the incorrect differs from the correct."""
        return difference_words(self.measure, self.difference)


@dataclass(frozen=True)
class OneOverOther:
    """A pair of the plate. Without ways there is nothing by which to lay them over one another."""

    correct: Side
    incorrect: Side
    ways: list[Way]
    rows: list[Row]

    @property
    def asked(self) -> list[Row]:
        return [row for row in self.rows if row.clause]

    @property
    def others(self) -> list[Row]:
        return [row for row in self.rows if not row.clause]


def pairs_of(plate: Plate) -> list[tuple[PlateExhibit, PlateExhibit]]:
    """Correct and incorrect exhibits of one view, in the order of the plate."""
    correct, incorrect = sides_of(plate)
    return [
        (first, second)
        for first in correct
        for second in incorrect
        if first.exhibit.view == second.exhibit.view
    ]


def laid_over(correct: PlateExhibit, incorrect: PlateExhibit, clauses: Sequence[Clause]) -> OneOverOther:
    """The incorrect exhibit over the correct one, compared by the clauses of their plate."""
    first, second = (Side(row.exhibit, row.letter, placed_on(row.exhibit)) for row in (correct, incorrect))
    ways = _ways(first, second, clauses)
    return OneOverOther(first, second, ways, _rows(first, second, clauses))


def _rows(correct: Side, incorrect: Side, clauses: Sequence[Clause]) -> list[Row]:
    """What both pictures let be measured: as the plate's clauses ask for it, then the rest."""
    here, there = (_by_name(side, clauses) for side in (correct, incorrect))
    return [
        Row(each.measure, each.clause, each, there[name], difference(each.taken, there[name].taken))
        for name, each in here.items()
        if name in there
    ]


def _by_name(side: Side, clauses: Sequence[Clause]) -> dict[str, Measured]:
    asking = [clause for clause in clauses if clause.measure in MEASURES]
    found: dict[str, Measured] = {}
    for each in measured(side.placed, side.exhibit.view, asking):
        found.setdefault(each.measure.name, each)
    return found


def _ways(correct: Side, incorrect: Side, clauses: Sequence[Clause]) -> list[Way]:
    """Every way that there are points for, the one that suits the plate first."""
    source, target = incorrect.placed.points, correct.placed.points
    reflect = facing(source) * facing(target) < 0 if facing(source) and facing(target) else "auto"
    ends = {"hind": HIND, "fore": FORE} if correct.exhibit.view == "profile" else {}
    first = _suited(clauses)
    names = sorted(["whole", *ends], key=lambda name: name != first)
    ways = []
    for name in names:
        shared = [at for at in source if at in target and at in ends.get(name, source)]
        try:
            if len(shared) >= FEWEST:
                fit = align({at: source[at] for at in shared}, target, reflect=reflect)
                labels = [_(point_label(correct.exhibit.view, at)) for at in shared]
                ways.append(Way(name, way_words()[name], labels, fit))
        except ValueError:  # the points coincide: no way
            continue
    return ways


def way_words() -> dict[str, str]:
    """By which part two dogs are laid over one another."""
    return {"hind": _("hindquarters"), "fore": _("forequarters"), "whole": _("whole dog")}


def _suited(clauses: Sequence[Clause]) -> str:
    """The end of which the plate does not speak, so that what it speaks of is seen to differ."""
    zones = {clause.zone for clause in clauses}
    if zones & IN_FRONT and not zones & BEHIND:
        return "hind"
    return "fore" if zones & BEHIND and not zones & IN_FRONT else "whole"


def as_drawn(pair: OneOverOther) -> dict[str, object]:
    """What the page's script draws. The incorrect one's lines are in its own picture's units."""
    correct, incorrect = pair.correct, pair.incorrect
    return {
        "ways": [
            {"name": way.name, "matrix": [float(number) for number in way.fit.matrix[:2].T.ravel()]}
            | _outlines(pair, way)
            for way in pair.ways
        ],
        "measures": [
            {
                "name": row.measure.name,
                "correct": drawn(row.correct, correct.placed),
                "incorrect": drawn(row.incorrect, incorrect.placed),
            }
            for row in pair.rows
        ],
        "skeletons": {"correct": _skeleton(correct), "incorrect": _skeleton(incorrect)},
        "regions": {"correct": _regions(correct.exhibit), "incorrect": _regions(incorrect.exhibit)},
        "cover": cover_of(correct.exhibit, correct.placed),
        "otherCover": cover_of(incorrect.exhibit, incorrect.placed),
    }


def _skeleton(side: Side) -> dict[str, object]:
    points = side.placed.points
    bones = [
        (points[a][:2], points[b][:2]) for a, b in BONES[side.exhibit.view] if a in points and b in points
    ]
    ends = sorted({end for bone in bones for end in bone})
    return {"segments": [["bone", *start, *end] for start, end in bones], "arcs": [], "ends": ends}


def _regions(exhibit: Exhibit) -> list[dict[str, object]]:
    return [
        {"word": each.clause.number if each.clause else each.fault.name, "regions": each.regions}
        for each in exhibit.shown_faults.all()
        if each.regions
    ]


def _outlines(pair: OneOverOther, way: Way) -> dict[str, object]:
    """Of two drawings: each one's outline where the other's is not, in units of the correct one's picture."""
    shapes = [_outline(side.exhibit) for side in (pair.correct, pair.incorrect)]
    if not all(shapes):
        return {"correct": [], "incorrect": []}
    (a, b, x), (c, d, y), _last = way.fit.matrix
    correct, incorrect = shapes[0].boundary, affinity.affine_transform(shapes[1], [a, b, c, d, x, y]).boundary
    return {
        "correct": _lines(correct.difference(incorrect.buffer(APART))),
        "incorrect": _lines(incorrect.difference(correct.buffer(APART))),
    }


def _outline(exhibit: Exhibit) -> BaseGeometry:
    parts = (exhibit.drawing or {}).get("outline", [])
    return unary_union([make_valid(Polygon(part)) for part in parts])


def _lines(lines: BaseGeometry) -> list[list[list[float]]]:
    parts = [part for part in getattr(lines, "geoms", [lines]) if part.length > APART]
    return [[[round(x, 4), round(y, 4)] for x, y in part.coords] for part in parts]


def difference_words(chosen: Measure, apart: Difference) -> str:
    """ "13° less", "22 % less" of the correct one's ratio, "2 % of the height more"."""
    size = abs(apart.difference)
    if chosen.unit:
        amount = f"{size:.0f}{chosen.unit}"
    elif HEIGHT in chosen.needs and chosen.name != "length_to_height":
        amount = _("%(n)s %% of the height") % {"n": f"{100 * size:.0f}"}
    else:
        amount = _("%(n)s %%") % {
            "n": f"{100 * size / abs(apart.source.value):.0f}" if apart.source.value else "–"
        }
    if amount.startswith("0"):
        return _("the same")
    return (_("%(amount)s more") if apart.difference > 0 else _("%(amount)s less")) % {"amount": amount}
