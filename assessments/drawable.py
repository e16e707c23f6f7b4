"""The bank from which papers are drawn: items in use of an edition, fit for an examination, by section and kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch

from assessments.items import KINDS, kind_of
from assessments.lots import Ticket
from assessments.models import Item, Key
from assessments.models.fit import Fit
from assessments.queries.evidence import keys_in_use
from assessments.queries.items import askable_items
from assessments.rules import PlanRow
from courses.models import Edition, Section

ANY_SECTION = None


@dataclass(frozen=True)
class BankItem:
    """An item that may be drawn: the sections that its key touches, whether it is sound, what it shows."""

    item: Item
    sections: frozenset[int]
    sound: bool
    exhibits: frozenset[int]

    def fits(self, row: PlanRow) -> bool:
        """Whether it can stand in a row of the plan."""
        if self.item.kind != row.kind or self.sound != row.sound:
            return False
        return row.sound or (row.section in self.sections if row.section else not self.sections)


@dataclass(frozen=True)
class Bank:
    """What there is to draw from, and how many items of the edition are in use but not fit."""

    items: list[BankItem]
    unfit: int

    def tickets(self, plan: Iterable[PlanRow]) -> list[Ticket]:
        """The items with the rows of the plan that each fits."""
        rows = list(enumerate(plan))
        return [
            Ticket(each.item.pk, frozenset(n for n, row in rows if each.fits(row)), each.exhibits)
            for each in self.items
        ]

    def available(self) -> Counter[tuple[int | None, str, bool]]:
        """How many items there are by (section, kind, sound); one of two sections counts in both."""
        counts: Counter[tuple[int | None, str, bool]] = Counter()
        for each in self.items:
            for section in (each.sections if not each.sound else ()) or (ANY_SECTION,):
                counts[section, each.item.kind, each.sound] += 1
        return counts

    def kinds(self) -> list[str]:
        """The kinds of which there is any item, in their usual order."""
        held = {each.item.kind for each in self.items}
        return [name for name in KINDS if name in held]


def bank_of(edition: Edition, on: date) -> Bank:
    """All of an edition's items that an examination on this day may ask."""
    found = (
        askable_items(on)
        .filter(edition=edition)
        .select_related("clause")
        .prefetch_related(Prefetch("keys", keys_in_use(), to_attr="in_use"), "item_exhibits")
        .order_by("pk")
    )
    usable = [item for item in found if item.in_use]
    fit = [item for item in usable if fit_for_examination(item, item.in_use[0])]
    return Bank([_bank_item(item, item.in_use[0]) for item in fit], len(usable) - len(fit))


def fit_for_examination(item: Item, key: Key) -> bool:
    """Whether its panel holds the key fit; a kind that need not rest on a panel is asked without one."""
    return key.fit == Fit.EXAMINATION or (not key.fit and not kind_of(item).panelled)


def sections_of(edition: Edition) -> list[Section]:
    """The edition's sections in order."""
    return list(edition.sections.all())


def _bank_item(item: Item, key: Key) -> BankItem:
    """An item is of the sections of its key's clauses, or of the clause that it is about."""
    clauses = [entry.clause for entry in key.entries.all() if entry.clause] or [item.clause]
    sections = {clause.section_id for clause in clauses if clause}
    exhibits = {item.exhibit_id, *(each.exhibit_id for each in item.item_exhibits.all())} - {None}
    return BankItem(item, frozenset(sections), key.sound, frozenset(exhibits))
