"""Critiques, written by trainees and marked by their mentors through the actions that the pages use."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from typing import Any

from assessments.actions.by_hand import mark_by_hand
from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.reviews import open_review, pin_comment, return_answer
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.items.write_a_critique.parts import RUBRIC, parts_asked
from assessments.models import Answer, Item, Quiz
from courses.models import Edition, Exhibit
from media_demo.loading import Scenario, unwrapped
from media_demo.people import People
from shared.accounts.models import Membership, Person
from shared.accounts.roles import Role

# Where the comment on the upper arm is pinned, in units of the picture's longer side.
ARM = (0.62, 0.37)


def ask_for_critiques(
    scenario: Scenario, people: People, edition: Edition, exhibits: Mapping[str, Exhibit]
) -> int:
    """An open quiz of critiques with what was written in it; how many were. `exhibits` by their figures' keys."""
    said, educator = scenario.critiques, people.first(Role.EDUCATOR).person
    quiz = make_quiz(edition=edition, title=said["title"], by=educator, introduction=said["introduction"])
    items = [_make(scenario, row, edition, exhibits, educator) for row in said["item"]]
    for item in items:
        add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    return sum(
        _write(quiz, item, written, people, scenario)
        for item, row in zip(items, said["item"], strict=True)
        for written in row["written"]
    )


def _make(
    scenario: Scenario,
    row: Mapping[str, Any],
    edition: Edition,
    exhibits: Mapping[str, Exhibit],
    by: Person,
) -> Item:
    figures = scenario.figure_keys()
    shown = [exhibits[figures[quiz, number]] for quiz, number in row["shows"]]
    asking = {"stem": row["stem"]}
    item = make_item(edition=edition, by=by, kind="write-a-critique", exhibits=shown, asking=asking)
    key = item.keys.get()
    for held in ("expected", "model"):
        given = {
            part: text.strip() if held == "expected" else unwrapped(text) for part, text in row[held].items()
        }
        key.content[held] |= given
    save_draft(key=key, sound=False, note="", content=key.content, by=by)
    publish_key(item=item, by=by)
    return item


def _write(quiz: Quiz, item: Item, written: Mapping[str, Any], people: People, scenario: Scenario) -> int:
    trainee = people.by_email.get(written["by"])
    if trainee is None:
        return 0
    answer = begin_sitting(quiz=quiz, trainee=trainee).answers.get(item=item)
    parts = {name: unwrapped(written[name]) for name in parts_asked(item)}
    save_answer(answer=answer, sent={"parts": parts}, seen=0, identity=uuid.uuid4())
    answer.refresh_from_db()
    answer = hand_in(answer=answer)
    if "mark" in written:
        _mark(answer, written["mark"], _mentor_of(written["by"], people, scenario))
    return 1


def _mark(answer: Answer, said: Mapping[str, Any], mentor: Membership) -> None:
    open_review(answer=answer, mentor=mentor)
    if "comment" in said:
        x, y = ARM
        pin_comment(answer=answer, author=mentor, text=said["comment"], x=x, y=y)
    words = {name: said.get("words", {}).get(name, "") for name in RUBRIC}
    given = {"reached": dict(said["reached"]), "words": words, "overall": said["overall"]}
    mark_by_hand(answer=answer, mentor=mentor, given=given)
    return_answer(answer=answer, mentor=mentor)


def _mentor_of(trainee: str, people: People, scenario: Scenario) -> Membership:
    return next(people.by_email[member.email] for member in scenario.members if trainee in member.mentors)
