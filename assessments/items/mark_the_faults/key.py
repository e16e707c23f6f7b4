"""The key of a mark-the-faults item: what it still lacks, and its first proposal."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _

from assessments.models import Key, KeyEntry
from assessments.rules import letter
from assessments.snapshots import Sought
from courses.models import Exhibit


def missing_parts(key: Key, sought: Sought = "fault") -> list[str]:
    """In words, entry by entry. A sound key lacks nothing: what is entered beside it is set aside."""
    return [] if key.sound else missing_of(list(key.entries.all()), sought)


def missing_of(entries: Sequence[KeyEntry], sought: Sought = "fault") -> list[str]:
    """The same of entries that need not be saved."""
    if not entries:
        return [missing_words(sought)["entries"]]
    return [
        _("%(letter)s: %(missing)s.") % {"letter": letter(i), "missing": ", ".join(missing)}
        for i, entry in enumerate(entries)
        if (missing := _missing_of(entry, sought))
    ]


def missing_words(sought: Sought = "fault") -> dict[str, str]:
    """What each part of a key is called while it is missing; the page's script says the same."""
    words = {
        "entries": _("Enter the faults, or say that the exhibit is sound."),
        "fault": _("name the fault"),
        "clause": _("say the clause"),
        "level": _("weigh it"),
        "region": _("draw its region or say whole dog"),
    }
    if sought == "virtue":
        words |= {
            "entries": _("Enter the virtues."),
            "fault": _("name the virtue"),
            "level": _("say how much it counts"),
        }
    return words


def _missing_of(entry: KeyEntry, sought: Sought) -> list[str]:
    given = {
        "fault": entry.fault_id is not None,
        "clause": entry.clause_id is not None,
        "level": entry.level is not None,
        "region": entry.whole_dog or bool(entry.regions),
    }
    words = missing_words(sought)
    return [words[part] for part, there in given.items() if not there]


def propose_entries(key: Key, exhibit: Exhibit) -> list[KeyEntry]:
    """Unsaved entries from the faults that the educator said the exhibit shows."""
    shown = exhibit.shown_faults.select_related("fault")
    return [
        KeyEntry(
            key=key,
            position=i,
            fault=row.fault,
            clause_id=row.clause_id or row.fault.clause_id,
            zone=row.fault.zone,
            level=row.level,
            whole_dog=not row.regions and row.fault.zone == "whole",
            regions=row.regions,
        )
        for i, row in enumerate(shown)
    ]
