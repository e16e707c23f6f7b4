"""What is shown of the fault to be weighed: everything of its entry but the level."""

from __future__ import annotations

from typing import Any

from assessments.models import Item, Key, KeyEntry
from courses.models.choices import Zone
from shared.prose.markdown import render_clause

SHOWN = ("fault_id", "clause_id", "whole_dog", "regions")


def fault_shown(item: Item) -> dict[str, Any]:
    """Name, zone, clause and place, of the key in use, else of the draft that a preview looks at."""
    rows = KeyEntry.objects.filter(key__item=item, key__discarded_at=None).select_related("fault", "clause")
    row = rows.exclude(key__published_at=None).order_by("-key__version").first() or rows.first()
    if row is None or row.fault is None:
        return {"name": "", "zone": "", "clause": "", "text": "", "whole_dog": False, "regions": []}
    return {
        "name": row.fault.name,
        "zone": str(dict(Zone.choices)[row.zone]),
        "clause": row.clause.number if row.clause else "",
        "text": render_clause(row.clause.text) if row.clause else "",
        "whole_dog": row.whole_dog,
        "regions": row.regions,
    }


def differs_from_first(key: Key) -> bool:
    """Whether a draft shows something else than the version that was published first."""
    first = key.item.keys.exclude(published_at=None).order_by("version").first()
    if first is None or first.pk == key.pk:
        return False
    before, now = first.entries.get(), key.entries.get()
    return any(getattr(before, part) != getattr(now, part) for part in SHOWN)
