"""Quizzes: an item for each exhibit, its key completed and published, the quiz opened."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.marking import remark
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import Item, Key, Quiz
from courses.models import Edition, Exhibit, Fault, Place
from media_demo.loading import KeyChange, QuizText, Scenario
from media_demo.panels import Panel
from shared.accounts.models import Person

# A fault of the whole dog or of its coat is marked without a place.
EVERYWHERE = {"whole", "coat"}


@dataclass(frozen=True)
class KeyMaker:
    """Completes the keys that the drawings propose, with the names that a panel accepts beside each fault."""

    also: Mapping[int, list[dict[str, Any]]]
    by: Person
    panel: Panel

    @classmethod
    def of(cls, scenario: Scenario, faults: Mapping[str, Fault], by: Person, panel: Panel) -> KeyMaker:
        """`faults` maps presets to the club's faults."""
        accepted = {
            faults[row.figure].pk: [
                {"fault": faults[key].pk, "credit": credit} for key, credit in row.also.items()
            ]
            for row in scenario.faults
            if row.also
        }
        return cls(accepted, by, panel)

    def draw_up(self, item: Item, note: str = "", *, accepting: bool = True) -> Key:
        """A draft as the drawing proposes it, but for faults without a place, and accepted names if wanted."""
        draft = start_draft(item=item, by=self.by)
        entries = [self._entry(row, accepting) for row in draft.entries.all()]
        return save_draft(key=draft, sound=draft.sound, note=note.strip(), entries=entries, by=self.by)

    def publish(self, item: Item, place: tuple[str, int], *, panel: bool, accepting: bool = True) -> Key:
        """The first version, as the panel or the educator alone settles it; `place` is the item's in its quiz."""
        draft = self.draw_up(item, accepting=accepting)
        if panel:
            self.panel.settle(item, place, draft)
        return publish_key(item=item, by=self.by)

    def revise(self, item: Item, note: str) -> int:
        """A version that accepts names; answers are marked anew, as the background does. How many changed."""
        self.draw_up(item, note)
        publish_key(item=item, by=self.by)
        return remark(item=item).changed

    def _entry(self, proposed: Any, accepting: bool) -> dict[str, Any]:
        everywhere = proposed.zone in EVERYWHERE or not proposed.regions
        return {
            "fault": proposed.fault,
            "clause_id": proposed.clause_id,
            "zone": proposed.zone,
            "level": proposed.level,
            "whole_dog": everywhere,
            "regions": [] if everywhere else proposed.regions,
            "also": self.also.get(proposed.fault_id, []) if accepting else [],
        }


def change_keys(scenario: Scenario, quizzes: Mapping[str, Quiz], keys: KeyMaker) -> int:
    """One key is revised; another is in work, and marked again by the panel. How many marks the revision changed."""
    drafted, revised = (
        quizzes[change.quiz].quiz_items.select_related("item")[change.item - 1].item
        for change in (scenario.drafted, scenario.revised)
    )
    keys.panel.begin_again(drafted, keys.draw_up(drafted, scenario.drafted.note))
    return keys.revise(revised, scenario.revised.note)


def set_quiz(
    text: QuizText,
    edition: Edition,
    exhibits: Mapping[str, Exhibit],
    keys: KeyMaker,
    place: Place | None = None,
    revised: KeyChange | None = None,
) -> Quiz:
    """An open quiz of the exhibits of its items, which are found by the figure's key.

    The item whose key will be revised begins without accepted names.
    """
    quiz = make_quiz(
        edition=edition, title=text.title, by=keys.by, introduction=text.introduction, place=place
    )
    for number, figure in enumerate(text.items, 1):
        item = make_item(edition=edition, exhibit=exhibits[figure.key], by=keys.by)
        later = revised is not None and (revised.quiz, revised.item) == (text.key, number)
        keys.publish(item, (text.key, number), panel=text.panel, accepting=not later)
        add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    return quiz
