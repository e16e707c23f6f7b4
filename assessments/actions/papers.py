"""Examination papers as they are made: regulations, plan, draw, swap, and setting the paper for candidates."""

from __future__ import annotations

import datetime
import secrets
from collections.abc import Sequence
from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.quizzes import make_quiz
from assessments.drawable import Bank, bank_of
from assessments.lots import another, draw
from assessments.models import Item, Paper, Quiz, QuizItem, Regulations
from assessments.queries.papers import regulations_on
from assessments.rules import NotReady, PlanRow, Refused, plan_of
from courses.models import Edition
from shared.accounts.models import Club, Person
from shared.web.limits import ITEMS_PER_QUIZ


@transaction.atomic
def lay_down_regulations(
    *,
    club: Club,
    effective_from: datetime.date,
    pass_mark: Decimal,
    attempts: int | None,
    wait_days: int,
    discloses_mark: bool,
    basis: str,
    by: Person,
) -> Regulations:
    """A further version; those before it stay with the sittings that began under them."""
    if effective_from < timezone.localdate():
        raise Refused(_("Regulations come into force today at the earliest: sittings before keep theirs."))
    return Regulations.objects.create(
        club=club,
        effective_from=effective_from,
        pass_mark=pass_mark,
        attempts=attempts,
        wait_days=wait_days,
        discloses_mark=discloses_mark,
        basis=basis,
        made_by=by,
    )


@transaction.atomic
def make_paper(*, edition: Edition, title: str, by: Person) -> Paper:
    """An empty paper; its plan comes next."""
    quiz = make_quiz(edition=edition, title=title, by=by)
    quiz.purpose = Quiz.Purpose.PAPER
    quiz.save(update_fields=["purpose"])
    return Paper.objects.create(quiz=quiz)


@transaction.atomic
def describe_paper(
    *,
    paper: Paper,
    title: str,
    introduction: str,
    minutes: int,
    opens_at: datetime.datetime,
    closes_at: datetime.datetime,
) -> None:
    """Its title, what candidates read before they begin, its time and its window."""
    held = _hold(paper)
    _refuse_if_set(held)
    held.quiz.title, held.quiz.introduction = title, introduction
    held.quiz.save(update_fields=["title", "introduction"])
    held.minutes, held.opens_at, held.closes_at = minutes, opens_at, closes_at
    held.save(update_fields=["minutes", "opens_at", "closes_at"])


@transaction.atomic
def plan_paper(*, paper: Paper, plan: Sequence[PlanRow]) -> None:
    """How many items of which section and kind. Another plan undoes the draw."""
    held = _hold(paper)
    _refuse_if_set(held)
    wanted = [row for row in plan if row.wanted]
    if sum(row.wanted for row in wanted) > ITEMS_PER_QUIZ:
        raise Refused(_("A paper holds at most %(n)d items.") % {"n": ITEMS_PER_QUIZ})
    kept = [row.kept() for row in wanted]
    if kept == held.plan:
        return
    held.plan, held.rows, held.swapped_out, held.seed, held.drawn_at = kept, {}, [], None, None
    held.save(update_fields=["plan", "rows", "swapped_out", "seed", "drawn_at"])
    held.quiz.quiz_items.all().delete()


@transaction.atomic
def draw_paper(*, paper: Paper, seed: int | None = None) -> Paper:
    """Draw the items by lot, as the plan asks; drawn again, by another seed. The seed is kept.

    NotReady says which rows the bank cannot fill.
    """
    held = _hold(paper)
    _refuse_if_set(held)
    plan = plan_of(held.plan)
    if not plan:
        raise NotReady([_("Say in the plan how many items there are to be.")])
    bank = bank_of(held.quiz.edition, timezone.localdate())
    held.seed = secrets.randbelow(2**31) if seed is None else seed
    drawn = draw([row.wanted for row in plan], bank.tickets(plan), held.seed)
    if any(drawn.short):
        raise NotReady([_("The bank does not hold enough for this plan.")])
    held.rows = {str(item): row for item, row in drawn.chosen}
    held.swapped_out, held.drawn_at = [], timezone.now()
    held.save(update_fields=["rows", "swapped_out", "seed", "drawn_at"])
    held.quiz.quiz_items.all().delete()
    QuizItem.objects.bulk_create(
        QuizItem(quiz=held.quiz, item_id=item, position=position)
        for position, (item, _row) in enumerate(drawn.chosen)
    )
    return held


@transaction.atomic
def swap_item(*, paper: Paper, item: Item) -> Item:
    """Another item that fits in place of this one; Refused if the bank holds none."""
    held = _hold(paper)
    _refuse_if_set(held)
    place = held.quiz.quiz_items.get(item=item)
    row, plan = held.rows[str(item.pk)], plan_of(held.plan)
    others = [int(pk) for pk in held.rows if int(pk) != item.pk]
    tickets = bank_of(held.quiz.edition, timezone.localdate()).tickets(plan)
    tickets = [ticket for ticket in tickets if ticket.item != item.pk]
    chosen = another(row, tickets, others, held.swapped_out, held.seed)
    if chosen is None:
        raise Refused(_("The bank holds no other item that fits here."))
    held.rows = {pk: of for pk, of in held.rows.items() if pk != str(item.pk)} | {str(chosen): row}
    held.swapped_out = [pk for pk in held.swapped_out if pk != chosen] + [item.pk]
    held.save(update_fields=["rows", "swapped_out"])
    place.item_id = chosen
    place.save(update_fields=["item"])
    return place.item


@transaction.atomic
def set_paper(*, paper: Paper, by: Person, now: datetime.datetime | None = None) -> None:
    """Set the paper for its candidates: from now on its draw stands. NotReady says what is missing."""
    held = _hold(paper)
    _refuse_if_set(held)
    now = now or timezone.now()
    missing = lacking(held, bank_of(held.quiz.edition, timezone.localdate(now)), now)
    if missing:
        raise NotReady(missing)
    held.set_at, held.set_by = now, by
    held.save(update_fields=["set_at", "set_by"])
    held.quiz.state, held.quiz.opened_at = Quiz.State.OPEN, now
    held.quiz.save(update_fields=["state", "opened_at"])


@transaction.atomic
def take_back_paper(*, paper: Paper) -> None:
    """Back on the desk, as long as nobody has begun it."""
    held = _hold(paper)
    if held.quiz.sittings.exists():
        raise Refused(_("A candidate has begun: the paper stands as it is set."))
    held.set_at = held.set_by = None
    held.save(update_fields=["set_at", "set_by"])
    held.quiz.state = Quiz.State.DRAFT
    held.quiz.save(update_fields=["state"])


@transaction.atomic
def remove_paper(*, paper: Paper) -> None:
    """For good, if it is not set; its items and keys stay."""
    _refuse_if_set(_hold(paper))
    paper.candidates.all().delete()
    paper.quiz.delete()


def lacking(paper: Paper, bank: Bank, now: datetime.datetime) -> list[str]:
    """What a paper still needs before it can be set, in words."""
    missing = []
    drawable = {each.item.pk for each in bank.items}
    gone = [pk for pk in paper.rows if int(pk) not in drawable]
    if not paper.rows:
        missing.append(_("Draw its items."))
    if gone:
        missing.append(
            _("Swap what can no longer be asked: item %(items)s.") % {"items": ", ".join(sorted(gone))}
        )
    if paper.opens_at is None or paper.closes_at is None:
        missing.append(_("Say from when until when it can be begun."))
    elif paper.closes_at <= now:
        missing.append(_("The time in which it can be begun is over: set another."))
    elif regulations_on(paper.quiz.edition.breed.club, timezone.localdate(paper.opens_at)) is None:
        missing.append(_("Lay down the club’s regulations: no version is in force when the paper opens."))
    return missing


def _hold(paper: Paper) -> Paper:
    """The paper's row, locked until the transaction ends."""
    return (
        Paper.objects.select_for_update(of=("self",))
        .select_related("quiz__edition__breed__club")
        .get(pk=paper.pk)
    )


def _refuse_if_set(paper: Paper) -> None:
    if paper.set_at is not None:
        raise Refused(_("The paper is set: take it back first, if nobody has begun."))
