"""Words that the answer page's script says; {n}, {at} and {note} are filled in by it."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.items.keeping import keeping_words


def page_words() -> dict[str, str]:
    """In the reader's language."""
    return keeping_words() | {
        "pin": _("Pin {n}"),
        "dropped": _("Pin {n} dropped. Name the fault."),
        "removed": _("Pin {n} removed."),
        "remove": _("Remove pin {n}"),
        "unnamed": _("Not named yet"),
        "unweighed": _("not weighed"),
        "whole": _("the whole dog"),
        "noted": _("Note: “{note}”"),
        "nothing": _("Say this when you would mark no fault."),
        "aside": _("Say this when you would mark no fault. Your pins are set aside, not lost."),
        "blank": _("Mark a fault, or say “Nothing found”."),
        "most": _("An answer holds no more pins. Remove one first."),
    }
