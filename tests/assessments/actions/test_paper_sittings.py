"""A candidate's way through a paper, by a clock that the tests hold."""

from __future__ import annotations

import datetime
import io
import uuid

import pytest
from django.core.management import call_command
from django.utils import timezone

from assessments.actions.candidates import grant_time, invite_candidates, withdraw_candidate
from assessments.actions.paper_sittings import (
    TimeOver,
    begin_paper,
    begin_typing,
    hand_in_if_over,
    hand_in_paper,
    keep_late,
    save_paper_answer,
)
from assessments.actions.sittings import Overtaken, begin_sitting
from assessments.models import Answer, LateAnswer, Mark, PaperSitting, SavedStep
from assessments.rules import GRACE, Refused
from tests import makers
from tests.makers.papers import (
    DAY,
    HOUR,
    give,
    make_candidate,
    make_paper_sitting,
    make_regulations,
    make_set_paper,
    right,
    wrong,
)

SECOND = datetime.timedelta(seconds=1)


def test_numbers_are_given_by_lot_and_kept(cast, paper):
    trainees = [makers.make_trainee(cast.club, f"Trainee {n}") for n in range(30)]
    made = invite_candidates(paper=paper, members=trainees, by=cast.secretary.person)
    numbers = [candidate.number for candidate in made]
    assert len(set(numbers)) == 30
    assert all(100 <= number < 1000 for number in numbers)
    assert numbers != sorted(numbers)
    assert invite_candidates(paper=paper, members=trainees[:2], by=cast.secretary.person) == []
    assert list(paper.candidates.values_list("number", flat=True)) == sorted(numbers)


def test_time_is_granted_beforehand_and_runs_from_the_beginning(candidate):
    grant_time(candidate=candidate, minutes=5, percent=25)
    now = timezone.now()
    sitting = make_paper_sitting(candidate, now=now)
    assert sitting.ends_at - now == datetime.timedelta(minutes=60 + 15 + 5)
    with pytest.raises(Refused):
        grant_time(candidate=candidate, minutes=30, percent=0)
    with pytest.raises(Refused):
        withdraw_candidate(candidate=candidate)


def test_a_paper_is_begun_within_its_window_and_once(paper, candidate):
    for moment, words in [(paper.opens_at - SECOND, "yet"), (paper.closes_at, "is over")]:
        with pytest.raises(Refused, match=words):
            begin_paper(candidate=candidate, declaration="", now=moment)
    late = paper.closes_at - SECOND
    sitting = begin_paper(candidate=candidate, declaration="I declare.", now=late)
    assert sitting.ends_at == late + HOUR, "Who begins in time has the whole time."
    assert begin_paper(candidate=candidate, declaration="", now=late + HOUR) == sitting
    assert sitting.declaration == "I declare."
    assert sitting.regulations == paper.quiz.edition.breed.club.regulations.get()


def test_a_paper_is_no_practice_quiz(cast, paper):
    with pytest.raises(Refused):
        begin_sitting(quiz=paper.quiz, trainee=cast.trainee)


def test_each_candidate_has_the_items_in_an_order_of_their_own(cast, edition):
    paper = make_set_paper(edition, cast.educator, shoulders=2, backs=2)
    orders = set()
    for n in range(8):
        candidate = make_candidate(paper, makers.make_trainee(cast.club, f"Trainee {n}"), cast.educator)
        items = make_paper_sitting(candidate).sitting.answers.values_list("item", flat=True)
        orders.add(tuple(items))
    assert len(orders) > 1
    assert {frozenset(order) for order in orders} == {
        frozenset(paper.quiz.items.values_list("pk", flat=True))
    }


def test_saves_are_taken_until_the_grace_is_over_and_kept_apart_afterwards(candidate):
    sitting = make_paper_sitting(candidate)
    first, second, _third = sitting.sitting.answers.all()
    give(first, wrong(first), now=sitting.ends_at - SECOND)
    give(first, right(first), now=sitting.ends_at + GRACE - SECOND)
    after = sitting.ends_at + GRACE
    with pytest.raises(TimeOver, match="does not count; it is kept"):
        give(second, right(second), now=after)
    assert not hand_in_if_over(sitting=sitting, now=after - SECOND)
    assert hand_in_if_over(sitting=sitting, now=after)
    keep_late(answer=second, sent=right(second), now=after)
    keep_late(answer=second, sent=wrong(second), now=after + SECOND)
    assert keep_late(answer=Answer.objects.get(pk=first.pk), sent=right(first)) is None
    late = LateAnswer.objects.get()
    assert (late.answer, late.content) == (second, wrong(second))
    sitting.refresh_from_db()
    assert (sitting.handed_in, sitting.sitting.finished_at) == ("time", sitting.ends_at)
    scores = dict(Mark.objects.values_list("answer__position", "score"))
    assert scores == {0: 1.0, 1: 0.0, 2: 0.0}, "What came late counts for nothing."


def test_the_daily_work_hands_in_what_nobody_came_back_to(cast, paper, candidate):
    long_ago = timezone.now() - 3 * HOUR
    type(paper).objects.filter(pk=paper.pk).update(opens_at=long_ago - HOUR)
    sitting = make_paper_sitting(candidate, now=long_ago)
    other = make_paper_sitting(
        make_candidate(paper, makers.make_trainee(cast.club, "Erlend Scollay"), cast.educator)
    )
    said = io.StringIO()
    call_command("daily", stdout=said)
    assert "Papers handed in since their time was over: 1." in said.getvalue()
    sitting.sitting.refresh_from_db()
    other.sitting.refresh_from_db()
    assert sitting.sitting.finished_at == sitting.ends_at
    assert other.sitting.finished_at is None


def test_a_save_counts_once_and_never_overwrites_what_it_has_not_seen(candidate):
    answer = make_paper_sitting(candidate).sitting.answers.first()
    identity = uuid.uuid4()
    for _ in range(2):
        saved = save_paper_answer(answer=answer, sent=wrong(answer), seen=0, identity=identity)
        assert saved.revision == 1
    with pytest.raises(Overtaken):
        save_paper_answer(answer=answer, sent=right(answer), seen=0, identity=uuid.uuid4())
    assert SavedStep.objects.count() == 1


def test_saving_marks_nothing_and_handing_in_marks_all_once(candidate):
    sitting = make_paper_sitting(candidate)
    for answer in sitting.sitting.answers.all():
        give(answer, right(answer))
    assert not Mark.objects.exists()
    for _press in range(2):
        hand_in_paper(sitting=sitting)
    assert [mark.score for mark in Mark.objects.all()] == [1.0] * 3
    assert sitting.candidate.member.notices.count() == 0
    with pytest.raises(TimeOver, match="The paper is handed in"):
        give(sitting.sitting.answers.first(), makers.said(nothing_found=True))


def test_attempts_and_waits_are_counted_over_the_papers_of_a_breed(cast, edition, paper, candidate):
    begun = timezone.now() - 20 * DAY
    type(paper).objects.filter(pk=paper.pk).update(opens_at=begun - DAY)
    make_paper_sitting(candidate, right_ones=0, now=begun)
    second = make_set_paper(edition, cast.educator, title="Second")
    again = make_candidate(second, cast.trainee, cast.educator)
    with pytest.raises(Refused, match="30 days between attempts"):
        make_paper_sitting(again)
    type(paper.quiz.sittings.get()).objects.update(begun_at=begun - 10 * DAY)
    make_paper_sitting(again, right_ones=0)
    third = make_set_paper(edition, cast.educator, title="Third")
    with pytest.raises(Refused, match="allow 2 attempts"):
        make_paper_sitting(make_candidate(third, cast.trainee, cast.educator))
    make_regulations(cast.club, attempts=None, wait_days=0, effective_from=timezone.localdate())
    make_paper_sitting(third.candidates.get())


def test_a_sitting_keeps_the_regulations_under_which_it_began(cast, candidate):
    first = cast.club.regulations.get()
    sitting = make_paper_sitting(candidate)
    make_regulations(cast.club, pass_mark=90, effective_from=timezone.localdate())
    sitting.refresh_from_db()
    assert sitting.regulations == first


def test_a_steward_types_in_what_was_written_on_paper(cast, paper, candidate):
    sitting = begin_typing(candidate=candidate, steward=cast.secretary)
    answer = sitting.sitting.answers.first()
    give(answer, right(answer), steward=cast.educator, now=timezone.now() + 9 * DAY)
    hand_in_paper(sitting=sitting, how=PaperSitting.Handed.STEWARD)
    assert set(sitting.typed_by.all()) == {cast.secretary, cast.educator}
    assert sitting.ends_at is None
    on_screen = make_candidate(paper, makers.make_trainee(cast.club, "Erlend Scollay"), cast.educator)
    make_paper_sitting(on_screen)
    with pytest.raises(Refused):
        begin_typing(candidate=on_screen, steward=cast.secretary)
    written = make_candidate(paper, makers.make_trainee(cast.club, "Osla Tulloch"), cast.educator)
    make_candidate(paper, cast.educator, cast.educator)
    with pytest.raises(Refused, match="You are a candidate of this paper yourself"):
        begin_typing(candidate=written, steward=cast.educator)
