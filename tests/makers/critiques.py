"""Critiques: asked for, written, and marked by a rubric."""

from __future__ import annotations

import uuid
from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Answer, Item, Quiz
from courses.models import Edition
from shared.accounts.models import Membership

from .exhibits import make_exhibit


def make_critique(edition: Edition, by: Membership, exhibits: int = 1, **fields: Any) -> Item:
    """A critique in use of so many exhibits, with the usual rubric and a model answer."""
    shown = [make_exhibit(edition.breed.club, by, breed=edition.breed) for _ in range(exhibits)]
    item = make_item(edition=edition, by=by.person, kind="write-a-critique", exhibits=shown, **fields)
    key = item.keys.get()
    key.content["model"] = {part: f"The model of {part}." for part in key.content["model"]}
    key.content["expected"]["virtues"] = "Clean outline\nLevel back"
    save_draft(key=key, sound=False, note="", content=key.content, by=by.person)
    publish_key(item=item, by=by.person)
    item.refresh_from_db()
    return item


def make_written(trainee: Membership, item: Item, quiz: Quiz | None = None, **parts: str) -> Answer:
    """A handed-in critique in a quiz of its own, or in an open one."""
    if quiz is None:
        quiz = make_quiz(edition=item.edition, title="Critiques", by=item.made_by)
        add_item(quiz=quiz, item=item)
        open_quiz(quiz=quiz)
    answer = begin_sitting(quiz=quiz, trainee=trainee).answers.get(item=item)
    names = ["virtues", "short", "reason", "grants"][: 4 if item.item_exhibits.count() > 1 else 2]
    texts = {name: parts.get(name, f"Words on {name}.") for name in names}
    save_answer(answer=answer, sent={"parts": texts}, seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    return hand_in(answer=answer, seen=answer.revision)


def given(accuracy: int = 3, completeness: int = 2, weighing: int = 4, language: int = 4) -> dict[str, Any]:
    """A rubric filled in: by the usual weights 3, 3, 3 and 1 it gives 77.5 of 100."""
    reached = {
        "accuracy": accuracy,
        "completeness": completeness,
        "weighing": weighing,
        "language": language,
    }
    return {"reached": reached, "words": dict.fromkeys(reached, ""), "overall": "Look at the loin again."}
