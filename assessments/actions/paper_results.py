"""Results of a paper: a borderline one is settled by a person, all are released together."""

from __future__ import annotations

import datetime

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.actions.marking import remark
from assessments.actions.paper_sittings import hand_in_overdue
from assessments.models import Item, Notice, Paper, PaperResult, PaperSitting, Quiz
from assessments.queries.paper_results import Decision, Outcome, outcomes_of, unmarked_in
from assessments.queries.papers import sittings_of
from assessments.rules import NotReady, Refused
from shared.accounts.models import Person


@transaction.atomic
def settle_result(
    *, sitting: PaperSitting, settled: PaperSitting.Settled, note: str, by: Person
) -> PaperSitting:
    """Decide a borderline result, with the reason; known by its number alone, as all until the release."""
    if not Paper.objects.filter(pk=sitting.candidate.paper_id, released_at=None).exists():
        raise Refused(_("The results are released."))
    sitting.settled, sitting.settled_note, sitting.settled_by = settled, note, by
    sitting.save(update_fields=["settled", "settled_note", "settled_by"])
    return sitting


@transaction.atomic
def end_paper(*, paper: Paper, now: datetime.datetime | None = None) -> None:
    """Nobody begins it any more; who has begun keeps their time."""
    Paper.objects.filter(pk=paper.pk).update(closes_at=now or timezone.now())


@transaction.atomic
def mark_paper(*, paper: Paper) -> None:
    """Mark now what the background has not marked yet."""
    items = Item.objects.filter(answers__in=unmarked_in(paper).order_by().values("pk")).distinct()
    for item in items:
        remark(item=item, quiz_id=paper.quiz_id)


@transaction.atomic
def release_results(*, paper: Paper, by: Person, now: datetime.datetime | None = None) -> list[PaperResult]:
    """Tell the candidates their results and open names and numbers. Released again, only what changed.

    NotReady says what stands against it: the paper can still be begun, someone is sitting, or an answer has
    no mark.
    """
    now = now or timezone.now()
    held = Paper.objects.select_for_update(of=("self",)).select_related("quiz").get(pk=paper.pk)
    hand_in_overdue(sittings=sittings_of(held), now=now)
    mark_paper(paper=held)
    missing = standing_against(held, now)
    if missing:
        raise NotReady(missing)
    outcomes = outcomes_of(held)
    changed = [each for each in outcomes if not each.void and (each.released is None or each.changed)]
    made = [_result(each, now) for each in changed]
    PaperResult.objects.bulk_create(made)
    _tell(held, changed)
    if held.released_at is None:
        _tell_of_none(held, [each for each in outcomes if each.void])
    held.released_at, held.released_by = held.released_at or now, by
    held.save(update_fields=["released_at", "released_by"])
    Quiz.objects.filter(pk=held.quiz_id).update(state=Quiz.State.CLOSED)
    return made


def standing_against(paper: Paper, now: datetime.datetime) -> list[str]:
    """Why the results cannot be released yet, in words."""
    missing = []
    sittings = sittings_of(paper)
    if not sittings.exists():
        missing.append(_("Nobody has sat the paper."))
    elif paper.released_at is None and paper.closes_at and now < paper.closes_at and _awaited(paper):
        missing.append(_("The paper can still be begun, and not every candidate has sat it."))
    going = sittings.filter(sitting__finished_at=None).count()
    if going:
        words = ngettext("One candidate is still sitting.", "%(n)d candidates are still sitting.", going)
        missing.append(words % {"n": going})
    unmarked = unmarked_in(paper).count()
    if unmarked:
        words = ngettext("One answer is not marked yet.", "%(n)d answers are not marked yet.", unmarked)
        missing.append(words % {"n": unmarked})
    return missing


def _awaited(paper: Paper) -> bool:
    return paper.candidates.filter(sitting=None).exists()


def _result(outcome: Outcome, now: datetime.datetime) -> PaperResult:
    return PaperResult(
        sitting=outcome.sitting,
        score=outcome.score or 0.0,
        pass_mark=outcome.pass_mark,
        sem=outcome.sem,
        decision=outcome.decision or Decision.BORDERLINE,
        settled=outcome.settled,
        released_at=now,
    )


def _tell(paper: Paper, outcomes: list[Outcome]) -> None:
    first, again = _("The result of “%(paper)s” is released."), _("The result of “%(paper)s” has changed.")
    Notice.objects.bulk_create(
        _notice(paper, outcome, first if outcome.released is None else again) for outcome in outcomes
    )


def _tell_of_none(paper: Paper, outcomes: list[Outcome]) -> None:
    words = _("“%(paper)s” has no result for you: its pictures were withdrawn. It was no attempt.")
    Notice.objects.bulk_create(_notice(paper, outcome, words) for outcome in outcomes)


def _notice(paper: Paper, outcome: Outcome, words: str) -> Notice:
    text = (words % {"paper": paper.quiz.title})[:300]
    return Notice(member_id=outcome.sitting.candidate.member_id, text=text)
