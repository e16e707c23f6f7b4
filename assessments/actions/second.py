"""Blind second marking: asked for, given, settled."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.changes import Kind, record_change
from assessments.items import kind_of
from assessments.models import Adjustment, Answer, Comment, Mark, Notice, Review, SecondMarking
from assessments.rules import Refused, shown_points, standing_points
from shared.accounts.models import Membership


@transaction.atomic
def ask_second_marking(*, answer: Answer, second: Membership, by: Membership, why: str) -> SecondMarking:
    """Ask another mentor for their own mark of an answer. What the first said stays hidden from them.

    If the answer was returned already, its mark as it stands is the first one.
    """
    Answer.objects.select_for_update().get(pk=answer.pk)
    if not Mark.objects.filter(answer=answer, current=True).exists():
        raise Refused(_("The answer has no mark yet: the first is given before a second is asked for."))
    review = Review.objects.filter(answer=answer).select_related("mentor").first()
    _refuse_second(answer, second, review)
    if answer.second_markings.filter(settled_at=None, withdrawn_at=None).exists():
        raise Refused(_("A second marking of this answer is under way."))
    made = SecondMarking.objects.create(answer=answer, second=second, asked_by=by, why=why)
    words = _("%(name)s is asked. %(why)s") % {"name": second.person, "why": why}
    record_change(kind=Kind.SECOND_ASKED, answer=answer, by=by, words=words)
    if review is not None and review.returned_at:
        set_first_mark(answer=answer, mentor=review.mentor)
    made.refresh_from_db()
    return made


def _refuse_second(answer: Answer, second: Membership, review: Review | None) -> None:
    if not second.mentor or second.left_at or second.club_id != answer.sitting.trainee.club_id:
        raise Refused(_("Choose a mentor of the club."))
    if second.pk == answer.sitting.trainee_id:
        raise Refused(_("Nobody marks their own answer."))
    if review is not None and review.mentor_id == second.pk:
        raise Refused(_("%(name)s has looked at it first: choose another.") % {"name": second.person})
    said = Comment.objects.filter(answer=answer, author=second, second=None)
    if said.exists() or Adjustment.objects.filter(answer=answer, made_by=second).exists():
        raise Refused(_("%(name)s has said something of it: choose another.") % {"name": second.person})


@transaction.atomic
def set_first_mark(*, answer: Answer, mentor: Membership) -> None:
    """The mark as it stands is the first of two, if a second was asked for; from now on it holds still."""
    opened = answer.second_markings.filter(settled_at=None, withdrawn_at=None, first_at=None)
    found = opened.select_for_update().first()
    if found is None or found.second_id == mentor.pk:
        return
    mark = Mark.objects.get(answer=answer, current=True)
    adjustment = answer.adjustments.filter(taken_back_at=None).first()
    found.first, found.first_at = mentor, timezone.now()
    found.first_points = standing_points(mark, adjustment)
    found.first_words = adjustment.reason if adjustment else _words_of(mark)
    found.save(update_fields=["first", "first_at", "first_points", "first_words"])
    record_change(kind=Kind.FIRST_GIVEN, answer=answer, by=mentor, after=found.first_points)


def _words_of(mark: Mark) -> str:
    """What a mentor said who gave the mark by hand; nothing of one by the rules."""
    given = mark.detail.get("given")
    return kind_of(mark.answer.item).given_in_words(mark.key, given) if given else ""


def refuse_while_compared(answer: Answer) -> None:
    """Raise Refused where the first of two marks is given and nothing is settled yet."""
    held = answer.second_markings.filter(settled_at=None, withdrawn_at=None).exclude(first_at=None)
    if held.exists():
        raise Refused(_("A second marking is under way: this mark holds still until it is settled."))


@transaction.atomic
def give_second_mark(*, marking: SecondMarking, points: Decimal, words: str) -> SecondMarking:
    """The second mentor's own mark with its reason, once; from now on the two can be compared."""
    held = _hold(marking)
    if held.second_at:
        raise Refused(_("Your mark is given."))
    held.second_points, held.second_words, held.second_at = points, words, timezone.now()
    held.save(update_fields=["second_points", "second_words", "second_at"])
    record_change(kind=Kind.SECOND_GIVEN, answer=held.answer, by=held.second, after=points, words=words)
    return held


@transaction.atomic
def settle_second_marking(
    *,
    marking: SecondMarking,
    by: Membership,
    stands: SecondMarking.Stands,
    reason: str,
    points: Decimal | None = None,
) -> SecondMarking:
    """Say which mark stands, with the reason the trainee reads; `points` where it is neither of the two.

    The mark by the rules stays; what stands differs from it by an adjustment that is the club's.
    """
    held = _hold(marking)
    if not held.given:
        raise Refused(_("Both marks are needed first."))
    if by.pk == held.second_id:
        raise Refused(_("Who marked second does not settle it."))
    chosen = {"first": held.first_points, "second": held.second_points, "other": points}[stands]
    if chosen is None or not 0 <= chosen <= 100:
        raise Refused(_("Give the mark that stands, from 0 to 100."))
    held.settled_by, held.settled_at, held.stands = by, timezone.now(), stands
    held.settled_points, held.reason = chosen, reason
    held.save(update_fields=["settled_by", "settled_at", "stands", "settled_points", "reason"])
    _let_stand(held, by)
    return held


def _let_stand(held: SecondMarking, by: Membership) -> None:
    answer = held.answer
    mark = Mark.objects.get(answer=answer, current=True)
    before = standing_points(mark, answer.adjustments.filter(taken_back_at=None).first())
    change = held.settled_points - shown_points(mark)
    if before != held.settled_points:
        answer.adjustments.filter(taken_back_at=None).update(taken_back_at=held.settled_at)
        if change:
            Adjustment.objects.create(
                answer=answer,
                mark=mark,
                made_by=by,
                what=_("two marks compared"),
                points=change,
                reason=held.reason,
                second=held,
            )
    record_change(
        kind=Kind.SETTLED, answer=answer, by=by, before=before, after=held.settled_points, words=held.reason
    )
    if before != held.settled_points:
        names = {"quiz": answer.sitting.quiz.title, "n": answer.position + 1}
        names["points"] = f"{held.settled_points:.1f}"
        words = _("%(quiz)s, item %(n)d, was marked twice and compared: your mark is %(points)s of 100.")
        Notice.objects.create(member_id=answer.sitting.trainee_id, answer=answer, text=words % names)


@transaction.atomic
def withdraw_second_marking(*, marking: SecondMarking, by: Membership) -> None:
    """Do without it, while the second mark is not given."""
    held = _hold(marking)
    if held.second_at:
        raise Refused(_("The second mark is given: settle it instead."))
    held.withdrawn_at = timezone.now()
    held.save(update_fields=["withdrawn_at"])
    record_change(kind=Kind.SECOND_WITHDRAWN, answer=held.answer, by=by)


@transaction.atomic
def pin_second_comment(
    *, marking: SecondMarking, text: str, x: float | None = None, y: float | None = None
) -> Comment:
    """The second mentor's words on a spot or on the answer; read where the two are compared."""
    held = _hold(marking)
    if held.second_at:
        raise Refused(_("Your mark is given."))
    return Comment.objects.create(answer=held.answer, author=held.second, second=held, text=text, x=x, y=y)


def _hold(marking: SecondMarking) -> SecondMarking:
    """The row, locked, if something can still be done about it."""
    held = (
        SecondMarking.objects.select_for_update(of=("self",))
        .select_related("second__person", "answer__sitting__quiz")
        .get(pk=marking.pk)
    )
    if not held.open:
        raise Refused(_("This second marking is over."))
    return held
