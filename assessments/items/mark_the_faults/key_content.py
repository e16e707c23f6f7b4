"""The shape in which a key is drawn up, checked before it is kept.

    {"sound": bool, "note": str, "entries": [{"fault": id, "clause": id, "level": 0…n-1, "whole_dog": bool,
     "regions": [[[x, y], …], …], "also": [{"fault": id, "credit": 0…1}, …]}, …]}

A draft may leave things out (None, an empty list); what it says must be right. Nothing is kept of a draft
with one wrong entry: what is wrong is said of each by its letter, and the page still holds it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.kind import KeyRefused
from assessments.items.mark_the_faults.vocabulary import called, faults_of
from assessments.items.reading import credit_of, key_parts, note_of, refused, rows_of
from assessments.models import Item, Key
from assessments.rules import letter
from assessments.snapshots import Sought
from courses.models import Clause, Exhibit, Fault
from shared.geometry.outlines import Canvas, OutlineRefused, read_outlines
from shared.web.limits import FAULTS_PER_KEY, NAMES_ACCEPTED, REGION_POINTS, REGIONS_PER_FAULT


@dataclass
class _Draft:
    """What is read so far, and what is wrong with it."""

    item: Item
    levels: int
    faults: dict[int, Fault]
    clauses: dict[int, Clause]
    sought: Sought
    wrong: list[tuple[int, str]] = field(default_factory=list)

    def refuse(self, place: int, words: str) -> None:
        self.wrong.append((place, f"{letter(place)}: {words}"))


def read_key(sent: object, item: Item, levels: int, sought: Sought = "fault") -> dict[str, Any]:
    """`sound`, `note` and `entries` (fields of KeyEntry) for `save_draft`; KeyRefused where they cannot be."""
    parts = key_parts(sent)
    rows = parts.get("entries")
    if isinstance(rows, list) and len(rows) > FAULTS_PER_KEY:
        raise refused(_("A key holds at most %(n)d faults.") % {"n": FAULTS_PER_KEY})
    rows = rows_of(rows, FAULTS_PER_KEY)
    draft = _Draft(item, levels, *_named(rows, item, sought), sought)
    entries = [_read_entry(draft, place, row) for place, row in enumerate(rows)]
    if draft.wrong:
        raise KeyRefused(draft.wrong)
    return {"sound": parts.get("sound") is True, "note": note_of(parts), "entries": entries}


def kept_key(key: Key) -> dict[str, Any]:
    """The same shape from rows, for the page."""
    return {
        "sound": key.sound,
        "note": key.note,
        "entries": [
            {
                "fault": row.fault_id,
                "clause": row.clause_id,
                "level": row.level,
                "whole_dog": row.whole_dog,
                "regions": row.regions,
                "also": row.also,
            }
            for row in key.entries.all()
        ],
    }


def _named(
    rows: list[dict[str, Any]], item: Item, sought: Sought
) -> tuple[dict[int, Fault], dict[int, Clause]]:
    """The breed's faults and the edition's clauses that are named, by their ids."""
    also = [other for row in rows for other in _list(row.get("also")) if isinstance(other, dict)]
    faults = [one for row in [*rows, *also] if (one := _id(row.get("fault"))) is not None]
    clauses = [one for row in rows if (one := _id(row.get("clause"))) is not None]
    return (
        faults_of(item.edition.breed_id, sought).in_bulk(faults),
        Clause.objects.filter(edition=item.edition_id).in_bulk(clauses),
    )


def _read_entry(draft: _Draft, place: int, row: dict[str, Any]) -> dict[str, Any]:
    fault = _read_fault(draft, place, row.get("fault"))
    whole_dog, regions = row.get("whole_dog") is True, _read_regions(draft, place, row.get("regions"))
    if whole_dog and regions:
        draft.refuse(place, _("a fault of the whole dog has no region."))
    return {
        "fault": fault,
        "clause": _read_clause(draft, place, row.get("clause")),
        "zone": fault.zone if fault else "",
        "level": _read_level(draft, place, row.get("level")),
        "whole_dog": whole_dog,
        "regions": regions,
        "also": _read_also(draft, place, row.get("also"), fault),
    }


def _read_fault(draft: _Draft, place: int, sent: object) -> Fault | None:
    fault = draft.faults.get(_id(sent))
    if sent is not None and fault is None:
        draft.refuse(place, _("the fault is not on the club’s list. Choose another."))
    return fault


def _read_clause(draft: _Draft, place: int, sent: object) -> Clause | None:
    clause = draft.clauses.get(_id(sent))
    if sent is not None and clause is None:
        draft.refuse(place, _("the clause is not in this item’s edition. Choose another."))
    return clause


def _read_level(draft: _Draft, place: int, sent: object) -> int | None:
    if sent is None or (_id(sent) is not None and sent < draft.levels):
        return sent
    draft.refuse(place, _("the severity is not on the club’s ladder. Weigh it again."))
    return None


def _read_regions(draft: _Draft, place: int, sent: object) -> list[list[list[float]]]:
    try:
        return read_outlines([] if sent is None else sent, canvas_of(draft.item.exhibit))
    except OutlineRefused as refused:
        draft.refuse(place, refusal(refused))
        return []


def _read_also(draft: _Draft, place: int, sent: object, fault: Fault | None) -> list[dict[str, Any]]:
    rows, kept = _list(sent), {}
    if sent is not None and not isinstance(sent, list):
        draft.refuse(place, _("its accepted names could not be read."))
    if len(rows) > NAMES_ACCEPTED:
        draft.refuse(place, _("at most %(n)d other names are accepted.") % {"n": NAMES_ACCEPTED})
        return []
    for row in rows:
        other = draft.faults.get(_id(row.get("fault"))) if isinstance(row, dict) else None
        if other is None:
            draft.refuse(place, _("an accepted name is not on the club’s list."))
        elif wrong := _wrong_with(other, row, fault, kept, draft.sought):
            draft.refuse(place, wrong % {"name": called(other, draft.sought)})
        else:
            kept[other.pk] = {"fault": other.pk, "credit": round(float(row["credit"]), 3)}
    return list(kept.values())


def _wrong_with(
    other: Fault, row: dict[str, Any], fault: Fault | None, kept: dict[int, Any], sought: Sought
) -> str:
    if other == fault:
        itself = {"fault": _("the fault itself"), "virtue": _("the virtue itself")}[sought]
        return _("“%(name)s” is {itself} and has all the credit.").format(itself=itself)
    if other.pk in kept:
        return _("“%(name)s” is accepted twice.")
    if credit_of(row.get("credit")) is not None:
        return ""
    return _("the credit for “%(name)s” must lie between 0 and 1.")


def canvas_of(exhibit: Exhibit) -> Canvas:
    """How much may be drawn on an exhibit for one fault."""
    return Canvas(exhibit.width, exhibit.height, most=REGIONS_PER_FAULT, corners=REGION_POINTS)


def refusal(refused: OutlineRefused) -> str:
    """Why an outline is not taken, in words that follow the entry's letter."""
    return {
        "unreadable": _("its region could not be read. Draw it again."),
        "many": _("one fault has at most %(n)d regions."),
        "few": _("a region has at least three corners."),
        "corners": _("an outline has at most %(corners)d corners."),
        "outside": _("its region reaches beyond the picture. Move it inside."),
        "crossing": _("the outline of its region crosses or touches itself. Move a corner."),
    }[refused.code] % {"n": REGIONS_PER_FAULT, "corners": REGION_POINTS}


def _list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []


def _id(value: object) -> int | None:
    """A whole number from 0 that a database can hold."""
    return value if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 2**62 else None
