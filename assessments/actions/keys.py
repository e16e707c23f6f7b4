"""The versions of an item's key."""

from __future__ import annotations

import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.items import kind_of
from assessments.items.panel import unexplained
from assessments.models import Item, Key, KeyEntry, Notice
from assessments.queries.evidence import upheld_of
from assessments.queries.quizzes import draft_key, published_key
from assessments.rules import NotReady, Refused
from assessments.tasks import remark_item
from shared.accounts.models import Person


class DraftOvertaken(Exception):
    """A later save has been made in another window; `key` is what is kept."""

    def __init__(self, key: Key) -> None:
        super().__init__(_("This draft was changed in another window."))
        self.key = key


@transaction.atomic
def start_draft(*, item: Item, by: Person) -> Key:
    """The draft in work, or a new one that begins as a copy of the key in use."""
    _hold(item)
    standing = item.keys.filter(discarded_at=None)
    newest = standing.order_by("-version").first()
    if newest is not None and newest.published_at is None:
        return newest
    draft = Key.objects.create(
        item=item,
        version=newest.version + 1 if newest else 1,
        sound=newest.sound if newest else False,
        note=newest.note if newest else "",
        panel=newest.panel if newest else None,
        agreement=newest.agreement if newest else None,
        fit=newest.fit if newest else "",
        content=newest.content if newest else {},
        made_by=by,
    )
    for entry in newest.entries.all() if newest else []:
        entry.pk, entry.key = None, draft
        entry.save(force_insert=True)
    return draft


@transaction.atomic
def save_draft(
    *,
    key: Key,
    sound: bool,
    note: str,
    entries: list[dict[str, Any]] | None = None,
    content: dict[str, Any] | None = None,
    by: Person,
    seen: int | None = None,
    identity: uuid.UUID | None = None,
) -> Key:
    """Replace a draft. `entries` are fields of KeyEntry in order, `content` is in the kind's shape; what is
    incomplete is kept too.

    `seen` is the revision that the page knows: DraftOvertaken is raised with what is kept if another window
    has saved since. The newest `identity` again changes nothing. Refused once it is published or discarded.
    """
    held = Key.objects.select_for_update().get(pk=key.pk)
    _refuse_unless_draft(held)
    if identity is not None and identity == held.last_save:
        return held
    if seen is not None and seen != held.revision:
        raise DraftOvertaken(held)
    held.sound, held.note, held.content = sound, note, content or {}
    held.saved_at, held.made_by = timezone.now(), by
    held.revision, held.last_save = held.revision + 1, identity
    held.save(update_fields=["sound", "note", "content", "saved_at", "made_by", "revision", "last_save"])
    held.entries.all().delete()
    KeyEntry.objects.bulk_create(
        KeyEntry(key=held, position=position, **fields) for position, fields in enumerate(entries or [])
    )
    return held


@transaction.atomic
def discard_draft(*, item: Item) -> Key:
    """Leave a draft be. It can be taken back until the next one is discarded; the key in use stays."""
    draft = _held_draft(item)
    if draft is None:
        raise Refused(_("There is no draft to discard."))
    if published_key(item) is None:
        raise Refused(_("This is the item’s only key. Change it, or retire the item."))
    item.keys.exclude(discarded_at=None).delete()
    draft.discarded_at = timezone.now()
    draft.save(update_fields=["discarded_at"])
    return draft


@transaction.atomic
def take_back_draft(*, item: Item) -> Key:
    """Go on with the draft that was discarded last."""
    _hold(item)
    discarded = item.keys.exclude(discarded_at=None).first()
    if discarded is None:
        raise Refused(_("There is no discarded draft to take back."))
    if draft_key(item) is not None:
        raise Refused(_("Another draft was begun since. Discard that one first."))
    discarded.discarded_at = None
    discarded.version = published_key(item).version + 1
    discarded.save(update_fields=["discarded_at", "version"])
    return discarded


@transaction.atomic
def publish_key(*, item: Item, by: Person, seen: int | None = None) -> Key:
    """Put the draft in use; answers marked by an earlier version are marked anew in the background.

    `seen` is the revision that was looked at: DraftOvertaken if another window has saved since.
    """
    draft = _held_draft(item)
    if draft is None:
        raise Refused(_("There is no draft to publish."))
    if seen is not None and seen != draft.revision:
        raise DraftOvertaken(draft)
    kind = kind_of(item)
    missing = kind.lacks(draft) or unexplained(kind.panel, draft)
    if missing:
        raise NotReady(missing)
    if draft.sound:
        draft.entries.all().delete()
    before = published_key(item)
    _tell_whose_query_is_taken_up(item)
    draft.published_at, draft.made_by = timezone.now(), by
    draft.fit = kind.fit_of(draft) or draft.fit
    draft.save(update_fields=["published_at", "made_by", "fit"])
    item.state = Item.State.IN_USE
    item.save(update_fields=["state"])
    if before is not None:
        remark_item.enqueue(item.pk)
    return draft


@transaction.atomic
def mark_the_rest(*, item: Item) -> None:
    """Set the marking anew going again where it stood still; what is done already is passed over."""
    remark_item.enqueue(item.pk)


def _tell_whose_query_is_taken_up(item: Item) -> None:
    """Those whose upheld queries have waited for this version."""
    words = _("The key that you queried has a new version: %(quiz)s, item %(n)d.")
    Notice.objects.bulk_create(
        Notice(
            member_id=query.answer.sitting.trainee_id,
            answer=query.answer,
            text=words % {"quiz": query.answer.sitting.quiz.title, "n": query.answer.position + 1},
        )
        for query in upheld_of(item)
    )


def _hold(item: Item) -> None:
    """Lock the item's row until the transaction ends, and see its keys as they are now."""
    Item.objects.select_for_update().get(pk=item.pk)
    getattr(item, "_prefetched_objects_cache", {}).pop("keys", None)


def _held_draft(item: Item) -> Key | None:
    """The item's draft, locked as well, so that nobody saves between a look at it and what follows."""
    _hold(item)
    draft = draft_key(item)
    return draft and Key.objects.select_for_update().get(pk=draft.pk)


def _refuse_unless_draft(key: Key) -> None:
    if key.published_at is not None:
        raise Refused(_("This version is published; changes go into a new one."))
    if key.discarded_at is not None:
        raise Refused(_("This draft was discarded."))
