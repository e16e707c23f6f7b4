"""What a mentor does with an answer, and what a trainee may ask of it."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.changes import Kind, record_change
from assessments.actions.second import refuse_while_compared, set_first_mark
from assessments.models import Adjustment, Answer, Comment, Mark, Notice, Query, Review
from assessments.rules import Refused, shown_points, standing_points
from shared.accounts.models import Membership


@transaction.atomic
def open_review(*, answer: Answer, mentor: Membership) -> Review:
    """The answer's review, begun by whoever of its mentors looks first."""
    review, _made = Review.objects.get_or_create(answer=answer, defaults={"mentor": mentor})
    return review


@transaction.atomic
def pin_comment(
    *, answer: Answer, author: Membership, text: str, x: float | None = None, y: float | None = None
) -> Comment:
    """Say something of a spot on the picture, or of the answer as a whole."""
    return Comment.objects.create(answer=answer, author=author, text=text, x=x, y=y)


@transaction.atomic
def remove_comment(*, comment: Comment) -> None:
    """Take one's own comment away; it stays on record."""
    comment.removed_at = timezone.now()
    comment.save(update_fields=["removed_at"])


@transaction.atomic
def adjust_mark(*, answer: Answer, mentor: Membership, what: str, points: Decimal, reason: str) -> Adjustment:
    """Add points to the mark as shown, with a reason; the mark by the rules stays beside it.

    An earlier adjustment is taken back by a new one. The sum must stay within 0 and 100.
    """
    Answer.objects.select_for_update().get(pk=answer.pk)
    refuse_while_compared(answer)
    mark = Mark.objects.get(answer=answer, current=True)
    if not 0 <= shown_points(mark) + points <= 100:
        raise Refused(
            _("The adjusted mark must lie between 0 and 100; by the rules it is %(mark)s.")
            % {"mark": shown_points(mark)}
        )
    before = standing_points(mark, withdraw_adjustment(answer=answer))
    made = Adjustment.objects.create(
        answer=answer, mark=mark, made_by=mentor, what=what, points=points, reason=reason
    )
    record_change(
        kind=Kind.ADJUSTED,
        answer=answer,
        by=mentor,
        before=before,
        after=standing_points(mark, made),
        words=f"{what}. {reason}",
    )
    return made


@transaction.atomic
def take_back_adjustment(*, answer: Answer, by: Membership) -> None:
    """Let the mark by the rules stand again; the adjustment stays on record."""
    Answer.objects.select_for_update().get(pk=answer.pk)
    refuse_while_compared(answer)
    taken = withdraw_adjustment(answer=answer)
    if taken is not None:
        mark = Mark.objects.get(answer=answer, current=True)
        record_change(
            kind=Kind.TAKEN_BACK,
            answer=answer,
            by=by,
            before=standing_points(mark, taken),
            after=shown_points(mark),
            words=taken.what,
        )


def withdraw_adjustment(*, answer: Answer) -> Adjustment | None:
    """Take back the adjustment that stands, if one does, and say which it was."""
    standing = answer.adjustments.filter(taken_back_at=None).first()
    if standing is not None:
        answer.adjustments.filter(pk=standing.pk).update(taken_back_at=timezone.now())
    return standing


@transaction.atomic
def return_answer(*, answer: Answer, mentor: Membership, upheld: bool = False, reply: str = "") -> Review:
    """Give the answer back to the trainee, who is told; an open query is settled by it, upheld or not.

    Where a second marking was asked for, the mark as it stands now is the first of the two.
    """
    review = open_review(answer=answer, mentor=mentor)
    review.mentor, review.returned_at = mentor, timezone.now()
    review.save(update_fields=["mentor", "returned_at"])
    queried = Query.objects.filter(answer=answer, settled_at=None).update(
        settled_at=review.returned_at, settled_by=mentor, upheld=upheld, reply=reply
    )
    set_first_mark(answer=answer, mentor=mentor)
    _tell_of_return(answer, mentor, queried=bool(queried), upheld=upheld)
    return review


def _tell_of_return(answer: Answer, mentor: Membership, *, queried: bool, upheld: bool) -> None:
    words = _("%(name)s has looked at %(quiz)s, item %(n)d.")
    if queried and upheld:
        words += " " + _("Your query is upheld: it is noted for the key’s next version.")
    elif queried:
        words += " " + _("Your query is answered; the key stays as it is.")
    names = {"name": mentor.person.name, "quiz": answer.sitting.quiz.title, "n": answer.position + 1}
    Notice.objects.create(
        member_id=answer.sitting.trainee_id, answer=answer, by=mentor.person, text=words % names
    )


@transaction.atomic
def ask_query(*, answer: Answer, text: str) -> Query:
    """A trainee asks for a second look; the answer is in its mentors' queue again."""
    if not answer.handed_in_at:
        raise Refused(_("Hand the answer in first."))
    query, made = Query.objects.get_or_create(answer=answer, defaults={"text": text})
    if not made:
        raise Refused(_("You have asked about this mark already."))
    Review.objects.filter(answer=answer).update(returned_at=None)
    return query
