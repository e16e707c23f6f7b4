"""Where clauses are used, so that nothing disappears from under a plate or a key."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from typing import Any

from django.utils.translation import gettext as _

from courses.models import Clause, Edition, EditionStep, Fault, PlateClause, Section, ShownFault

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
