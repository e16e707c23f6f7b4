"""Where clauses and exhibits are used, so that nothing disappears from under a plate or a key unnoticed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from courses.models import (
    Clause,
    Edition,
    EditionStep,
    Exhibit,
    Fault,
    Module,
    Plate,
    PlateClause,
    Section,
    ShownFault,
)
from shared.web.limits import USES_SHOWN

# Faults go along with a clause by rules of their own; a later edition's clause only remembers its origin.
_NO_USES = (Fault, Clause)
_ITS_OWN = (Section, Clause, EditionStep)
_NUMBERED = {PlateClause: "plate__number", ShownFault: "exhibit__number"}


def uses_of_clauses(clauses: Collection[int]) -> dict[int, list[str]]:
    """Clause to the places that name it, in words. One query for each kind of place, whatever the number."""
    uses: dict[int, list[str]] = {}
    for relation in _relations(Clause, _NO_USES):
        model, name = relation.related_model, relation.field.name
        rows = model.objects.filter(**{f"{name}__in": clauses})
        if number := _NUMBERED.get(model):
            for clause, n in rows.values_list(name, number).order_by(number).distinct():
                uses.setdefault(clause, []).append(_word(model) % {"n": n})
        else:
            for clause, n in Counter(rows.order_by().values_list(name, flat=True)).items():
                uses.setdefault(clause, []).append(f"{model._meta.verbose_name} ({n})")
    return uses


@dataclass(frozen=True)
class ExhibitUses:
    """Where an exhibit stands: its plates, and the modules on whose way they lie."""

    plates: list[Plate]
    modules: list[Module]

    def __bool__(self) -> bool:
        return bool(self.plates or self.modules)


def uses_of_exhibit(exhibit: Exhibit) -> ExhibitUses:
    """Plates and modules that show an exhibit; quizzes are for the other side to say."""
    plates = Plate.objects.filter(exhibits=exhibit).select_related("edition").order_by("edition", "number")
    modules = Module.objects.filter(places__plate__exhibits=exhibit).select_related("course").distinct()
    return ExhibitUses(
        list(plates[:USES_SHOWN]), list(modules.order_by("course", "position", "pk")[:USES_SHOWN])
    )


def uses_of_edition(edition: Edition) -> list[str]:
    """What has been built on an edition, in words: plates, courses, items, a later edition."""
    found = []
    for relation in _relations(Edition, _ITS_OWN):
        model = relation.related_model
        if count := model.objects.filter(**{relation.field.name: edition}).count():
            found.append(
                f"{model._meta.verbose_name if count == 1 else model._meta.verbose_name_plural} ({count})"
            )
    return found


def _relations(model: type, besides: tuple[type, ...]) -> list[Any]:
    return [
        field
        for field in model._meta.get_fields(include_hidden=True)
        if field.one_to_many and field.auto_created and field.related_model not in besides
    ]


def _word(model: type) -> str:
    return _("plate %(n)s") if model is PlateClause else _("exhibit %(n)s")
