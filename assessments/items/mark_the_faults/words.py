"""Words that the answer page's script says; {n}, {at} and {note} are filled in by it."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.items.keeping import keeping_words
from assessments.snapshots import Sought


def page_words(sought: Sought = "fault") -> dict[str, str]:
    """In the reader's language."""
    return keeping_words() | _of_pins() | (_of_virtues() if sought == "virtue" else _of_faults())


def _of_pins() -> dict[str, str]:
    return {
        "pin": _("Pin {n}"),
        "removed": _("Pin {n} removed."),
        "remove": _("Remove pin {n}"),
        "unnamed": _("Not named yet"),
        "unweighed": _("not weighed"),
        "whole": _("the whole dog"),
        "noted": _("Note: “{note}”"),
        "most": _("An answer holds no more pins. Remove one first."),
    }


def _of_faults() -> dict[str, str]:
    return {
        "dropped": _("Pin {n} dropped. Name the fault."),
        "nothing": _("Say this when you would mark no fault."),
        "aside": _("Say this when you would mark no fault. Your pins are set aside, not lost."),
        "blank": _("Mark a fault, or say “Nothing found”."),
    }


def _of_virtues() -> dict[str, str]:
    return {
        "dropped": _("Pin {n} dropped. Name the virtue."),
        "nothing": _("Say this when you would mark no virtue."),
        "aside": _("Say this when you would mark no virtue. Your pins are set aside, not lost."),
        "blank": _("Mark a virtue, or say “Nothing found”."),
    }
