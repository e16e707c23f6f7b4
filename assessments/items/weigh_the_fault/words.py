"""Words that the scripts of the answer page and the key page say."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.items.keeping import keeping_words
from assessments.items.mark_the_faults import key_words as of_faults


def page_words() -> dict[str, str]:
    """Of the answer page, in the reader's language."""
    return keeping_words() | {"blank": _("Say first how severe the fault is.")}


def key_words() -> dict[str, str]:
    """Of the key page."""
    return of_faults.key_words() | {
        "missing_entries": _("Enter the fault that is shown."),
        "full": _("One fault is shown. Change it, or remove it first."),
    }
