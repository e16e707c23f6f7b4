"""Items: made, asked otherwise while nobody has answered, retired and brought back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from assessments.items import KINDS, kind_of
from assessments.models import Item, ItemExhibit, Key
from assessments.queries.quizzes import published_key
from assessments.rules import Refused
from courses.models import Clause, Edition, Exhibit
from shared.accounts.models import Person


@transaction.atomic
def make_item(
    *,
    edition: Edition,
    by: Person,
    kind: str = "mark-the-faults",
    exhibit: Exhibit | None = None,
    exhibits: Sequence[Exhibit] = (),
    asking: dict[str, Any] | None = None,
    title: str = "",
    clause: Clause | None = None,
) -> Item:
    """A draft item with a first draft of its key, as its kind proposes it."""
    shown = list(exhibits) or [each for each in [exhibit] if each is not None]
    _check(edition, KINDS[kind].exhibits, shown, clause)
    item = Item.objects.create(
        edition=edition, kind=kind, title=title, clause=clause, asking=asking or {}, made_by=by
    )
    _show(item, shown)
    KINDS[kind].first_key(Key.objects.create(item=item, version=1, made_by=by))
    return item


@transaction.atomic
def change_asking(
    *,
    item: Item,
    exhibits: Sequence[Exhibit],
    asking: dict[str, Any],
    title: str,
    clause: Clause | None,
    by: Person,
) -> Item:
    """Ask otherwise, while no key was published and no panel asked; its draft key begins anew.

    The title changes at any time.
    """
    held = Item.objects.select_for_update(of=("self",)).select_related("edition").get(pk=item.pk)
    now = [row.exhibit for row in held.item_exhibits.select_related("exhibit")] or [
        each for each in [held.exhibit] if each is not None
    ]
    held.title = title
    if (list(exhibits), asking, clause) != (now, held.asking, held.clause):
        if held.keys.exclude(published_at=None).exists():
            raise Refused(_("Its key is published: what is asked stays. Make a copy to ask otherwise."))
        if held.key_panels.exists():
            raise Refused(
                _("A panel has been asked about it: what is asked stays. Make a copy to ask otherwise.")
            )
        _check(held.edition, kind_of(held).exhibits, exhibits, clause)
        held.asking, held.clause = asking, clause
        held.item_exhibits.all().delete()
        _show(held, exhibits)
        held.keys.all().delete()
        kind_of(held).first_key(Key.objects.create(item=held, version=1, made_by=by))
    held.save(update_fields=["title", "asking", "clause"])
    return held


def _check(
    edition: Edition, allowed: tuple[int, int], exhibits: Sequence[Exhibit], clause: Clause | None
) -> None:
    if any(exhibit.breed_id != edition.breed_id for exhibit in exhibits):
        raise Refused(_("The exhibit is of another breed."))
    if not allowed[0] <= len(exhibits) <= allowed[1]:
        raise Refused(
            _("This kind of item shows %(least)d to %(most)d exhibits.")
            % {"least": allowed[0], "most": allowed[1]}
        )
    if clause is not None and clause.edition_id != edition.pk:
        raise Refused(_("The clause is of another edition."))


def _show(item: Item, exhibits: Sequence[Exhibit]) -> None:
    """The first exhibit stands in the item itself; of several, all of them in their order as well."""
    item.exhibit = exhibits[0] if exhibits else None
    item.save(update_fields=["exhibit"])
    if kind_of(item).exhibits[1] > 1:
        ItemExhibit.objects.bulk_create(
            ItemExhibit(item=item, exhibit=exhibit, position=place) for place, exhibit in enumerate(exhibits)
        )


@transaction.atomic
def retire_item(*, item: Item) -> None:
    """Keep an item for its answers but take it out of use."""
    item.state = Item.State.RETIRED
    item.save(update_fields=["state"])


@transaction.atomic
def bring_back_item(*, item: Item) -> None:
    """Put a retired item in use again, or back among the drafts if its key was never published."""
    item.state = Item.State.IN_USE if published_key(item) else Item.State.DRAFT
    item.save(update_fields=["state"])
