"""Faces, armbands and ring numbers are painted over in every size of a picture, and painted anew on a second look."""

from __future__ import annotations

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils.translation import gettext as _
from PIL.Image import Image

from courses.actions.exhibit import make_renditions
from courses.actions.files import all_or_none, remove_after_commit
from courses.models import Exhibit, Rendition
from courses.refusals import Refused
from courses.validators import read_blanks
from shared.pictures.blanking import blank
from shared.pictures.opening import open_picture

Shapes = Sequence[Sequence[Sequence[float]]]


def state_of_picture(exhibit: Exhibit) -> str:
    """Changes whenever the picture is made anew: what a page has seen of it."""
    widest = max(exhibit.renditions.all(), key=lambda each: (each.width, each.format), default=None)
    return widest.name if widest else ""


def blank_exhibit(*, exhibit: Exhibit, shapes: object, seen: str) -> None:
    """Paint the shapes, and no others, into every size of the picture; the sizes before are gone at once.

    `shapes` are lists of [x, y] in units of the picture's longer side. From the kept original, so that a
    shape left out shows the picture again; without an original shapes can only be added. `seen` is what
    `state_of_picture` said to the page. Raises Refused, or ValidationError for shapes that are none.
    """
    if exhibit.drawn:
        raise Refused(_("A drawing shows nobody who must be hidden."))
    outlines = read_blanks(shapes, exhibit.width, exhibit.height)
    if not exhibit.original and any(each not in outlines for each in exhibit.blanked):
        raise Refused(_("The file that was taken in is deleted: what is painted over stays so."))
    covered = blank(_picture_to_paint(exhibit), outlines)
    with all_or_none() as keep:
        rows = make_renditions(exhibit.club, covered, keep)
        _put_in_place(exhibit, outlines, rows, seen)


@transaction.atomic
def _put_in_place(exhibit: Exhibit, outlines: Shapes, rows: list[Rendition], seen: str) -> None:
    held = Exhibit.objects.select_for_update().get(pk=exhibit.pk)
    if state_of_picture(held) != seen:
        raise Refused(_("The picture was changed meanwhile by someone else. Look at it again."))
    remove_after_commit([row.file for row in held.renditions.all()])
    held.renditions.all().delete()
    held.blanked = outlines
    held.save(update_fields=["blanked"])
    for row in rows:
        row.exhibit = held
    Rendition.objects.bulk_create(rows)


def _picture_to_paint(exhibit: Exhibit) -> Image:
    """The kept original, or else the widest size that is left."""
    name = exhibit.original.name
    if not name:
        name = max(exhibit.renditions.filter(format="jpeg"), key=lambda each: each.width).file
    with default_storage.open(name) as file:
        return open_picture(file).image


@transaction.atomic
def remove_original(*, exhibit: Exhibit) -> None:
    """Delete the file that was taken in: from now on what is painted over cannot be brought back."""
    held = Exhibit.objects.select_for_update().get(pk=exhibit.pk)
    if not held.original:
        raise ValidationError(_("It is deleted already."), code="gone")
    remove_after_commit([held.original.name])
    held.original = ""
    held.save(update_fields=["original"])
