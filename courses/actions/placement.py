"""People place anatomical points on an exhibit, each for themselves, saved as they go."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.models import Exhibit, Placement
from courses.refusals import Refused
from courses.validators import read_points
from shared.accounts.models import Person
from shared.web.limits import PLACEMENTS_PER_EXHIBIT

FEWEST = 2  # points that say anything: two make a line


class Overtaken(Exception):
    """A later save has been made elsewhere; `placement` is what is kept."""

    def __init__(self, placement: Placement) -> None:
        super().__init__(_("These points were changed in another window."))
        self.placement = placement


@dataclass(frozen=True)
class Saved:
    """An acknowledged save."""

    revision: int
    saved_at: datetime


@transaction.atomic
def save_points(*, exhibit: Exhibit, by: Person, sent: object, seen: int, identity: uuid.UUID) -> Saved:
    """Keep one person's points if nothing was saved after the revision that this page has seen.

    The newest identity again returns what it got before. Raises Overtaken with the kept points if another
    window saved in between, Refused for a drawing or once they are finished, ValidationError if they cannot
    be read.
    """
    held = _hold(exhibit, by)
    if held.last_save == identity:
        return Saved(held.revision, held.saved_at)
    if held.finished_at:
        raise Refused(_("These points are finished."))
    if seen != held.revision:
        raise Overtaken(held)
    held.points = read_points(sent, exhibit.view, exhibit.width, exhibit.height)
    held.revision += 1
    held.last_save = identity
    held.saved_at = timezone.now()
    held.save(update_fields=["points", "revision", "last_save", "saved_at"])
    return Saved(held.revision, held.saved_at)


@transaction.atomic
def finish_points(*, exhibit: Exhibit, by: Person, seen: int | None = None) -> Placement:
    """Say that these are one's points: from now on they count, and the others' are shown."""
    held = _hold(exhibit, by)
    if held.finished_at:
        return held
    if seen is not None and seen != held.revision:
        raise Overtaken(held)
    if sum(at is not None for at in held.points.values()) < FEWEST:
        raise Refused(_("Place two points at least."))
    held.finished_at = timezone.now()
    held.save(update_fields=["finished_at"])
    return held


@transaction.atomic
def take_up_points(*, exhibit: Exhibit, by: Person) -> Placement:
    """Go on changing one's finished points. Refused once others have finished: theirs have been seen."""
    held = _hold(exhibit, by)
    if exhibit.placements.exclude(pk=held.pk).exclude(finished_at=None).exists():
        raise Refused(_("Others have placed points too, and you have seen them. Yours stay as they are."))
    held.finished_at = None
    held.save(update_fields=["finished_at"])
    return held


@transaction.atomic
def remove_placement(*, placement: Placement) -> None:
    """Take one person's points off the exhibit, so that they count no longer."""
    if placement.exact:
        raise Refused(_("These points belong to the drawing."))
    placement.delete()


def _hold(exhibit: Exhibit, by: Person) -> Placement:
    """This person's row, locked until the transaction ends, made if it is not there."""
    if exhibit.drawn:
        raise Refused(_("A drawn exhibit knows its points exactly."))
    if not exhibit.placements.filter(placed_by=by).exists():
        if exhibit.placements.count() >= PLACEMENTS_PER_EXHIBIT:
            raise Refused(_("Enough people have placed points on this exhibit."))
        Placement.objects.get_or_create(exhibit=exhibit, placed_by=by)
    return Placement.objects.select_for_update().get(exhibit=exhibit, placed_by=by)
