"""A trainee's way through a quiz: begin, save step by step, hand in each answer once."""

from __future__ import annotations

import uuid
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.marking import mark_answer
from assessments.items import kind_of
from assessments.models import Answer, Quiz, SavedStep, Sitting
from assessments.queries.items import askable_items, is_withheld
from assessments.queries.sittings import last_number, waiting_in
from assessments.rules import Refused
from shared.accounts.models import Membership


class Overtaken(Exception):
    """A later save has been made elsewhere; `answer` is what is kept."""

    def __init__(self, answer: Answer) -> None:
        super().__init__(_("This answer was changed in another window."))
        self.answer = answer


@dataclass(frozen=True)
class Saved:
    """An acknowledged save."""

    revision: int
    saved_at: timezone.datetime


@transaction.atomic
def begin_sitting(*, quiz: Quiz, trainee: Membership) -> Sitting:
    """The trainee's open sitting, or a new one with the quiz's items as they are now.

    An item whose picture may not be shown at present is left out.
    """
    Quiz.objects.select_for_update().get(pk=quiz.pk)
    going_on = quiz.sittings.filter(trainee=trainee, finished_at=None).first()
    if going_on:
        return going_on
    if quiz.state != Quiz.State.OPEN or quiz.purpose != Quiz.Purpose.PRACTICE:
        raise Refused(_("This quiz is not open."))
    rows = quiz.quiz_items.filter(item__in=askable_items(timezone.localdate()))
    if not rows:
        raise Refused(_("None of this quiz’s pictures may be shown at present."))
    sitting = Sitting.objects.create(quiz=quiz, trainee=trainee, number=last_number(quiz, trainee) + 1)
    rows = rows.order_by("position", "pk")
    Answer.objects.bulk_create(
        Answer(sitting=sitting, item_id=row.item_id, position=position) for position, row in enumerate(rows)
    )
    return sitting


@transaction.atomic
def save_answer(*, answer: Answer, sent: object, seen: int, identity: uuid.UUID) -> Saved:
    """Keep an answer if nobody saved after the revision that this page has seen.

    The same identity again returns what the first got. Raises Overtaken with the kept answer if another page
    saved in between, Refused once it is handed in, AnswerRefused if it cannot be read.
    """
    held = _hold(answer)
    before = SavedStep.objects.filter(identity=identity, answer=held).first()
    if before:
        return Saved(before.revision, before.saved_at)
    if held.handed_in_at:
        raise Refused(_("This answer is handed in."))
    if held.passed_over_at:
        raise Refused(_("This item was passed over, since its picture may no longer be shown."))
    if seen != held.revision:
        raise Overtaken(held)
    held.content = kind_of(held.item).read_content(held.item, held.sitting.quiz.rules_versions.first(), sent)
    held.revision += 1
    held.saved_at = timezone.now()
    held.save(update_fields=["content", "revision", "saved_at"])
    SavedStep.objects.create(answer=held, identity=identity, revision=held.revision, saved_at=held.saved_at)
    return Saved(held.revision, held.saved_at)


@transaction.atomic
def hand_in(*, answer: Answer, seen: int | None = None) -> Answer:
    """Hand an answer in, once: a second press finds it handed in and changes nothing.

    It is marked at once, unless its kind is marked by hand. An item whose picture may no longer be shown is
    passed over: it gets no mark and does not count. After the last answer the sitting is finished.
    """
    held = _hold(answer)
    if held.handed_in_at or held.passed_over_at:
        return held
    if is_withheld(held.item, timezone.localdate()):
        held.passed_over_at = timezone.now()
        held.save(update_fields=["passed_over_at"])
        _finish_if_last(held.sitting)
        return held
    if seen is not None and seen != held.revision:
        raise Overtaken(held)
    if missing := kind_of(held.item).what_is_missing(held.content):
        raise Refused(missing)
    held.handed_in_at = timezone.now()
    held.save(update_fields=["handed_in_at"])
    if not kind_of(held.item).by_hand:
        mark_answer(answer=held)
    _finish_if_last(held.sitting)
    return held


def _finish_if_last(sitting: Sitting) -> None:
    if not waiting_in(sitting).exists():
        Sitting.objects.filter(pk=sitting.pk).update(finished_at=timezone.now())


def _hold(answer: Answer) -> Answer:
    """The answer's row as it is now, locked until the transaction ends; its item and sitting are at hand."""
    held = Answer.objects.select_for_update().get(pk=answer.pk)
    held.item, held.sitting = answer.item, answer.sitting
    return held
