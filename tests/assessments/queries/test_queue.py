"""The queue's order, its reasons, and what is near the club's mark."""

import datetime
import uuid
from decimal import Decimal

import pytest
from django.utils import timezone

from assessments.actions.reviews import adjust_mark, ask_query, return_answer
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Answer, Figures, Mark, MentoringRules
from assessments.queries.queue import Wanted, near_the_mark, next_in_queue, queue_of
from assessments.statistics.item_analysis import PEOPLE_FOR_FIGURES
from tests import makers


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=5)


@pytest.fixture
def answers(cast, quiz):
    """Five answers handed in one after the other, each with the shoulder seen, named and weighed: 66.7."""
    makers.make_mentorship(cast.mentor, cast.trainee)
    fault = quiz.edition.breed.faults.get(name="Upright shoulder")
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    for answer in sitting.answers.all():
        sent = makers.said(makers.pin(0.35, 0.5, fault, 2))
        save_answer(answer=answer, sent=sent, seen=0, identity=uuid.uuid4())
        hand_in(answer=answer)
    for answer in sitting.answers.all():
        at = timezone.now() - datetime.timedelta(days=10 - answer.position)
        Answer.objects.filter(pk=answer.pk).update(handed_in_at=at)
    return list(sitting.answers.all())


def club_mark(cast, points, **fields):
    day = datetime.date(2026, 1, 1)
    return MentoringRules.objects.create(club=cast.club, effective_from=day, club_mark=points, **fields)


def order(cast, **wanted):
    found = queue_of(cast.mentor, Wanted(**wanted)).answers
    return [answer.position for answer in found]


def test_what_needs_a_person_most_comes_first_and_the_oldest_of_those(cast, answers):
    ask_query(answer=answers[4], text="The back is level.")
    Mark.objects.filter(answer=answers[3]).update(current=False)
    Mark.objects.filter(answer=answers[2]).update(disqualification="missed")
    assert order(cast) == [4, 3, 2, 0, 1]
    assert order(cast, by_age=True) == [0, 1, 2, 3, 4]
    assert queue_of(cast.mentor, Wanted()).counts == {
        "": 5, "query": 1, "unmarked": 1, "disqualification": 1, "near": 0, "rest": 2,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("need", "left"), [("query", [0]), ("disqualification", [0, 1]), ("rest", [2, 3, 4])]
)
def test_an_answer_with_two_reasons_is_found_by_either(cast, answers, need, left):
    ask_query(answer=answers[0], text="The back is level.")
    Mark.objects.filter(answer__in=answers[:2]).update(disqualification="overclaimed")
    assert order(cast, need=need) == left


def test_ages_and_trainees_narrow_the_queue_and_its_counts(cast, answers, quiz):
    other = makers.make_trainee(cast.club, "Ailie Tulloch")
    makers.make_mentorship(cast.mentor, other)
    makers.make_handed_in(begin_sitting(quiz=quiz, trainee=other).answers.first())
    assert len(order(cast)) == 6
    assert order(cast, days=7, trainee=cast.trainee) == [0, 1, 2, 3]
    assert queue_of(cast.mentor, Wanted(trainee=other)).count == 1


def test_a_returned_answer_leaves_and_a_query_brings_it_back(cast, answers):
    for answer in answers:
        return_answer(answer=answer, mentor=cast.mentor)
    assert (order(cast), next_in_queue(cast.mentor)) == ([], (0, None))
    ask_query(answer=answers[3], text="The back is level.")
    assert order(cast) == [3]
    asked = Answer.objects.get(pk=answers[3].pk)
    assert next_in_queue(cast.mentor, besides=asked) == (1, None)


@pytest.mark.parametrize(("mark", "near"), [("66.7", True), ("71.6", True), ("71.8", False), ("61.6", False)])
def test_a_result_within_five_points_of_the_club_s_mark_is_near_it(cast, answers, mark, near):
    # Every answer has 4 of 6 of the weights: 66.67 of 100.
    rules = club_mark(cast, Decimal(mark))
    found = near_the_mark(cast.mentor, rules)
    assert (set(found) == {answers[0].sitting_id}) is near
    assert queue_of(cast.mentor, Wanted()).counts["near"] == (5 if near else 0)


def test_no_mark_of_the_club_no_result_near_it(cast, answers):
    rules = club_mark(cast, None)
    assert near_the_mark(cast.mentor, rules) == {}


def test_the_quiz_s_own_standard_error_takes_the_place_of_what_the_club_calls_near(cast, answers, quiz):
    rules = club_mark(cast, Decimal(70))
    data = {"sem": 0.02, "people": PEOPLE_FOR_FIGURES}
    Figures.objects.filter(quiz=quiz).update(data=data)
    assert near_the_mark(cast.mentor, rules) == {}
    Figures.objects.filter(quiz=quiz).update(data=data | {"people": PEOPLE_FOR_FIGURES - 1})
    assert set(near_the_mark(cast.mentor, rules)) == {answers[0].sitting_id}


def test_adjustments_count_for_the_result(cast, answers):
    rules = club_mark(cast, Decimal(70), near=Decimal(3))
    assert set(near_the_mark(cast.mentor, rules)) == set()
    adjust_mark(answer=answers[0], mentor=cast.mentor, what="w", points=Decimal(10), reason="r")
    found = near_the_mark(cast.mentor, rules)[answers[0].sitting_id]
    # 66.67 and ten points more on one of five.
    assert found.points == pytest.approx(200 / 3 + 2)


def test_the_rules_in_force_are_the_newest_begun(cast):
    today = timezone.localdate()
    for days, points in ((-30, 60), (-1, 70), (1, 80)):
        day = today + datetime.timedelta(days=days)
        MentoringRules.objects.create(club=cast.club, effective_from=day, club_mark=points)
    assert queue_of(cast.mentor, Wanted()).rules.club_mark == 70
