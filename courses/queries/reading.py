"""A plate as it is read: its figures with their letters, captions, and what can be drawn over them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import pgettext

from courses.measures.catalogue import MEASURES
from courses.models import Clause, Exhibit, Plate, PlateExhibit, ShownFault
from courses.overlays import (
    Asked,
    Lines,
    Region,
    Sheet,
    Shown,
    Words,
    dog_of,
    fault_regions,
    measure_lines,
)
from courses.queries.measures import Placed, placed_on, possible, take
from courses.queries.permission import may_be_shown
from courses.queries.plate import sides_of, to_be_read

COLUMNS = 12


@dataclass(frozen=True)
class Figure:
    """One exhibit on a plate. `span` is its width in twelfths of the spread."""

    exhibit: Exhibit
    side: str
    letter: str
    caption: str
    sheet: Sheet
    span: int
    first: bool
    regions: list[Region] = field(default_factory=list)
    lines: list[Lines] = field(default_factory=list)


@dataclass(frozen=True)
class PlatePage:
    """A plate with its clauses and figures, correct ones first."""

    plate: Plate
    clauses: list[Clause]
    figures: list[Figure]

    @property
    def correct(self) -> list[Figure]:
        return [each for each in self.figures if each.side == PlateExhibit.Side.CORRECT]

    @property
    def has_regions(self) -> bool:
        return any(each.regions for each in self.figures)

    @property
    def has_lines(self) -> bool:
        return any(each.lines for each in self.figures)

    @property
    def comparable(self) -> bool:
        """Whether a correct and an incorrect figure are of one view, to be laid over one another."""
        views = {
            side: {each.exhibit.view for each in self.figures if each.side == side}
            for side in PlateExhibit.Side
        }
        return not views[PlateExhibit.Side.CORRECT].isdisjoint(views[PlateExhibit.Side.INCORRECT])

    @property
    def drawn(self) -> bool:
        return any(each.exhibit.drawn for each in self.figures)


def plate_page(pk: int, on: date, *, drafts: bool = False) -> PlatePage:
    """Everything the reading page shows of a plate, in eight queries. `drafts`: also what is not published."""
    plate = to_be_read(Plate.objects.filter(pk=pk)).get()
    clauses = [row.clause for row in plate.plate_clauses.all()]
    correct, incorrect = sides_of(plate)
    span = _span(len(correct), len(incorrect))
    figures = [
        _figure(row, clauses, span, drafts or may_be_shown(row.exhibit, on), first)
        for side in (correct, incorrect)
        for first, row in _firsts(side)
    ]
    return PlatePage(plate, clauses, figures)


def _firsts(rows: list[PlateExhibit]) -> list[tuple[bool, PlateExhibit]]:
    return [(place == 0, row) for place, row in enumerate(rows)]


def _span(correct: int, incorrect: int) -> int:
    """Pairs stand level in two columns; uneven sides stand in one row, as far as it holds them."""
    if correct == incorrect or correct + incorrect < 3:
        return COLUMNS // 2
    return COLUMNS // min(correct + incorrect, 4)


def _figure(row: PlateExhibit, clauses: list[Clause], span: int, shown: bool, first: bool) -> Figure:
    exhibit = row.exhibit
    sheet = Sheet.of(exhibit.width, exhibit.height)
    caption = _caption(row, clauses)
    if not shown:
        return Figure(exhibit, row.side, row.letter, caption, sheet, span, first)
    placed = placed_on(exhibit)
    outline = (exhibit.drawing or {}).get("outline", [])
    dog = dog_of(outline, placed.points.values())
    words = Words(sheet, dog)
    regions = fault_regions(sheet, words, _faults(exhibit))
    lines = measure_lines(
        sheet,
        words,
        placed.points,
        _asked(clauses, placed, exhibit.view),
        placement_sd=placed.placement_sd,
        camera=placed.camera,
        said=verdict_words(),
    )
    return Figure(exhibit, row.side, row.letter, caption, sheet, span, first, regions, lines)


def verdict_words() -> dict[str, str]:
    """What a measurement says of its clause."""
    return {"within": _("within"), "outside": _("outside"), "cannot tell": _("cannot tell")}


def _asked(clauses: list[Clause], placed: Placed, view: str) -> list[Asked]:
    taken = {name for name in possible(placed, view) if take(placed, name)}
    return [
        Asked(clause.measure, MEASURES[clause.measure].label, clause.number, clause.low, clause.high)
        for clause in clauses
        if clause.measure in taken
    ]


def _faults(exhibit: Exhibit) -> list[Shown]:
    return [Shown(_short(each), each.regions) for each in exhibit.shown_faults.all() if each.regions]


def _short(shown: ShownFault) -> str:
    return shown.clause.number if shown.clause else shown.fault.name


def _caption(row: PlateExhibit, clauses: list[Clause]) -> str:
    """View and kind, then what the exhibit shows here."""
    exhibit = row.exhibit
    view = str(exhibit.get_view_display()).capitalize()
    how = _("%(view)s, drawn.") % {"view": view} if exhibit.drawn else f"{view}."
    if row.caption:
        return f"{how} {row.caption}"
    if row.side == PlateExhibit.Side.CORRECT:
        return f"{how} {_clauses(clauses)}"
    return f"{how} {_named(exhibit) or exhibit.caption}".strip()


def _clauses(clauses: list[Clause]) -> str:
    numbers = ", ".join(clause.number for clause in clauses)
    if len(clauses) == 1:
        return pgettext("caption", "Clause %(numbers)s") % {"numbers": numbers}
    return pgettext("caption", "Clauses %(numbers)s") % {"numbers": numbers} if clauses else ""


def _named(exhibit: Exhibit) -> str:
    """Upright shoulder, 5.1; short upper arm, 5.2."""
    faults = [
        f"{each.fault.name}, {each.clause.number}" if each.clause else each.fault.name
        for each in exhibit.shown_faults.all()
    ]
    lower = [fault[:1].lower() + fault[1:] for fault in faults[1:]]
    return "; ".join([*faults[:1], *lower])
