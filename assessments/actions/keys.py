"""Items and the versions of their keys."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.items import kind_of
from assessments.items.mark_the_faults.key import propose_entries
from assessments.models import Item, Key, KeyEntry
from assessments.queries.quizzes import draft_key, published_key
from assessments.rules import NotReady, Refused
from assessments.tasks import remark_item
from courses.models import Edition, Exhibit
from shared.accounts.models import Person


@transaction.atomic
def make_item(*, edition: Edition, exhibit: Exhibit, by: Person, kind: str = "mark-the-faults") -> Item:
    """A draft item with a first draft of its key, proposed from the faults the exhibit is said to show."""
    if exhibit.breed_id != edition.breed_id:
        raise Refused(_("The exhibit is of another breed."))
    item = Item.objects.create(edition=edition, exhibit=exhibit, kind=kind, made_by=by)
    key = Key.objects.create(item=item, version=1, sound=exhibit.verdict == "correct", made_by=by)
    if not key.sound:
        KeyEntry.objects.bulk_create(propose_entries(key, exhibit))
    return item


@transaction.atomic
def start_draft(*, item: Item, by: Person) -> Key:
    """The draft in work, or a new one that begins as a copy of the key in use."""
    Item.objects.select_for_update().get(pk=item.pk)
    newest = item.keys.order_by("-version").first()
    if newest is not None and newest.published_at is None:
        return newest
    draft = Key.objects.create(
        item=item,
        version=newest.version + 1 if newest else 1,
        sound=newest.sound if newest else False,
        note=newest.note if newest else "",
        made_by=by,
    )
    for entry in newest.entries.all() if newest else []:
        entry.pk, entry.key = None, draft
        entry.save(force_insert=True)
    return draft


@transaction.atomic
def save_draft(*, key: Key, sound: bool, note: str, entries: list[dict[str, Any]], by: Person) -> Key:
    """Replace a draft's content. `entries` are fields of KeyEntry in order; incomplete ones are kept too."""
    held = Key.objects.select_for_update().get(pk=key.pk)
    if held.published_at is not None:
        raise Refused(_("This version is published; changes go into a new one."))
    held.sound, held.note, held.saved_at, held.made_by = sound, note, timezone.now(), by
    held.save(update_fields=["sound", "note", "saved_at", "made_by"])
    held.entries.all().delete()
    KeyEntry.objects.bulk_create(
        KeyEntry(key=held, position=position, **fields) for position, fields in enumerate(entries)
    )
    return held


@transaction.atomic
def publish_key(*, item: Item, by: Person) -> Key:
    """Put the draft in use; answers marked by an earlier version are marked anew in the background."""
    Item.objects.select_for_update().get(pk=item.pk)
    draft = draft_key(item)
    if draft is None:
        raise Refused(_("There is no draft to publish."))
    missing = kind_of(item).lacks(draft)
    if missing:
        raise NotReady(missing)
    before = published_key(item)
    draft.published_at, draft.made_by = timezone.now(), by
    draft.save(update_fields=["published_at", "made_by"])
    item.state = Item.State.IN_USE
    item.save(update_fields=["state"])
    if before is not None:
        remark_item.enqueue(item.pk)
    return draft


@transaction.atomic
def retire_item(*, item: Item) -> None:
    """Keep an item for its answers but take it out of use."""
    item.state = Item.State.RETIRED
    item.save(update_fields=["state"])
