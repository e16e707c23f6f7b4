"""The key of a mark-the-faults item: what it still lacks, and its first proposal."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.models import Key, KeyEntry
from assessments.rules import letter
from courses.models import Exhibit


def missing_parts(key: Key) -> list[str]:
    """In words, entry by entry; a sound key must be empty and say so."""
    entries = list(key.entries.all())
    if key.sound:
        return [_("The key says sound, but faults are entered.")] if entries else []
    if not entries:
        return [_("Enter the faults, or say that the exhibit is sound.")]
    return [
        _("%(letter)s: %(missing)s.") % {"letter": letter(i), "missing": ", ".join(missing)}
        for i, entry in enumerate(entries)
        if (missing := _missing_of(entry))
    ]


def _missing_of(entry: KeyEntry) -> list[str]:
    wanted = [
        (entry.fault_id is not None, _("name the fault")),
        (entry.clause_id is not None, _("say the clause")),
        (entry.level is not None, _("weigh it")),
        (entry.whole_dog or bool(entry.regions), _("draw its region or say whole dog")),
    ]
    return [words for given, words in wanted if not given]


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
