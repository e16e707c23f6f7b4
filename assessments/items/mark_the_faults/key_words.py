"""Words that the key page's script says; what stands in braces is filled in by it."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.items.keeping import drafting_words
from assessments.items.mark_the_faults.key import missing_words
from assessments.snapshots import Sought
from shared.web.drawing import drawing_words


def key_words(sought: Sought = "fault") -> dict[str, str]:
    """In the reader's language."""
    words = _of_the_list() | drawing_words() | drafting_words() | _missing(sought)
    return words | _of_virtues() if sought == "virtue" else words


def _missing(sought: Sought) -> dict[str, str]:
    return {f"missing_{part}": words for part, words in missing_words(sought).items()}


def _of_virtues() -> dict[str, str]:
    return {
        "differs": _(
            "The key counts it as {level}, the clause reads as {reads}: change it, or be sure that the panel "
            "means it."
        ),
        "twice": _("{letters} name the same virtue. Two regions of one virtue belong under one letter."),
        "full": _("A key holds no more virtues."),
    }


def _of_the_list() -> dict[str, str]:
    return {
        "unnamed": _("Not named yet"),
        "unweighed": _("not weighed"),
        "whole": _("whole dog"),
        "sound": _("There is nothing to find: who finds nothing is right."),
        "removed": _("{letter} removed. Undo brings it back."),
        "remove": _("Remove {letter}"),
        "aside": _("The faults entered below are set aside; publishing leaves them out."),
        "differs": _(
            "The key says {level}, the clause reads as {reads}. Trainees see the two side by side: "
            "change one, or be sure that the panel means it."
        ),
        "one_region": _("one region"),
        "many_regions": _("{n} regions"),
        "first_region": _("Draw its region"),
        "another_region": _("Another region of {letter}"),
        "credit": _("Credit for “{name}”, from 0 to 1"),
        "unaccept": _("Remove “{name}”"),
        "twice": _("{letters} name the same fault. Two regions of one fault belong under one letter."),
        "full": _("A key holds no more faults."),
        "undone": _("Undone."),
        "redone": _("Done again."),
    }
