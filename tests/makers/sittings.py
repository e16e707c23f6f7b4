"""Sittings of quizzes and the answers given in them."""

from __future__ import annotations

import uuid
from typing import Any

from django.utils import timezone

from assessments.actions.marking import remark
from assessments.actions.sittings import hand_in, save_answer
from assessments.models import Answer, Quiz, Sitting
from courses.models import Fault
from shared.accounts.models import Membership

from .members import make_trainee


def pin(
    x: float | None, y: float | None, fault: Fault | None = None, level: int | None = None
) -> dict[str, Any]:
    """One mark as a browser sends it."""
    return {"x": x, "y": y, "fault": fault.pk if fault else None, "level": level, "note": ""}


def said(*marks: dict[str, Any], nothing_found: bool = False) -> dict[str, Any]:
    """An answer's content as a browser sends it."""
    return {"marks": list(marks), "nothing_found": nothing_found}


def make_sittings(quiz: Quiz, contents: list[list[dict[str, Any]]], **fields: Any) -> list[Membership]:
    """A finished sitting of a new trainee for each list of contents, one for each item, marked as anew.

    `trainees` and `number` make further sittings of the same people.
    """
    club, first = quiz.edition.breed.club, Membership.objects.count()
    trainees = fields.pop("trainees", None) or [
        make_trainee(club, f"Trainee {first + number}") for number in range(len(contents))
    ]
    given = {"number": 1, "finished_at": timezone.now()} | fields
    items = list(quiz.items.order_by("quiz_items__position"))
    for trainee, said_of in zip(trainees, contents, strict=True):
        sitting = Sitting.objects.create(quiz=quiz, trainee=trainee, **given)
        Answer.objects.bulk_create(
            Answer(
                sitting=sitting, item=item, position=place, content=content, handed_in_at=given["finished_at"]
            )
            for place, (item, content) in enumerate(zip(items, said_of, strict=True))
        )
    for item in items:
        remark(item=item, quiz_id=quiz.pk)
    return trainees


def make_handed_in(answer: Answer) -> Answer:
    """The answer handed in, with nothing found; once."""
    answer.refresh_from_db()
    if answer.handed_in_at:
        return answer
    save_answer(answer=answer, sent=said(nothing_found=True), seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    hand_in(answer=answer, seen=answer.revision)
    answer.refresh_from_db()
    return answer
