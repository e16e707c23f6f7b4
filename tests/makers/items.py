"""Items and the keys that they are marked by."""

from __future__ import annotations

from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.models import Item
from courses.models import Edition, Exhibit, Fault
from shared.accounts.models import Membership

from .exhibits import make_exhibit
from .standard import make_shoulder_and_back

SHOULDER = [[0.30, 0.40], [0.40, 0.40], [0.40, 0.55], [0.30, 0.55]]
BACK = [[0.60, 0.30], [0.72, 0.30], [0.72, 0.38], [0.60, 0.38]]


def entry(fault: Fault, regions: list[Any], **fields: Any) -> dict[str, Any]:
    """Fields of a complete key entry."""
    given = {
        "fault": fault,
        "clause": fault.clause,
        "zone": fault.zone,
        "level": fault.level,
        "regions": regions,
    }
    return given | fields


def make_draft_item(edition: Edition, by: Membership, exhibit: Exhibit | None = None) -> Item:
    """An item whose key was never published; its exhibit shows nothing that is said, unless one is given."""
    shown = exhibit or make_exhibit(edition.breed.club, by, breed=edition.breed)
    return make_item(edition=edition, exhibit=shown, by=by.person)


def make_keyed_item(edition: Edition, by: Membership, entries: list[dict[str, Any]] | None = None) -> Item:
    """An item in use: upright shoulder, Serious, and roached back, Moderate, unless entries are given."""
    item = make_draft_item(edition, by)
    if entries is None:
        shoulder, back = make_shoulder_and_back(edition)
        entries = [entry(shoulder, [SHOULDER]), entry(back, [BACK])]
    key = start_draft(item=item, by=by.person)
    save_draft(key=key, sound=not entries, note="", entries=entries, by=by.person)
    publish_key(item=item, by=by.person)
    item.refresh_from_db()
    return item


def make_item_of(
    edition: Edition,
    by: Membership,
    kind: str,
    *,
    exhibit: Exhibit | None = None,
    asking: dict[str, Any] | None = None,
    entries: list[dict[str, Any]] | None = None,
    content: dict[str, Any] | None = None,
) -> Item:
    """An item of a kind in use, with a key of these entries or this content; as it was proposed without any."""
    shown = exhibit or make_exhibit(edition.breed.club, by, breed=edition.breed)
    item = make_item(edition=edition, exhibit=shown, kind=kind, asking=asking, by=by.person)
    if entries is not None or content is not None:
        key = start_draft(item=item, by=by.person)
        save_draft(key=key, sound=False, note="", entries=entries, content=content, by=by.person)
    publish_key(item=item, by=by.person)
    return Item.objects.get(pk=item.pk)
