"""Counted rows follow the current marks, whatever is marked anew."""

import datetime
import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.results import date_results, outcome_of
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Answer, EntryResult, FalseAlarm, Figures, Mark
from tests import makers

Outcome = EntryResult.Outcome


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator)


@pytest.fixture
def shoulder(quiz):
    return quiz.edition.breed.faults.get(name="Upright shoulder")


def answer(quiz, trainee, *marks):
    found = begin_sitting(quiz=quiz, trainee=trainee).answers.get()
    save_answer(answer=found, sent=makers.said(*marks), seen=0, identity=uuid.uuid4())
    hand_in(answer=found)
    return found


def test_each_fault_of_the_key_and_each_false_alarm_has_a_row(cast, quiz, shoulder):
    tail = makers.make_fault(quiz.edition, "Gay tail", "9.1", zone="tail", level=0)
    answer(quiz, cast.trainee, makers.pin(0.35, 0.5, shoulder, 1), makers.pin(0.9, 0.2, tail, 0))
    seen, missed = EntryResult.objects.order_by("place")
    assert (seen.outcome, seen.fault, seen.level, seen.given_fault, seen.given_level, seen.x, seen.y) == (
        Outcome.OFF,
        shoulder,
        2,
        shoulder,
        1,
        0.35,
        0.5,
    )
    assert (missed.outcome, missed.zone, missed.clause.number, missed.given_fault, missed.x) == (
        Outcome.MISSED,
        "topline",
        "6.2",
        None,
        None,
    )
    alarm = FalseAlarm.objects.get()
    assert (alarm.fault, alarm.zone, alarm.level, alarm.x, alarm.y) == (tail, "tail", 0, 0.9, 0.2)
    for row in (seen, missed, alarm):
        assert (row.club, row.quiz, row.trainee, row.first) == (cast.club, quiz, cast.trainee, True)


@pytest.mark.parametrize(
    ("name", "weigh", "weighs", "outcome"),
    [
        (0, 0, True, Outcome.OTHERWISE),
        (0.5, 1, True, Outcome.PARTLY),
        (0.5, 2 / 3, True, Outcome.PARTLY_OFF),
        (1, 2 / 3, True, Outcome.OFF),
        (1, 1, True, Outcome.AS_KEY),
        (1, 0, False, Outcome.AS_KEY),
        (0.5, 0, False, Outcome.PARTLY),
    ],
)
def test_an_outcome_says_what_became_of_name_and_severity(name, weigh, weighs, outcome):
    assert outcome_of({"name": name, "weigh": weigh}, weighs) == outcome


def test_a_second_sitting_is_no_first_one(cast, quiz, shoulder):
    for _ in range(2):
        answer(quiz, cast.trainee, makers.pin(0.35, 0.5, shoulder, 2))
    assert list(EntryResult.objects.order_by("answer", "place").values_list("first", flat=True)) == [
        True,
        True,
        False,
        False,
    ]


def test_marking_anew_replaces_the_rows(cast, quiz, shoulder):
    tail = makers.make_fault(quiz.edition, "Gay tail", "9.1", zone="tail", level=0)
    for name in ("Ola Sclater", "Inga Moar"):
        trainee = makers.make_trainee(cast.club, name)
        answer(quiz, trainee, makers.pin(0.35, 0.5, shoulder, 2), makers.pin(0.9, 0.2, tail, 0))
    item = quiz.items.get()
    draft = start_draft(item=item, by=cast.educator.person)
    entries = [makers.entry(tail, [[[0.85, 0.1], [0.95, 0.1], [0.95, 0.3], [0.85, 0.3]]])]
    save_draft(key=draft, sound=False, note="", entries=entries, by=cast.educator.person)
    publish_key(item=item, by=cast.educator.person)
    assert Mark.objects.count() == 4
    assert [(row.fault, row.outcome) for row in EntryResult.objects.all()] == [(tail, Outcome.AS_KEY)] * 2
    assert [alarm.fault for alarm in FalseAlarm.objects.all()] == [shoulder] * 2


def test_every_marking_is_counted_for_the_kept_figures(cast, quiz, shoulder):
    answer(quiz, cast.trainee, makers.pin(0.35, 0.5, shoulder, 2))
    kept = Figures.objects.get(quiz=quiz)
    assert not kept.fresh
    Figures.objects.update(counted=kept.changes)
    answer(quiz, makers.make_trainee(cast.club, "Ola Sclater"), makers.pin(0.35, 0.5, shoulder, 2))
    assert not Figures.objects.get(quiz=quiz).fresh


def test_the_day_is_that_of_the_club_and_follows_answers_that_are_moved(cast, quiz, shoulder):
    cast.club.time_zone = "Pacific/Auckland"
    cast.club.save()
    found = answer(quiz, cast.trainee, makers.pin(0.35, 0.5, shoulder, 2))
    late = datetime.datetime(2026, 3, 1, 20, 0, tzinfo=datetime.UTC)
    Answer.objects.filter(pk=found.pk).update(handed_in_at=late)
    date_results(answers=Answer.objects.all())
    # Auckland is 13 hours ahead in March.
    assert set(EntryResult.objects.values_list("day", flat=True)) == {datetime.date(2026, 3, 2)}


def test_handing_in_costs_the_same_writes_for_one_fault_and_for_many(cast, shoulder, quiz):
    edition = quiz.edition
    counts = []
    for number in (1, 5):
        entries = [
            makers.entry(makers.make_fault(edition, f"Fault {number} {i}", f"8.{i}"), [makers.SHOULDER])
            for i in range(number)
        ]
        one = make_quiz(edition=edition, title=f"Of {number}", by=cast.educator.person)
        add_item(quiz=one, item=makers.make_keyed_item(edition, cast.educator, entries))
        open_quiz(quiz=one)
        found = begin_sitting(quiz=one, trainee=cast.trainee).answers.get()
        sent = makers.said(*[makers.pin(0.9, 0.1, shoulder, 1)] * number)
        save_answer(answer=found, sent=sent, seen=0, identity=uuid.uuid4())
        with CaptureQueriesContext(connection) as captured:
            hand_in(answer=found)
        counts.append(len(captured))
    assert counts[0] == counts[1]
