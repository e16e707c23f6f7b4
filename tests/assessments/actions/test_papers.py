"""Examination papers on the desk: regulations, plan, draw, swap, setting."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest
from django.utils import timezone

from assessments.actions.papers import (
    draw_paper,
    lay_down_regulations,
    make_paper,
    plan_paper,
    remove_paper,
    set_paper,
    swap_item,
    take_back_paper,
)
from assessments.drawable import bank_of
from assessments.models import Item, Key, Quiz
from assessments.queries.papers import regulations_on
from assessments.queries.quizzes import quizzes_of
from assessments.rules import NotReady, PlanRow, Refused, suggested_minutes
from tests.makers.papers import (
    DAY,
    KIND,
    make_bank,
    make_candidate,
    make_drawn_paper,
    make_paper_sitting,
    make_regulations,
    make_set_paper,
    plan_for,
)


def drawn(paper):
    return list(paper.quiz.quiz_items.values_list("item", flat=True))


def test_the_bank_holds_what_is_in_use_fit_and_may_be_shown(cast, edition):
    shoulder, unfit, retired, back, hidden, sound = make_bank(edition, cast.educator, 3, 2, 1)
    Key.objects.filter(item=unfit).update(fit="discussion")
    Item.objects.filter(pk=retired.pk).update(state="retired")
    hidden.exhibit.state = "withdrawn"
    hidden.exhibit.save()
    bank = bank_of(edition, timezone.localdate())
    assert {each.item for each in bank.items} == {shoulder, back, sound}
    assert bank.unfit == 1
    five, six = (edition.sections.get(number=number).pk for number in "56")
    assert bank.available() == {(five, KIND, False): 1, (six, KIND, False): 1, (None, KIND, True): 1}
    assert bank.kinds() == [KIND]


def test_the_bank_is_read_in_a_fixed_number_of_queries(cast, edition, django_assert_num_queries):
    make_bank(edition, cast.educator, 4, 4, 2)
    with django_assert_num_queries(4):
        assert len(bank_of(edition, timezone.localdate()).items) == 10


def test_a_draw_fills_the_plan_and_is_the_same_for_its_seed(cast, edition):
    items = make_bank(edition, cast.educator, 4, 4, 3)
    paper = make_drawn_paper(edition, cast.educator, seed=11, shoulders=2, backs=1, sound=1)
    first = drawn(paper)
    held = [items.index(Item.objects.get(pk=pk)) for pk in first]
    assert sorted(place // 4 for place in held) == [0, 0, 1, 2]
    assert drawn(draw_paper(paper=paper, seed=12)) != first
    assert drawn(draw_paper(paper=paper, seed=11)) == first
    assert paper.quiz.purpose == Quiz.Purpose.PAPER
    assert not quizzes_of(cast.club).exists()


def test_a_plan_that_the_bank_cannot_fill_is_not_drawn(cast, edition):
    make_bank(edition, cast.educator, 1, 1, 0)
    paper = make_paper(edition=edition, title="Too much", by=cast.educator.person)
    with pytest.raises(NotReady):
        draw_paper(paper=paper)
    plan_paper(paper=paper, plan=plan_for(edition, sound=2))
    with pytest.raises(NotReady):
        draw_paper(paper=paper)
    assert drawn(paper) == []


def test_another_plan_undoes_the_draw_and_the_same_plan_does_not(cast, edition):
    make_bank(edition, cast.educator)
    paper = make_drawn_paper(edition, cast.educator)
    plan_paper(paper=paper, plan=plan_for(edition))
    assert len(drawn(paper)) == 3
    plan_paper(paper=paper, plan=plan_for(edition, sound=0))
    assert drawn(paper) == []
    with pytest.raises(Refused):
        plan_paper(paper=paper, plan=[PlanRow(None, KIND, True, 61)])


def test_a_swap_keeps_the_place_and_the_row(cast, edition):
    make_bank(edition, cast.educator, 3, 1, 1)
    paper = make_drawn_paper(edition, cast.educator)
    shoulders = {item.pk for item in Item.objects.filter(keys__entries__fault__name="Upright shoulder")}
    place, gone = next((n, pk) for n, pk in enumerate(drawn(paper)) if pk in shoulders)
    seen = {gone}
    for _ in range(2):
        swap_item(paper=paper, item=Item.objects.get(pk=drawn(paper)[place]))
        paper.refresh_from_db()
        seen.add(drawn(paper)[place])
        assert set(paper.rows) == {str(pk) for pk in drawn(paper)}
    assert seen == shoulders
    alone = next(pk for pk in drawn(paper) if pk not in shoulders)
    with pytest.raises(Refused):
        swap_item(paper=paper, item=Item.objects.get(pk=alone))


def test_what_a_paper_lacks_is_said_before_it_is_set(cast, edition):
    items = make_bank(edition, cast.educator, 1, 1, 1)
    paper = make_drawn_paper(edition, cast.educator)
    with pytest.raises(NotReady, match="Lay down the club’s regulations"):
        set_paper(paper=paper, by=cast.educator.person)
    make_regulations(cast.club)
    Key.objects.filter(item=items[0]).update(fit="practice")
    with pytest.raises(NotReady, match=f"item {items[0].pk}"):
        set_paper(paper=paper, by=cast.educator.person)
    Key.objects.filter(item=items[0]).update(fit="examination")
    with pytest.raises(NotReady, match="is over"):
        set_paper(paper=paper, by=cast.educator.person, now=timezone.now() + 2 * DAY)
    set_paper(paper=paper, by=cast.educator.person)
    paper.refresh_from_db()
    assert (paper.quiz.state, paper.set_by) == (Quiz.State.OPEN, cast.educator.person)


def test_a_set_paper_stands_until_it_is_taken_back_and_for_good_once_begun(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    for act in (
        lambda: draw_paper(paper=paper),
        lambda: plan_paper(paper=paper, plan=plan_for(edition, sound=0)),
        lambda: swap_item(paper=paper, item=paper.quiz.items.first()),
        lambda: remove_paper(paper=paper),
    ):
        with pytest.raises(Refused):
            act()
    take_back_paper(paper=paper)
    set_paper(paper=paper, by=cast.educator.person)
    make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator))
    with pytest.raises(Refused):
        take_back_paper(paper=paper)


def test_regulations_are_versions_of_which_one_is_in_force_on_a_day(cast):
    today = timezone.localdate()
    first = make_regulations(cast.club)
    fields = {
        "attempts": None,
        "wait_days": 0,
        "discloses_mark": True,
        "basis": "",
        "by": cast.educator.person,
    }
    later = lay_down_regulations(
        club=cast.club, effective_from=today + 10 * DAY, pass_mark=Decimal(80), **fields
    )
    mended = lay_down_regulations(
        club=cast.club, effective_from=today + 10 * DAY, pass_mark=Decimal(85), **fields
    )
    assert regulations_on(cast.club, today - 400 * DAY) is None
    assert regulations_on(cast.club, today + 9 * DAY) == first
    assert regulations_on(cast.club, today + 10 * DAY) == mended != later
    with pytest.raises(Refused):
        lay_down_regulations(
            club=cast.club, effective_from=today - datetime.timedelta(days=1), pass_mark=Decimal(80), **fields
        )


def test_the_suggested_time_is_a_minute_and_a_half_a_question_and_ten():
    """A breed club's published rules for examinations: 1.5 minutes a question, 5 to read, 5 to check."""
    assert [suggested_minutes(items) for items in (0, 10, 25, 40)] == [10, 25, 48, 70]
