"""Plates: begun, worded, filled with clauses and exhibits, published and withdrawn."""

from __future__ import annotations

from django.db import transaction
from django.db.models import Max, ProtectedError
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.actions.order import Direction, last_position, moved
from courses.models import Clause, Edition, Exhibit, Plate, PlateClause, PlateExhibit
from courses.models.choices import State
from courses.queries.plate import missing_on_plate, shelf, with_sides
from courses.refusals import NotReady, Refused
from shared.web.limits import PLATE_CLAUSES, PLATE_EXHIBITS, PLATES_PER_EDITION


@transaction.atomic
def begin_plate(*, edition: Edition, title: str) -> Plate:
    """A draft under the edition's next number."""
    if edition.plates.count() >= PLATES_PER_EDITION:
        raise Refused(_("An edition has at most %(n)d plates.") % {"n": PLATES_PER_EDITION})
    last = edition.plates.aggregate(last=Max("number"))["last"] or 0
    return Plate.objects.create(edition=edition, number=last + 1, title=title)


@transaction.atomic
def word_plate(*, plate: Plate, number: int, title: str, note: str) -> None:
    """Save number, title and note. On a published plate readers see it at once."""
    if Plate.objects.filter(edition=plate.edition_id, number=number).exclude(pk=plate.pk).exists():
        raise Refused(_("There is a plate %(n)d in this edition already.") % {"n": number})
    plate.number, plate.title, plate.note = number, title, note
    _changed(plate, "number", "title", "note")


@transaction.atomic
def set_clause(*, plate: Plate, clause: Clause) -> None:
    """Put a clause on the plate, after those it has; one that is there stays where it is."""
    if clause.edition_id != plate.edition_id:
        raise Refused(_("Clause %(n)s is from another edition.") % {"n": clause.number})
    rows = PlateClause.objects.filter(plate=plate)
    if not rows.filter(clause=clause).exists():
        if rows.count() >= PLATE_CLAUSES:
            raise Refused(_("A plate holds at most %(n)d clauses.") % {"n": PLATE_CLAUSES})
        PlateClause.objects.create(plate=plate, clause=clause, position=last_position(rows))
    _changed(plate)


@transaction.atomic
def set_exhibit(*, plate: Plate, exhibit: Exhibit, side: str) -> None:
    """Put an exhibit on a side of the plate; one that is on the other side changes over."""
    if exhibit.breed_id != plate.edition.breed_id:
        raise Refused(_("Exhibit %(n)d shows another breed.") % {"n": exhibit.number})
    rows = PlateExhibit.objects.filter(plate=plate, side=side)
    if not rows.filter(exhibit=exhibit).exists():
        if rows.count() >= PLATE_EXHIBITS:
            raise Refused(_("One side of a plate holds at most %(n)d exhibits.") % {"n": PLATE_EXHIBITS})
        PlateExhibit.objects.update_or_create(
            plate=plate, exhibit=exhibit, defaults={"side": side, "position": last_position(rows)}
        )
    _changed(plate)


@transaction.atomic
def move_on_plate(*, row: PlateClause | PlateExhibit, direction: Direction) -> None:
    """Move a clause among the clauses, an exhibit among those of its side."""
    moved(shelf(row), row, direction)
    _changed(row.plate)


@transaction.atomic
def take_off_plate(*, row: PlateClause | PlateExhibit) -> None:
    """Take a clause or an exhibit off the plate."""
    row.delete()
    _changed(row.plate)


@transaction.atomic
def caption_on_plate(*, row: PlateExhibit, caption: str) -> None:
    """Say under an exhibit what it shows on this plate."""
    row.caption = caption
    row.save(update_fields=["caption"])
    _changed(row.plate)


@transaction.atomic
def publish_plate(*, plate: Plate) -> None:
    """Let modules show the plate. Refused while something is missing."""
    if missing := missing_on_plate(with_sides(Plate.objects.all()).get(pk=plate.pk)):
        raise NotReady(missing)
    plate.state = State.PUBLISHED
    plate.published_at = plate.published_at or timezone.now()
    plate.save(update_fields=["state", "published_at"])


@transaction.atomic
def withdraw_plate(*, plate: Plate) -> None:
    """Take the plate from newcomers; who has begun a module with it still finds it there."""
    plate.state = State.WITHDRAWN
    plate.save(update_fields=["state"])


@transaction.atomic
def remove_plate(*, plate: Plate) -> None:
    """Throw away a plate that stands in no module."""
    try:
        plate.delete()
    except ProtectedError as error:
        raise Refused(_("It stands in a module, and stays. Withdraw it instead.")) from error


def _changed(plate: Plate, *fields: str) -> None:
    plate.changed_at = timezone.now()
    plate.save(update_fields=["changed_at", *fields])
