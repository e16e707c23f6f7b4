"""The shape in which one panellist's marking is kept.

    {"sound": bool, "note": str, "entries": [{"fault": id, "name": str, "clause": id, "number": str, "zone": str,
     "level": 0…n-1, "whole_dog": bool, "regions": [[[x, y], …], …]}, …]}

Ids are of the club's faults and the edition's clauses; `name` and `number` are what they were called when it
was saved, so that the record can be read whatever becomes of the lists. Entries beside `sound` are set aside.
"""

from __future__ import annotations

from typing import Any

from assessments.items.keeping import drafted_so_far
from assessments.items.mark_the_faults.drawing_up import clause_rows, fault_rows, limits
from assessments.items.mark_the_faults.key import missing_of
from assessments.items.mark_the_faults.key_content import read_key
from assessments.items.mark_the_faults.vocabulary import called
from assessments.models import KeyEntry, KeyPanel, Panellist
from assessments.snapshots import Sought
from courses.models import SeverityScale
from courses.queries.severity import readings_of

EMPTY: dict[str, Any] = {"sound": False, "note": "", "entries": []}


def read_marking(panel: KeyPanel, sent: object, sought: Sought = "fault") -> dict[str, Any]:
    """What is kept of what the browser sent; KeyRefused where it cannot be, as for a key."""
    read = read_key(sent, panel.item, len(panel.ladder["labels"]), sought)
    return read | {"entries": [_kept(row, sought) for row in read["entries"]]}


def missing_in(content: dict[str, Any], sought: Sought = "fault") -> list[str]:
    """What a marking still lacks, in the words of a key."""
    entries = [_as_row(row) for row in content.get("entries", [])]
    return [] if content.get("sound") else missing_of(entries, sought)


def marked_up(panellist: Panellist, sought: Sought = "fault") -> dict[str, Any]:
    """What the marking page needs: faults of the zones that the view shows come first.

    They carry no usual severity: each panellist weighs for themselves.
    """
    panel = panellist.panel
    edition = panel.item.edition
    scale = scale_of(panel)
    clauses = list(edition.clauses.all())
    faults = fault_rows(edition, clauses, len(scale), first=panel.zones, sought=sought)
    return {
        "faults": [row | {"level": None} for row in faults],
        "clauses": [row | {"level": None} for row in clause_rows(clauses, scale, readings_of(edition.breed))],
        "levels": list(scale.labels),
        "most": limits() | {"also": 0},
        **drafted_so_far(panellist, _for_the_page(panellist.content)),
    }


def _for_the_page(content: dict[str, Any]) -> dict[str, Any]:
    """A kept marking as the page takes it up."""
    given = EMPTY | content
    return given | {"entries": [row | {"also": []} for row in given["entries"]]}


def scale_of(panel: KeyPanel) -> SeverityScale:
    """The panel's own ladder in the form that pages show; it is not a row."""
    return SeverityScale(**{"disqualifying": True} | panel.ladder)


def _kept(row: dict[str, Any], sought: Sought) -> dict[str, Any]:
    fault, clause = row["fault"], row["clause"]
    return {
        "fault": fault and fault.pk,
        "name": called(fault, sought) if fault else "",
        "clause": clause and clause.pk,
        "number": clause.number if clause else "",
        "zone": row["zone"],
        "level": row["level"],
        "whole_dog": row["whole_dog"],
        "regions": row["regions"],
    }


def _as_row(row: dict[str, Any]) -> KeyEntry:
    given = {part: row[part] for part in ("level", "whole_dog", "regions")}
    return KeyEntry(fault_id=row["fault"], clause_id=row["clause"], **given)
