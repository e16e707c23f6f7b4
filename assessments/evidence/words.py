"""What figures are called on the screen and in files."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from assessments.models import KeyEntry
from assessments.statistics.item_analysis import Flag

FLAGS: dict[Flag, Promise] = {
    "easy": _("too easy"),
    "hard": _("too hard"),
    "negative": _("good judges miss it"),
    "weak": _("weak"),
}


def flags_in_words(flags: Iterable[Flag]) -> str:
    """ "too hard, weak" """
    return ", ".join(str(FLAGS[flag]) for flag in flags)


def faults_in_words(entries: Sequence[KeyEntry]) -> str:
    """The faults of a key by name; "Sound dog" where there is none."""
    return ", ".join(entry.fault.name for entry in entries) or str(_("Sound dog"))
