"""Exhibits, drawn and photographed, with their permissions and the points placed on them."""

from __future__ import annotations

import datetime
import io
import uuid
from typing import Any

from courses.actions.exhibit import publish_exhibit, take_in_exhibit
from courses.actions.permission import record_permission
from courses.actions.placement import finish_points, save_points
from courses.models import Exhibit, PicturePermission, Placement
from shared.accounts.models import Club, Membership
from tests.shared.pictures.making import encoded, scene

from .standard import make_breed


def make_exhibit(club: Club, by: Membership, **fields: Any) -> Exhibit:
    """A published drawn exhibit of 1600 by 1200, without files."""
    last = Exhibit.objects.filter(club=club).order_by("-number").values_list("number", flat=True).first()
    given = {
        "breed": fields.pop("breed", None) or make_breed(club),
        "number": (last or 0) + 1,
        "kind": Exhibit.Kind.DRAWN,
        "state": "published",
        "width": 1600,
        "height": 1200,
        "made_by": by.person,
    }
    return Exhibit.objects.create(club=club, **(given | fields))


def make_photograph(club: Club, by: Membership, seed: int = 0, **fields: Any) -> Exhibit:
    """A draft photograph of 300 by 200 with its files, taken in as an upload is."""
    file = io.BytesIO(encoded(scene(300, 200, seed)))
    breed = fields.pop("breed", None) or make_breed(club)
    made = take_in_exhibit(club=club, breed=breed, file=file, name="scene.jpg", made_by=by.person).exhibit
    Exhibit.objects.filter(pk=made.pk).update(**fields)
    made.refresh_from_db()
    return made


def permit(exhibit: Exhibit, by: Membership, **fields: Any) -> PicturePermission:
    """The owner's word for teaching, from the first of January 2026 without end."""
    given = {"given_by": "Erlend Scollay", "how": "form", "ends_on": None, "uses": {"teaching"}}
    given["starts_on"] = datetime.date(2026, 1, 1)
    return record_permission(exhibit=exhibit, recorded_by=by.person, **(given | fields))


def make_published(club: Club, by: Membership, seed: int = 0, **fields: Any) -> Exhibit:
    """A photograph that its owner lets be taught with, published."""
    made = make_photograph(club, by, seed, **fields)
    permit(made, by)
    publish_exhibit(exhibit=made)
    return made


def make_placement(exhibit: Exhibit, by: Membership, points: dict[str, Any], **fields: Any) -> Placement:
    """One person's finished points; `finished_at=None` leaves them unfinished."""
    sent = {"points": {name: at and list(at) for name, at in points.items()}}
    save_points(exhibit=exhibit, by=by.person, sent=sent, seen=0, identity=uuid.uuid4())
    made = finish_points(exhibit=exhibit, by=by.person)
    Placement.objects.filter(pk=made.pk).update(**fields)
    made.refresh_from_db()
    return made
