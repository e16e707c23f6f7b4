"""The club's list as a kind calls it: faults by their names, or the virtues that are their opposites."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import QuerySet

from assessments.snapshots import CALLED, Sought
from courses.models import Fault


def faults_of(breed_id: int, sought: Sought) -> QuerySet[Fault]:
    """The breed's faults, with their clauses, by what they are called; for virtues those that have one."""
    rows = Fault.objects.filter(breed_id=breed_id).select_related("clause")
    return rows.exclude(**{CALLED[sought]: ""}).order_by(CALLED[sought], "pk")


def listed(breed_id: int, sought: Sought) -> list[Fault]:
    """One row for each name: of several faults with one opposite the first stands for the virtue."""
    return list(
        {called(fault, sought): fault for fault in reversed(list(faults_of(breed_id, sought)))}.values()
    )[::-1]


def as_listed(rows: Iterable[dict[str, Any]], breed_id: int, sought: Sought) -> list[dict[str, Any]]:
    """Pins or entries, each naming the row of the list that stands for its virtue; faults stand for themselves."""
    kept = [dict(row) for row in rows]
    if sought == "fault" or not any(row["fault"] for row in kept):
        return kept
    names = {fault.pk: called(fault, sought) for fault in faults_of(breed_id, sought)}
    first = {name: pk for pk, name in reversed(names.items())}
    for row in kept:
        row["fault"] = first.get(names.get(row["fault"], ""), row["fault"])
    return kept


def called(fault: Fault, sought: Sought) -> str:
    """What the kind calls it."""
    return str(getattr(fault, CALLED[sought]))
