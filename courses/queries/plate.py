"""Plates with what their pages show, and what a plate still lacks."""

from __future__ import annotations

from collections.abc import Collection

from django.db.models import Case, Prefetch, QuerySet, When
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.models import (
    Clause,
    Edition,
    Exhibit,
    Placement,
    Plate,
    PlateClause,
    PlateExhibit,
    ShownFault,
)
from courses.models.choices import State
from courses.queries.exhibit import with_pictures
from courses.queries.permission import may_be_shown
from shared.accounts.models import Club
from shared.web.limits import CLAUSES_FOUND


def with_sides(plates: QuerySet[Plate]) -> QuerySet[Plate]:
    """Each plate with its clauses and pictures: six queries, however many plates."""
    clauses = PlateClause.objects.select_related("clause")
    exhibits = PlateExhibit.objects.prefetch_related(
        Prefetch("exhibit", with_pictures(Exhibit.objects.all()))
    )
    return plates.select_related("edition__breed").prefetch_related(
        Prefetch("plate_clauses", clauses), Prefetch("plate_exhibits", exhibits)
    )


def to_be_read(plates: QuerySet[Plate]) -> QuerySet[Plate]:
    """Each plate with all that the reading page draws: faults and points too."""
    faults = ShownFault.objects.select_related("fault", "clause")
    exhibits = with_pictures(Exhibit.objects.all()).prefetch_related(
        Prefetch("shown_faults", faults), Prefetch("placements", Placement.objects.order_by("pk"))
    )
    return plates.select_related("edition__breed").prefetch_related(
        Prefetch("plate_clauses", PlateClause.objects.select_related("clause")),
        Prefetch("plate_exhibits", PlateExhibit.objects.prefetch_related(Prefetch("exhibit", exhibits))),
    )


def plates_of(club: Club, edition: Edition) -> QuerySet[Plate]:
    """The plates of an edition in the order of their numbers."""
    return with_sides(Plate.objects.filter(edition=edition, edition__breed__club=club))


def editions_for_plates(club: Club) -> QuerySet[Edition]:
    """The club's editions, those in force first: a plate belongs to one."""
    in_force = Case(When(state=Edition.State.RELEASED, then=0), default=1)
    return Edition.objects.filter(breed__club=club).select_related("breed").order_by(in_force, "-issued_on")


def sides_of(plate: Plate) -> tuple[list[PlateExhibit], list[PlateExhibit]]:
    """Correct and incorrect exhibits, each in order and with its `letter` on the plate: a, b, …"""
    rows = list(plate.plate_exhibits.all())
    correct = [row for row in rows if row.side == PlateExhibit.Side.CORRECT]
    incorrect = [row for row in rows if row.side == PlateExhibit.Side.INCORRECT]
    for place, row in enumerate([*correct, *incorrect]):
        row.letter = chr(ord("a") + place)
    return correct, incorrect


def first_on_plate(plate: Plate) -> tuple[Clause | None, Exhibit | None]:
    """A plate's first clause and first correct exhibit. Four queries."""
    clause = plate.plate_clauses.select_related("clause__edition__breed").first()
    exhibits = Exhibit.objects.filter(plate_exhibits__plate=plate, plate_exhibits__side="correct")
    exhibit = with_pictures(exhibits.order_by("plate_exhibits__position", "plate_exhibits__pk")).first()
    return clause.clause if clause else None, exhibit


def plates_showing(exhibits: Collection[Exhibit]) -> list[int]:
    """Numbers of the published plates on which any of the exhibits stands."""
    plates = Plate.objects.filter(plate_exhibits__exhibit__in=exhibits, state=State.PUBLISHED)
    return list(plates.order_by("number").values_list("number", flat=True).distinct()[:CLAUSES_FOUND])


def missing_on_plate(plate: Plate) -> list[str]:
    """What keeps a plate from being published, in words; empty when it is ready."""
    correct, incorrect = sides_of(plate)
    today = timezone.localdate()
    hidden = [row.exhibit for row in (*correct, *incorrect) if not may_be_shown(row.exhibit, today)]
    missing = []
    if not plate.plate_clauses.all():
        missing.append(_("A clause."))
    if not correct:
        missing.append(_("A correct exhibit."))
    if not plate.note.strip():
        missing.append(_("The club’s note."))
    missing += [_why_hidden(exhibit) for exhibit in hidden]
    return missing


def _why_hidden(exhibit: Exhibit) -> str:
    if exhibit.state != State.PUBLISHED:
        return _("Exhibit %(n)d is not published.") % {"n": exhibit.number}
    return _("Exhibit %(n)d has no permission that covers teaching today.") % {"n": exhibit.number}


def clauses_found(plate: Plate, words: str) -> list[Clause]:
    """Clauses of the plate's edition whose number begins with, or whose wording holds, the words."""
    words = words.strip()
    if not words:
        return []
    clauses = Clause.objects.filter(edition=plate.edition_id).exclude(plates=plate)
    by = {"number__startswith": words} if words[0].isdigit() else {"text__icontains": words}
    return list(clauses.filter(**by)[:CLAUSES_FOUND])


def shelf(row: PlateClause | PlateExhibit) -> QuerySet:
    """The rows among which this one stands in order."""
    if isinstance(row, PlateClause):
        return PlateClause.objects.filter(plate=row.plate_id)
    return PlateExhibit.objects.filter(plate=row.plate_id, side=row.side)
