"""The club's list of faults."""

from __future__ import annotations

from django.db.models import ProtectedError, QuerySet
from django.utils.translation import gettext as _

from courses.models import Breed, Edition, Fault, ShownFault
from courses.queries.standard import edition_in_force
from shared.web.limits import FAULTS_PER_BREED


def faults_of(breed: Breed) -> QuerySet[Fault]:
    """The whole list, by name, each with its clause and that clause's edition."""
    return breed.faults.select_related("clause__edition").order_by("name")


def find_faults(breed: Breed, words: str, limit: int = FAULTS_PER_BREED) -> list[Fault]:
    """Faults whose names, virtue or clause number hold every word typed; names that begin so first.

    Searched here and not in the database: the list is short, and other names are kept as JSON.
    """
    asked = words.casefold().split()
    found = [fault for fault in faults_of(breed)[:FAULTS_PER_BREED] if _holds(fault, asked)]
    start = words.strip().casefold()
    return sorted(
        found, key=lambda fault: (not fault.name.casefold().startswith(start), fault.name.casefold())
    )[:limit]


def edition_for_faults(breed: Breed) -> Edition | None:
    """The edition to whose clauses faults are tied: the one in force, or the newest draft before that."""
    return edition_in_force(breed) or breed.editions.order_by("-pk").first()


def uses_told(error: ProtectedError) -> str:
    """Where the rows are that keep a fault from being removed, in words."""
    exhibits, others = set(), {}
    for row in error.protected_objects:
        if isinstance(row, ShownFault):
            exhibits.add(row.exhibit.number)
        else:
            name = str(row._meta.verbose_name)
            others[name] = others.get(name, 0) + 1
    told = [_("exhibit %(n)s") % {"n": number} for number in sorted(exhibits)]
    return ", ".join([*told, *(f"{name} ({count})" for name, count in sorted(others.items()))])


def _holds(fault: Fault, asked: list[str]) -> bool:
    number = fault.clause.number if fault.clause else ""
    text = " ".join([fault.name, fault.virtue, number, *fault.other_names]).casefold()
    return all(word in text for word in asked)
