"""The kind itself: pins and names as for faults, of what is the opposite of a fault."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments.evidence.room import Said, said_by_room
from assessments.items.kind import Marked
from assessments.items.mark_the_faults.kind import MarkTheFaults
from assessments.items.mark_the_faults.panel import VirtuePanel
from assessments.models import Item, Key, Mark, QuizRules
from assessments.snapshots import Sought


class MarkTheVirtues(MarkTheFaults):
    """See and name the virtues of one exhibit.

    A virtue is named by the fault to which it is the opposite, and counts by the severity of that fault, as
    the educator settles it.
    """

    name = "mark-the-virtues"
    label = _("Mark the virtues")
    says = _("Pin each virtue of an exhibit where you see it and name it from the club’s list.")
    templates = "mark_the_virtues"
    sought: Sought = "virtue"
    panel = VirtuePanel()
    pinned = False

    def first_key(self, key: Key) -> None:
        """Nothing is proposed: what is said of an exhibit are its faults."""

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """Pins within the picture, virtues from the club's list, no levels."""
        return self.read_pins(item, 0, sent)

    def line(self, mark: Mark) -> dict[str, str]:
        """How many virtues there are, how many were not marked, how many pins mark none."""
        virtues = len(mark.detail["entries"])
        key = ngettext("%(n)d virtue", "%(n)d virtues", virtues) % {"n": virtues}
        return super().line(mark) | {"key": key}

    def said_in_room(self, details: Iterable[dict[str, Any]]) -> list[Said]:
        """Of each virtue how many saw it and named it."""
        return said_by_room(
            [
                line | {"text": f"{detail['entries'][line['entry']]['fault']}: {line['text']}"}
                if line["entry"] is not None
                else line
                for line in detail["lines"]
            ]
            for detail in details
        )

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """By the published rules; nothing of it is evidence of an eye for faults."""
        for marked in super().mark(key, rules, contents):
            yield replace(
                marked, weighing=None, detail=marked.detail | {"sees": False, "sought": self.sought}
            )
