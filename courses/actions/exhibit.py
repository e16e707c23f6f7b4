"""How an exhibit comes in, is described, shown to trainees and taken from them."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import BinaryIO

from django.core.files.base import ContentFile, File
from django.db import transaction
from django.db.models import Max, ProtectedError
from django.utils import timezone
from django.utils.translation import gettext as _
from PIL.Image import Image

from courses.actions.files import all_or_none, remove_after_commit
from courses.models import Breed, Clause, Exhibit, Fault, Rendition, ShownFault
from courses.models.choices import State
from courses.models.exhibit import original_path
from courses.queries.exhibit import alike_ones
from courses.queries.permission import permission_state
from courses.refusals import NotReady, Refused
from courses.rules import ALLOWING, Use
from shared.accounts.models import Club, Person
from shared.pictures.likeness import fingerprint
from shared.pictures.opening import open_picture
from shared.pictures.renditions import Rendition as Made
from shared.pictures.renditions import renditions


@dataclass(frozen=True)
class TakenIn:
    """A new exhibit, and the numbers of exhibits that show the same photograph already."""

    exhibit: Exhibit
    alike: list[int]


def take_in_exhibit(*, club: Club, breed: Breed, file: BinaryIO, name: str, made_by: Person) -> TakenIn:
    """Make an exhibit of an uploaded picture.

    `name` is what the file was called where it came from. Raises `PictureRefused` with the reason; then,
    or if anything else fails, neither a row nor a file is left behind.
    """
    opened = open_picture(file, name=name)
    exhibit = Exhibit(
        club=club,
        breed=breed,
        original_name=name[-200:],
        width=opened.width,
        height=opened.height,
        fingerprint=fingerprint(opened.image),
        made_by=made_by,
    )
    known = alike_ones(club, exhibit.fingerprint)
    with all_or_none() as keep:
        file.seek(0)
        exhibit.original.name = keep(original_path(exhibit, name), File(file))
        keep_exhibit(exhibit, make_renditions(club, opened.image, keep))
    return TakenIn(exhibit, known)


def make_renditions(club: Club, image: Image, keep: Callable[[str, File], str]) -> list[Rendition]:
    """Store every size and format of a picture; rows that still lack their exhibit.

    Made before any transaction is opened, since encoding takes a second or more.
    """
    return store_renditions(club, renditions(image), keep)


def store_renditions(
    club: Club, made_before: Iterable[Made], keep: Callable[[str, File], str]
) -> list[Rendition]:
    """The same for sizes and formats that were made before."""
    rows = []
    for made in made_before:
        path = keep(f"pictures/{club.pk}/{secrets.token_hex(8)}-{made.name}", ContentFile(made.data))
        rows.append(
            Rendition(
                name=made.name,
                file=path,
                format=made.format,
                width=made.width,
                height=made.height,
                bytes=len(made.data),
            )
        )
    return rows


@transaction.atomic
def keep_exhibit(exhibit: Exhibit, rows: list[Rendition]) -> None:
    """Save a new exhibit under the club's next number, with its renditions."""
    Club.objects.select_for_update().get(pk=exhibit.club_id)
    last = Exhibit.objects.filter(club=exhibit.club_id).aggregate(last=Max("number"))["last"]
    exhibit.number = (last or 0) + 1
    exhibit.save()
    for row in rows:
        row.exhibit = exhibit
    Rendition.objects.bulk_create(rows)


@transaction.atomic
def describe_exhibit(*, exhibit: Exhibit) -> None:
    """Save what the educator says of an exhibit: view, sex, age class, caption, description, verdict."""
    exhibit.full_clean(exclude=["made_by", "club", "breed", "number"])
    exhibit.save(update_fields=["view", "sex", "age_class", "caption", "description", "verdict", "camera"])


@transaction.atomic
def say_how_taken(*, exhibit: Exhibit) -> None:
    """Save what is known of the camera's place; angles are as sure as it lets them be."""
    exhibit.save(update_fields=["camera"])


@transaction.atomic
def publish_exhibit(*, exhibit: Exhibit) -> None:
    """Let trainees see the exhibit. Refused without a permission that covers teaching."""
    if permission_state(exhibit, Use.TEACHING, timezone.localdate()) not in ALLOWING:
        raise NotReady([_("It cannot be published yet: no permission of the owner covers teaching today.")])
    exhibit.state = State.PUBLISHED
    exhibit.published_at = exhibit.published_at or timezone.now()
    exhibit.save(update_fields=["state", "published_at"])


@transaction.atomic
def withdraw_exhibit(*, exhibit: Exhibit) -> None:
    """Take the exhibit from trainees at once; its places show a blank."""
    exhibit.state = State.WITHDRAWN
    exhibit.save(update_fields=["state"])


@transaction.atomic
def remove_exhibit(*, exhibit: Exhibit) -> None:
    """Remove an exhibit that nothing uses, with all its files."""
    paths = [row.file for row in exhibit.renditions.all()]
    paths += [word.form.name for word in exhibit.permissions.all() if word.form]
    if exhibit.original:
        paths.append(exhibit.original.name)
    try:
        exhibit.delete()
    except ProtectedError as error:
        raise Refused(_("It is used on a plate or in a quiz, and stays. Withdraw it instead.")) from error
    remove_after_commit(paths)


@transaction.atomic
def show_fault(*, exhibit: Exhibit, fault: Fault, clause: Clause | None, level: int) -> ShownFault:
    """Say that the exhibit shows a fault so far; said again, the clause and level change and regions stay."""
    if fault.breed_id != exhibit.breed_id:
        raise Refused(_("This fault is from another breed’s list."))
    shown, _made = ShownFault.objects.update_or_create(
        exhibit=exhibit, fault=fault, defaults={"clause": clause, "level": level}
    )
    return shown


@transaction.atomic
def remove_shown_fault(*, shown: ShownFault) -> None:
    """Take a fault off an exhibit, with its regions."""
    shown.delete()
