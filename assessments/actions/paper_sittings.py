"""A candidate's way through a paper: declare and begin, save as one goes, hand in all at once or be timed out.

Nothing is marked while a paper is answered: a save does the same work whatever it says. The clock is the
server's; each function takes the moment as `now`.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone
from django.utils.formats import time_format
from django.utils.translation import gettext as _

from assessments.actions.sittings import Saved, save_answer
from assessments.items import kind_of
from assessments.lots import order_for
from assessments.models import Answer, Candidate, LateAnswer, PaperSitting, Quiz, QuizItem, Sitting
from assessments.queries.items import askable_items, withheld_in
from assessments.queries.papers import refusal_to_sit, regulations_on
from assessments.rules import GRACE, Refused
from assessments.tasks import remark_quiz
from shared.accounts.models import Membership

Handed = PaperSitting.Handed


class TimeOver(Refused):
    """A save that came after the end of the paper and its grace; what it said is kept, but does not count."""


@transaction.atomic
def begin_paper(
    *, candidate: Candidate, declaration: str, now: datetime.datetime | None = None
) -> PaperSitting:
    """The candidate's sitting, begun by accepting the declaration; its time runs from now.

    Begun already, the same sitting. Refused outside the window and where the regulations do not allow it.
    """
    now = now or timezone.now()
    held = _hold(candidate)
    if hasattr(held, "sitting"):
        return held.sitting
    paper = held.paper
    if paper.set_at is None or paper.quiz.state != Quiz.State.OPEN:
        raise Refused(_("This paper cannot be begun."))
    if now < paper.opens_at:
        raise Refused(_("This paper cannot be begun yet."))
    if now >= paper.closes_at:
        raise Refused(_("The time in which this paper could be begun is over."))
    return _begin(held, now, declaration=declaration, ends_at=now + held.time)


@transaction.atomic
def begin_typing(
    *, candidate: Candidate, steward: Membership, now: datetime.datetime | None = None
) -> PaperSitting:
    """A sitting for answers given on paper, for a steward to type in. Who typed is kept.

    Refused where the candidate answers here themselves, and to a steward who is still to sit the paper.
    """
    held = _hold(candidate)
    if held.paper.candidates.filter(member=steward, sitting__sitting__finished_at=None).exists():
        raise Refused(_("You are a candidate of this paper yourself: another steward types in."))
    begun = getattr(held, "sitting", None)
    if begun is not None and begun.ends_at is not None:
        raise Refused(_("This candidate answers on the screen: nothing can be typed in for them."))
    if held.paper.set_at is None or (begun is None and held.paper.quiz.state != Quiz.State.OPEN):
        raise Refused(_("This paper cannot be begun."))
    begun = begun or _begin(held, now or timezone.now(), declaration="", ends_at=None)
    begun.typed_by.add(steward)
    return begun


def _begin(
    candidate: Candidate, now: datetime.datetime, *, declaration: str, ends_at: datetime.datetime | None
) -> PaperSitting:
    paper, today = candidate.paper, timezone.localdate(now)
    regulations = regulations_on(paper.quiz.edition.breed.club, today)
    if regulations is None:
        raise Refused(_("The club has laid down no regulations for examinations that are in force."))
    why_not = refusal_to_sit(candidate, regulations, today)
    if why_not:
        raise Refused(why_not)
    items = list(
        QuizItem.objects.filter(quiz=paper.quiz, item__in=askable_items(today)).values_list("item", flat=True)
    )
    if not items:
        raise Refused(_("None of this paper’s pictures may be shown at present."))
    sitting = Sitting.objects.create(quiz=paper.quiz, trainee=candidate.member, number=1, begun_at=now)
    Answer.objects.bulk_create(
        Answer(sitting=sitting, item_id=item, position=position)
        for position, item in enumerate(order_for(sorted(items), paper.seed, candidate.number))
    )
    return PaperSitting.objects.create(
        sitting=sitting,
        candidate=candidate,
        regulations=regulations,
        declaration=declaration,
        ends_at=ends_at,
    )


def save_paper_answer(
    *,
    answer: Answer,
    sent: object,
    seen: int,
    identity: uuid.UUID,
    steward: Membership | None = None,
    now: datetime.datetime | None = None,
) -> Saved:
    """Keep one answer of a paper that is being sat; see `save_answer` for what is raised.

    After the end and its grace TimeOver is raised; the caller puts what was sent on record by `keep_late`.
    The clock is asked before the database is locked, so that savers wait for one another as little as can be;
    an answer that is handed in meanwhile is refused under the lock.
    """
    sitting = PaperSitting.objects.select_related("sitting").get(sitting=answer.sitting_id)
    if is_over(sitting, now or timezone.now()):
        raise TimeOver(_late_words(sitting))
    if steward is not None:
        sitting.typed_by.add(steward)
    return save_answer(answer=answer, sent=sent, seen=seen, identity=identity)


@transaction.atomic
def keep_late(*, answer: Answer, sent: object, now: datetime.datetime | None = None) -> LateAnswer | None:
    """Put what came too late on record, the newest of it; nothing if it is what was handed in.

    AnswerRefused if it cannot be read.
    """
    content = kind_of(answer.item).read_content(answer.item, answer.sitting.quiz.rules_versions.first(), sent)
    if content == answer.content:
        return None
    late, _made = LateAnswer.objects.update_or_create(
        answer=answer, defaults={"content": content, "received_at": now or timezone.now()}
    )
    return late


@transaction.atomic
def hand_in_paper(
    *,
    sitting: PaperSitting,
    how: PaperSitting.Handed = Handed.CANDIDATE,
    now: datetime.datetime | None = None,
) -> None:
    """Hand in all answers as they are, once; they are marked in the background and stay sealed.

    As in practice, an item whose picture may no longer be shown is passed over: it gets no mark and does not
    count.
    """
    held = Sitting.objects.select_for_update().get(pk=sitting.sitting_id)
    if held.finished_at is not None:
        return
    held.finished_at = now or timezone.now()
    held.save(update_fields=["finished_at"])
    withheld = withheld_in(held, timezone.localdate(held.finished_at))
    held.answers.filter(item__in=withheld).update(passed_over_at=held.finished_at)
    held.answers.filter(passed_over_at=None).update(handed_in_at=held.finished_at)
    PaperSitting.objects.filter(pk=sitting.pk).update(handed_in=how)
    remark_quiz.enqueue(held.quiz_id)


def hand_in_if_over(*, sitting: PaperSitting, now: datetime.datetime | None = None) -> bool:
    """Hand in what is there if the time is over; returns whether the sitting is finished."""
    if sitting.sitting.finished_at is not None:
        return True
    if not is_over(sitting, now or timezone.now()):
        return False
    hand_in_paper(sitting=sitting, how=Handed.TIME, now=sitting.ends_at)
    sitting.sitting.refresh_from_db()
    return True


def hand_in_overdue(*, sittings: Iterable[PaperSitting], now: datetime.datetime | None = None) -> int:
    """The same for many; returns how many were handed in by it."""
    open_ones = [sitting for sitting in sittings if sitting.sitting.finished_at is None]
    return sum(hand_in_if_over(sitting=sitting, now=now) for sitting in open_ones)


def is_over(sitting: PaperSitting, now: datetime.datetime) -> bool:
    """Whether nothing is taken any more: the time and its grace are past, or all is handed in."""
    if sitting.sitting.finished_at is not None:
        return True
    return sitting.ends_at is not None and now >= sitting.ends_at + GRACE


def _late_words(sitting: PaperSitting) -> str:
    if sitting.handed_in in (Handed.CANDIDATE, Handed.STEWARD):
        return _(
            "The paper is handed in. This came after it and does not count; it is kept for the club to see."
        )
    words = _(
        "The time was over at %(end)s. What was saved by then is handed in. This came later and does not count; "
        "it is kept for the club to see."
    )
    return words % {"end": time_format(timezone.localtime(sitting.ends_at))}


def _hold(candidate: Candidate) -> Candidate:
    """The candidate's row, locked until the transaction ends."""
    return (
        Candidate.objects.select_for_update(of=("self",))
        .select_related("paper__quiz__edition__breed__club", "member")
        .get(pk=candidate.pk)
    )
