"""Open quizzes, and rounds of estimates for their pass marks."""

from __future__ import annotations

from typing import Any

from assessments.actions.cut import ask_for_cut
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import CutStudy, Item, Quiz
from courses.models import Edition
from shared.accounts.models import Membership

from .items import make_keyed_item


def make_quiz_asking(edition: Edition, by: Membership, *items: Item) -> Quiz:
    """An open quiz of these items."""
    quiz = make_quiz(edition=edition, title="In the hand", by=by.person)
    for item in items:
        add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    quiz.refresh_from_db()
    return quiz


def make_open_quiz(edition: Edition, by: Membership, items: int = 1, **fields: Any) -> Quiz:
    """An open quiz of so many keyed items."""
    quiz = make_quiz(edition=edition, title=fields.pop("title", "Forequarters in profile"), by=by.person)
    for _ in range(items):
        add_item(quiz=quiz, item=make_keyed_item(edition, by))
    open_quiz(quiz=quiz)
    quiz.refresh_from_db()
    return quiz


def make_cut_study(quiz: Quiz, by: Membership, *members: Membership) -> CutStudy:
    """An open round of estimates for the quiz's pass mark."""
    return ask_for_cut(quiz=quiz, members=list(members), by=by.person)
