"""Every change of an edition is one step that can be undone.

A step keeps the rows that the change altered or removed, as they were, and the ids of those that it added.
The rows are found by comparing the whole edition before and after, so that an action cannot forget one.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from courses.models import Clause, Edition, EditionStep, Fault, Section
from courses.queries.uses import uses_of_clauses
from courses.refusals import Refused
from shared.accounts.models import Person
from shared.web.limits import UNDO_STEPS

Row = dict[str, Any]

_SECTION = ["position", "number", "title"]
_CLAUSE = [
    "section_id",
    "position",
    "number",
    "text",
    "zone",
    "severity",
    "severity_confirmed_by_id",
    "severity_confirmed_at",
    "measure",
    "low",
    "high",
    "follows_id",
]


@dataclass(frozen=True)
class Shape:
    """An edition's rows by id, and which fault belongs to which of its clauses."""

    sections: dict[int, Row]
    clauses: dict[int, Row]
    faults: dict[int, int]


@dataclass(frozen=True)
class Undone:
    """What was undone, the sections whose clauses it touched, and whether sections themselves changed."""

    label: str
    sections: frozenset[int]
    reshaped: bool


def shape_of(edition: Edition) -> Shape:
    """The edition as it is now. Three queries."""
    sections = edition.sections.order_by("pk").values("id", *_SECTION)
    clauses = edition.clauses.order_by("pk").values("id", *_CLAUSE)
    faults = Fault.objects.filter(clause__edition=edition).order_by("pk").values_list("pk", "clause_id")
    return Shape(_by_id(sections), _by_id(clauses), dict(faults))


@contextmanager
def changing(edition: Edition, label: str, by: Person, *, wording: bool = True) -> Iterator[Edition]:
    """Do a change within, as one step with this name. `wording` is False for what the club reads from it.

    Raises Refused for a change of wording when the edition is no draft.
    """
    with transaction.atomic():
        held = Edition.objects.select_for_update().get(pk=edition.pk)
        if wording and not held.draft:
            raise Refused(_("The wording of this edition is fixed, since it has been released."))
        before = shape_of(held)
        yield held
        after = shape_of(held)
        if before != after:
            EditionStep.objects.create(
                edition=held, label=label[:120], before=_difference(before, after), made_by=by
            )
            _forget_old(held)


@transaction.atomic
def undo_step(*, edition: Edition, step: int) -> Undone:
    """Take the newest step back. Raises Refused if it is no longer `step`, or if what it added is in use."""
    Edition.objects.select_for_update().get(pk=edition.pk)
    newest = edition.steps.first()
    if newest is None or newest.pk != step:
        raise Refused(_("Something else has been changed since. See what the button says now."))
    kept = newest.before
    touched = _sections_of(edition, kept)
    check_unused(edition.clauses.filter(pk__in=kept["added_clauses"]))
    _restore(Section, _SECTION, kept["sections"], edition)
    _restore(Clause, _CLAUSE, kept["clauses"], edition)
    _restore_faults(kept["faults"])
    edition.clauses.filter(pk__in=kept["added_clauses"]).delete()
    edition.sections.filter(pk__in=kept["added_sections"]).delete()
    newest.delete()
    return Undone(newest.label, touched, bool(kept["sections"] or kept["added_sections"]))


def check_unused(clauses: Any) -> None:
    """Raise Refused where a clause about to be removed is on a plate, an exhibit or in a key."""
    numbers = dict(clauses.values_list("pk", "number"))
    uses = uses_of_clauses(numbers)
    if uses:
        told = "; ".join(f"{number}: {', '.join(uses[pk])}" for pk, number in numbers.items() if pk in uses)
        raise Refused(
            _("Not removed, since it is in use. Take it out there first. %(where)s") % {"where": told}
        )


def _by_id(rows: Any) -> dict[int, Row]:
    return {row.pop("id"): {name: _plain(value) for name, value in row.items()} for row in rows}


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, datetime.datetime) else value


def _difference(before: Shape, after: Shape) -> dict[str, Any]:
    return {
        "sections": _altered(before.sections, after.sections),
        "clauses": _altered(before.clauses, after.clauses),
        "added_sections": [pk for pk in after.sections if pk not in before.sections],
        "added_clauses": [pk for pk in after.clauses if pk not in before.clauses],
        "faults": [[pk, was] for pk, was in before.faults.items() if after.faults.get(pk) != was],
    }


def _altered(before: dict[int, Row], after: dict[int, Row]) -> list[Row]:
    return [{"id": pk, **row} for pk, row in before.items() if after.get(pk) != row]


def _restore(
    model: type[Section] | type[Clause], names: list[str], rows: list[Row], edition: Edition
) -> None:
    found = [
        model(edition=edition, **{name: _told(name, value) for name, value in row.items()}) for row in rows
    ]
    if found:
        fields = [name.removesuffix("_id") for name in names]
        model.objects.bulk_create(found, update_conflicts=True, unique_fields=["id"], update_fields=fields)


def _told(name: str, value: Any) -> Any:
    return datetime.datetime.fromisoformat(value) if value and name.endswith("_at") else value


def _restore_faults(kept: list[list[int]]) -> None:
    faults = {fault.pk: fault for fault in Fault.objects.filter(pk__in=[pk for pk, _was in kept])}
    for pk, was in kept:
        if pk in faults:
            faults[pk].clause_id = was
    Fault.objects.bulk_update(faults.values(), ["clause"])


def _sections_of(edition: Edition, kept: dict[str, Any]) -> frozenset[int]:
    """The sections in which a step's clauses are now, and those to which undoing takes them."""
    clauses = [row["id"] for row in kept["clauses"]] + kept["added_clauses"]
    now = edition.clauses.filter(pk__in=clauses).values_list("section_id", flat=True)
    return frozenset(now) | {row["section_id"] for row in kept["clauses"]}


def _forget_old(edition: Edition) -> None:
    old = edition.steps.values_list("pk", flat=True)[UNDO_STEPS:]
    EditionStep.objects.filter(pk__in=list(old)).delete()
