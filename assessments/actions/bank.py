"""What is done with many items of the bank at once, each with the way back; and copies to work on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.actions.quizzes import add_item
from assessments.items import kind_of
from assessments.models import Item, ItemExhibit, Key, KeyEntry, Quiz, QuizItem
from assessments.named_clauses import followed
from assessments.rules import Refused
from courses.models import Clause, Edition
from courses.queries.comparison import successors
from shared.accounts.models import Club, Person


@dataclass(frozen=True)
class Done:
    """What was done, in words, and what takes it back: `back` is given to `take_back` as it is."""

    said: str
    back: dict[str, Any]


@transaction.atomic
def retire_items(*, items: Sequence[Item]) -> Done:
    """Out of use in every quiz; their answers and marks stay."""
    turned = [item for item in items if item.state != Item.State.RETIRED]
    before = {item.pk: item.state for item in turned}
    Item.objects.filter(pk__in=before).update(state=Item.State.RETIRED)
    said = ngettext("One item retired.", "%(n)d items retired.", len(before))
    return Done(said % {"n": len(before)}, {"what": "states", "before": before})


@transaction.atomic
def bring_back_items(*, items: Sequence[Item]) -> Done:
    """Retired items into use again, or among the drafts where no key was ever published."""
    turned = [item for item in items if item.state == Item.State.RETIRED]
    before = {item.pk: item.state for item in turned}
    keyed = set(Key.objects.filter(item__in=before).exclude(published_at=None).values_list("item", flat=True))
    Item.objects.filter(pk__in=keyed).update(state=Item.State.IN_USE)
    Item.objects.filter(pk__in=before.keys() - keyed).update(state=Item.State.DRAFT)
    said = ngettext("One item is back.", "%(n)d items are back.", len(before))
    return Done(said % {"n": len(before)}, {"what": "states", "before": before})


@transaction.atomic
def add_items(*, quiz: Quiz, items: Sequence[Item]) -> Done:
    """At the end of a quiz, once each."""
    held = set(quiz.quiz_items.values_list("item", flat=True))
    if any(item.state == Item.State.RETIRED for item in items):
        raise Refused(_("A retired item is asked nowhere. Bring it back first, or leave it out."))
    added = [add_item(quiz=quiz, item=item).item_id for item in items if item.pk not in held]
    said = ngettext("One item added to “%(quiz)s”.", "%(n)d items added to “%(quiz)s”.", len(added))
    back = {"what": "added", "quiz": quiz.pk, "items": added}
    return Done(said % {"n": len(added), "quiz": quiz.title}, back)


@transaction.atomic
def file_items(*, items: Sequence[Item], clause: Clause) -> Done:
    """Say which clause items are about. One whose key is published keeps the clause that it has."""
    if any(item.edition_id != clause.edition_id for item in items):
        raise Refused(_("The clause is of another edition than an item that is ticked."))
    keyed = set(Key.objects.filter(item__in=items).exclude(published_at=None).values_list("item", flat=True))
    fixed = [item.pk for item in items if item.clause_id and item.pk in keyed]
    if fixed:
        raise Refused(
            _("Item %(items)s: its key is published, so it keeps its clause.")
            % {"items": ", ".join(map(str, fixed))}
        )
    before = {item.pk: item.clause_id for item in items}
    Item.objects.filter(pk__in=before).update(clause=clause)
    said = ngettext("One item filed under %(n)s.", "%(count)d items filed under %(n)s.", len(before))
    return Done(said % {"count": len(before), "n": clause.number}, {"what": "clauses", "before": before})


@transaction.atomic
def title_items(*, items: Sequence[Item], title: str) -> Done:
    """By which educators find them again."""
    before = {item.pk: item.title for item in items}
    Item.objects.filter(pk__in=before).update(title=title)
    said = ngettext("One item is called “%(title)s”.", "%(n)d items are called “%(title)s”.", len(before))
    return Done(said % {"n": len(before), "title": title}, {"what": "titles", "before": before})


@transaction.atomic
def copy_items_to(*, items: Sequence[Item], edition: Edition, by: Person) -> Done:
    """A draft copy of each in another edition of its breed; see `copy_to_edition`."""
    known: dict[int, dict[int, int]] = {}
    copies = [copy_to_edition(item=item, edition=edition, by=by, known=known).pk for item in items]
    said = ngettext(
        "One draft copy made for %(edition)s.", "%(n)d draft copies made for %(edition)s.", len(copies)
    )
    return Done(said % {"n": len(copies), "edition": edition.title}, {"what": "copies", "items": copies})


@transaction.atomic
def take_back(*, club: Club, back: Mapping[str, Any]) -> None:
    """Undo what a Done says. What was changed again in the meantime is put back all the same, but a copy on
    which somebody has worked, and an item that is asked by now, stay."""
    if back["what"] == "added":
        QuizItem.objects.filter(
            quiz=back["quiz"], quiz__edition__breed__club=club, item__in=back["items"]
        ).delete()
        return
    if back["what"] == "copies":
        untouched = Item.objects.filter(edition__breed__club=club, pk__in=back["items"], state="draft")
        untouched = untouched.exclude(keys__revision__gt=0).filter(quiz_items=None, answers=None)
        untouched.delete()
        return
    field = {"states": "state", "clauses": "clause_id", "titles": "title"}[back["what"]]
    before = {int(pk): value for pk, value in back["before"].items()}
    items = list(Item.objects.filter(edition__breed__club=club, pk__in=before))
    for item in items:
        setattr(item, field, before[item.pk])
    Item.objects.bulk_update(items, [field.removesuffix("_id")])


@transaction.atomic
def copy_item(*, item: Item, by: Person) -> Item:
    """A draft that asks the same, with the newest key as its draft key. What is in use is not touched."""
    return _copy(item, item.edition, by, lambda clause: clause)


@transaction.atomic
def copy_to_edition(
    *, item: Item, edition: Edition, by: Person, known: dict[int, dict[int, int]] | None = None
) -> Item:
    """A draft copy in another edition of the breed, its clauses followed where they live on there.

    Where a clause is gone the copy says none, and its key lacks one until it is chosen. `known` keeps what
    the clauses of an edition became, for whoever copies many.
    """
    if edition.breed_id != item.edition.breed_id:
        raise Refused(_("The edition is of another breed."))
    if edition.pk == item.edition_id:
        raise Refused(_("Item %(n)d is of that edition already.") % {"n": item.pk})
    if (edition.issued_on, edition.pk) < (item.edition.issued_on, item.edition_id):
        raise Refused(_("Item %(n)d is of a newer edition than that.") % {"n": item.pk})
    kept = {} if known is None else known
    if item.edition_id not in kept:
        kept[item.edition_id] = successors(item.edition, edition)
    return _copy(item, edition, by, kept[item.edition_id].get)


def _copy(item: Item, edition: Edition, by: Person, follow: Callable[[int], int | None]) -> Item:
    made = Item.objects.create(
        edition=edition,
        kind=item.kind,
        title=item.title,
        exhibit_id=item.exhibit_id,
        clause_id=item.clause_id and follow(item.clause_id),
        asking=followed(item.asking, follow),
        copied_from=item,
        made_by=by,
    )
    ItemExhibit.objects.bulk_create(
        ItemExhibit(item=made, exhibit_id=row.exhibit_id, position=row.position)
        for row in item.item_exhibits.all()
    )
    newest = item.keys.filter(discarded_at=None).order_by("-version").first()
    if newest is None:
        kind_of(made).first_key(Key.objects.create(item=made, version=1, made_by=by))
        return made
    draft = Key.objects.create(
        item=made,
        version=1,
        sound=newest.sound,
        note=newest.note,
        content=followed(newest.content, follow),
        made_by=by,
    )
    _copy_entries(newest, draft, follow)
    return made


def _copy_entries(key: Key, draft: Key, follow: Callable[[int], int | None]) -> None:
    rows = list(key.entries.all())
    for row in rows:
        row.pk, row.key = None, draft
        row.clause_id = row.clause_id and follow(row.clause_id)
    KeyEntry.objects.bulk_create(rows)
