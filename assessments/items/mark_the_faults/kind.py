"""The kind itself: ties content, key and scoring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments import snapshots
from assessments.items.kind import ItemKind, Marked
from assessments.items.mark_the_faults.asking import asked
from assessments.items.mark_the_faults.content import counted_marks, read_marks
from assessments.items.mark_the_faults.drawing_up import drawn_up, shown
from assessments.items.mark_the_faults.key import missing_parts, propose_entries
from assessments.items.mark_the_faults.key_content import read_key
from assessments.items.mark_the_faults.key_words import key_words
from assessments.items.mark_the_faults.panel import FaultPanel
from assessments.items.mark_the_faults.words import page_words
from assessments.items.panel import PanelMethod
from assessments.models import Answer, Item, Key, KeyEntry, Mark, QuizRules
from assessments.scoring.fault_marks import FaultMarkScore, score_many
from assessments.snapshots import Sought
from courses.models.choices import Verdict


class MarkTheFaults(ItemKind):
    """See, name and weigh the faults of one exhibit. There may be none."""

    name = "mark-the-faults"
    label = _("Mark the faults")
    says = _(
        "Pin each fault of an exhibit where you see it, name it from the club’s list, and weigh it. "
        "There may be none."
    )
    templates = "mark_the_faults"
    sought: Sought = "fault"
    panel: PanelMethod | None = FaultPanel()

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """Pins within the picture, faults from the club's list, levels of the ladder."""
        return self.read_pins(item, len(rules.ladder["labels"]), sent)

    def read_pins(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """The same; `levels` is 0 where nothing is weighed."""
        return read_marks(sent, item.exhibit, item.edition.breed_id, levels, self.sought)

    def is_blank(self, content: dict[str, Any]) -> bool:
        """No pin and not "nothing found"."""
        return not content.get("marks") and not content.get("nothing_found")

    def first_key(self, key: Key) -> None:
        """Sound where the exhibit is said to be correct, else the faults that it is said to show."""
        key.sound = key.item.exhibit.verdict == Verdict.CORRECT
        key.save(update_fields=["sound"])
        if not key.sound:
            KeyEntry.objects.bulk_create(propose_entries(key, key.item.exhibit))

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """See `assessments.scoring.explanation`."""
        return snapshots.rules_in_words(rules, self.sought)

    def line(self, mark: Mark) -> dict[str, str]:
        """How many faults there are, how many were not marked, how many pins mark none."""
        faults = len(mark.detail["entries"])
        return {
            "key": ngettext("%(n)d fault", "%(n)d faults", faults) % {"n": faults}
            if faults
            else _now("sound"),
            "missed": str(len(mark.detail["missed"])),
            "called": str(len(mark.detail["false_alarms"])),
        }

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """The club's faults with their clauses, the ladder, and what is kept so far."""
        return asked(answer, rules, self.sought)

    def words(self) -> dict[str, str]:
        """See `page_words`."""
        return page_words(self.sought)

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """Outlines within the picture, faults of the breed, clauses of the edition, levels of the ladder."""
        return read_key(sent, item, levels, self.sought)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The club's faults, the edition's clauses with their readings, the ladder, and the key so far."""
        return drawn_up(key, self.sought)

    def show_key(self, key: Key) -> list[dict[str, Any]]:
        """Letter, fault, clause, severity, other names and regions of each entry."""
        return shown(key, self.sought)

    def key_words(self) -> dict[str, str]:
        """See `key_words`."""
        return key_words(self.sought)

    def lacks(self, key: Key) -> list[str]:
        """See `missing_parts`."""
        return missing_parts(key, self.sought)

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """By the published rules; see `assessments.scoring.fault_marks`."""
        contents = list(contents)
        named = {mark["fault"] for content in contents for mark in counted_marks(content)} - {None}
        faults = snapshots.FaultNames(key.item.edition.breed_id, named, self.sought)
        ladder = snapshots.ladder(rules, self.sought)
        marking_rules = snapshots.marking_rules(rules, key.item.exhibit, self.sought)
        fault_key = snapshots.fault_key(key, self.sought)
        shown_key = snapshots.shown_key(key, self.sought)
        kept: list[list[dict[str, Any]]] = []

        def answers() -> Iterator[tuple[list[Any], bool]]:
            for content in contents:
                counted = counted_marks(content)
                kept.append([faults.shown(mark) for mark in counted])
                yield [faults.mark(mark) for mark in counted], bool(content.get("nothing_found"))

        for score in score_many(fault_key, answers(), ladder, marking_rules):
            yield _marked(score, shown_key, kept.pop(0))


def _marked(score: FaultMarkScore, entries: list[dict[str, Any]], marks: list[dict[str, Any]]) -> Marked:
    return Marked(
        score=score.score,
        seeing=score.seeing,
        naming=score.naming,
        weighing=score.weighing,
        detail=snapshots.detail(score) | {"entries": entries, "marks": marks},
    )
