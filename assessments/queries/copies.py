"""Copies of items: where else one could be copied to, and what became of the clauses on the way."""

from __future__ import annotations

from assessments.models import Item
from assessments.named_clauses import named_in
from courses.models import Edition
from courses.queries.comparison import Compared, compare_editions
from courses.queries.severity import ladder_of


def newer_editions(item: Item) -> list[Edition]:
    """Editions of the breed that were issued after the item's own, drafts among them."""
    edition = item.edition
    later = Edition.objects.filter(breed=edition.breed_id, issued_on__gte=edition.issued_on)
    found = later.exclude(pk=edition.pk).order_by("issued_on", "pk")
    return [each for each in found if (each.issued_on, each.pk) > (edition.issued_on, edition.pk)]


def moved_clauses(item: Item) -> list[Compared]:
    """Of an item copied from an older edition: the clauses that it names and that have changed since, or are
    gone. Its key is to be looked over for them. Empty for any other item."""
    source = item.copied_from
    if source is None or source.edition_id == item.edition_id:
        return []
    named = clauses_of(source)
    rows = compare_editions(source.edition, item.edition, ladder_of(item.edition.breed.club))
    return [
        row for row in rows if row.old and row.old.pk in named and row.state not in ("same", "renumbered")
    ]


def clauses_of(item: Item) -> set[int]:
    """The ids of the clauses that an item names: its own, its newest key's, and those in what it asks."""
    key = item.keys.filter(discarded_at=None).order_by("-version").first()
    entries = key.entries.exclude(clause=None).values_list("clause", flat=True) if key else []
    return {*named_in(item.asking), *named_in(key.content if key else {}), *entries} | (
        {item.clause_id} if item.clause_id else set()
    )
