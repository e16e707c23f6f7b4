"""Quizzes: an item for each exhibit, its key completed and published, the quiz opened."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from assessments.actions.keys import make_item, publish_key, save_draft, start_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import Item, Key, Quiz
from courses.models import Edition, Exhibit, Fault, Place
from media_demo.loading import QuizText, Scenario
from shared.accounts.models import Person

# A fault of the whole dog or of its coat is marked without a place.
EVERYWHERE = {"whole", "coat"}


@dataclass(frozen=True)
class KeyMaker:
    """Completes the keys that the drawings propose, with the names that a panel accepts beside each fault."""

    also: Mapping[int, list[dict[str, Any]]]
    by: Person

    @classmethod
    def of(cls, scenario: Scenario, faults: Mapping[str, Fault], by: Person) -> KeyMaker:
        """`faults` maps presets to the club's faults."""
        accepted = {
            faults[row.figure].pk: [
                {"fault": faults[key].pk, "credit": credit} for key, credit in row.also.items()
            ]
            for row in scenario.faults
            if row.also
        }
        return cls(accepted, by)

    def publish(self, item: Item) -> Key:
        """Take the proposal as it is, but for accepted names and faults that have no place."""
        draft = start_draft(item=item, by=self.by)
        entries = [self._entry(row) for row in draft.entries.all()]
        save_draft(key=draft, sound=draft.sound, note="", entries=entries, by=self.by)
        return publish_key(item=item, by=self.by)

    def _entry(self, proposed: Any) -> dict[str, Any]:
        everywhere = proposed.zone in EVERYWHERE or not proposed.regions
        return {
            "fault": proposed.fault,
            "clause_id": proposed.clause_id,
            "zone": proposed.zone,
            "level": proposed.level,
            "whole_dog": everywhere,
            "regions": [] if everywhere else proposed.regions,
            "also": self.also.get(proposed.fault_id, []),
        }


def set_quiz(
    text: QuizText,
    edition: Edition,
    exhibits: Mapping[str, Exhibit],
    keys: KeyMaker,
    place: Place | None = None,
) -> Quiz:
    """An open quiz of the exhibits of its items, which are found by the figure's key."""
    quiz = make_quiz(
        edition=edition, title=text.title, by=keys.by, introduction=text.introduction, place=place
    )
    for figure in text.items:
        item = make_item(edition=edition, exhibit=exhibits[figure.key], by=keys.by)
        keys.publish(item)
        add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    return quiz
