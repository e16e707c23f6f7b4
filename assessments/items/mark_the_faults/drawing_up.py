"""What the browser is given to draw up a key: the club's faults, the edition's clauses with their readings."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far
from assessments.items.mark_the_faults.key_content import kept_key
from assessments.items.mark_the_faults.vocabulary import as_listed, called, listed
from assessments.models import Key
from assessments.rules import letter
from assessments.snapshots import Sought
from courses.models import Clause, Edition, Fault, SeverityScale
from courses.models.choices import Zone
from courses.queries.severity import Readings, ladder_of, reading_of, readings_of
from shared.prose.markdown import render_clause
from shared.web.limits import FAULTS_PER_KEY, NAMES_ACCEPTED, REGION_POINTS, REGIONS_PER_FAULT


def drawn_up(key: Key, sought: Sought = "fault") -> dict[str, Any]:
    """All that the key page's script needs. Expects `key.item.edition.breed.club` at hand."""
    edition = key.item.edition
    scale, readings = ladder_of(edition.breed.club), readings_of(edition.breed)
    clauses, content = list(edition.clauses.all()), kept_key(key)
    content["entries"] = as_listed(content["entries"], edition.breed_id, sought)
    return {
        "faults": fault_rows(edition, clauses, len(scale), sought=sought),
        "clauses": clause_rows(clauses, scale, readings),
        "levels": list(scale.labels),
        "most": limits(),
        **drafted_so_far(key, content),
    }


def limits() -> dict[str, int]:
    """How much one key may hold."""
    return {
        "entries": FAULTS_PER_KEY,
        "regions": REGIONS_PER_FAULT,
        "corners": REGION_POINTS,
        "also": NAMES_ACCEPTED,
    }


def shown(key: Key, sought: Sought = "fault") -> list[dict[str, Any]]:
    """A published key's entries for its read-only page."""
    also = [other["fault"] for row in key.entries.all() for other in row.also]
    names = Fault.objects.in_bulk(also)
    return [
        {
            "letter": letter(place),
            "fault": called(row.fault, sought),
            "clause": row.clause,
            "level": row.level,
            "whole_dog": row.whole_dog,
            "regions": row.regions,
            "also": [
                (called(names[other["fault"]], sought), other["credit"])
                for other in row.also
                if other["fault"] in names
            ],
        }
        for place, row in enumerate(key.entries.all())
    ]


def fault_rows(
    edition: Edition,
    clauses: list[Clause],
    levels: int,
    first: Collection[str] = (),
    sought: Sought = "fault",
) -> list[dict[str, Any]]:
    """The club's list, each fault with its clause in this edition and its usual severity, where it has them.

    By name; faults of the zones that come `first` before the others.
    """
    numbers = {clause.pk: clause.number for clause in clauses}
    following = {clause.follows_id: clause.pk for clause in clauses if clause.follows_id}
    labels = dict(Zone.choices)
    faults = []
    for row in sorted(listed(edition.breed_id, sought), key=lambda row: row.zone not in first):
        clause = _in_edition(row.clause, numbers, following)
        faults.append(
            {
                "id": row.pk,
                "name": called(row, sought),
                "other_names": row.other_names if sought == "fault" else [],
                "zone": str(labels[row.zone]),
                "clause": numbers.get(clause, ""),
                "clause_id": clause,
                "level": row.level if row.level < levels else None,
            }
        )
    return faults


def _in_edition(clause: Clause | None, numbers: dict[int, str], following: dict[int, int]) -> int | None:
    """The fault's clause if it is of this edition, else the one that came from it or from which it came."""
    if clause is None or clause.pk in numbers:
        return clause and clause.pk
    return following.get(clause.pk) or (clause.follows_id if clause.follows_id in numbers else None)


def clause_rows(clauses: list[Clause], scale: SeverityScale, readings: Readings) -> list[dict[str, Any]]:
    """The edition's clauses, each with how the club reads it."""
    return [_clause(clause, scale, readings) for clause in clauses]


def _clause(clause: Clause, scale: SeverityScale, readings: Readings) -> dict[str, Any]:
    level, words = _reading(clause, scale, readings)
    return {
        "id": clause.pk,
        "number": clause.number,
        "plain": clause.text,
        "text": render_clause(clause.text, readings=dict(readings)),
        "level": level,
        "reading": words,
    }


def _reading(clause: Clause, scale: SeverityScale, readings: Readings) -> tuple[int | None, str]:
    """The level that the club reads from a clause, as it was confirmed or else from its words, and a sentence."""
    read = reading_of(clause.text, readings, scale)
    confirmed = clause.severity_confirmed_at is not None
    if read and (not confirmed or clause.severity == read.level):
        values = {"phrase": read.phrase, "number": clause.number, "level": scale.label(read.level)}
        return read.level, _("The club reads “%(phrase)s” in %(number)s as %(level)s.") % values
    if confirmed and clause.severity is not None:
        values = {"number": clause.number, "level": scale.label(clause.severity)}
        return clause.severity, _("The club weighs %(number)s as %(level)s.") % values
    return None, ""
