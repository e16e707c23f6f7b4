"""Marking anew as the educator sees it: what it will set in motion, how far it is, what it changed."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.marking import remark
from assessments.actions.quizzes import change_rules
from assessments.actions.reviews import adjust_mark
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Item, Key, Mark
from assessments.queries.remarking import (
    consequences_of_key,
    consequences_of_rules,
    remarking_of_item,
    remarking_of_quiz,
)
from assessments.scoring import MarkingRules
from tests import makers


@pytest.fixture
def quiz(cast, edition):
    return makers.make_open_quiz(edition, cast.educator)


@pytest.fixture
def item(quiz):
    return quiz.items.get()


@pytest.fixture
def shoulder(quiz):
    return quiz.edition.breed.faults.get(name="Upright shoulder")


def answered(quiz, trainee, *marks):
    answer = begin_sitting(quiz=quiz, trainee=trainee).answers.get()
    sent = makers.said(*marks, nothing_found=not marks)
    save_answer(answer=answer, sent=sent, seen=0, identity=uuid.uuid4())
    return hand_in(answer=answer)


def publish(item, cast, *entries):
    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(key=draft, sound=not entries, note="", entries=list(entries), by=cast.educator.person)
    return publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)


def test_consequences_count_answers_people_and_adjustments(cast, quiz, item, shoulder):
    other = makers.make_trainee(cast.club, "Inga Flaws")
    first = answered(quiz, cast.trainee, makers.pin(0.35, 0.5, shoulder, 2))
    answered(quiz, cast.trainee)
    begin_sitting(quiz=quiz, trainee=other)
    adjust_mark(answer=first, mentor=cast.mentor, what="the back", points=Decimal(5), reason="Seen.")
    for found in (consequences_of_key(item), consequences_of_rules(quiz)):
        assert (found.answers, found.people, found.adjustments) == (2, 1, 1)


def test_changes_are_counted_by_how_far_they_go(cast, quiz, item, shoulder):
    """4/6 of the points for the shoulder alone; with the back out of the key, all of them."""
    for name in ("Inga Flaws", "Tam Isbister"):
        answered(quiz, makers.make_trainee(cast.club, name), makers.pin(0.35, 0.5, shoulder, 2))
    answered(quiz, cast.trainee)
    assert remarking_of_item(item) is None
    publish(item, cast, makers.entry(shoulder, [makers.SHOULDER]))
    found = remarking_of_item(Item.objects.get())
    assert (found.done, found.of, found.finished, found.stuck) == (3, 3, True, False)
    assert [(change.before, change.after, change.answers) for change in found.changes] == [
        (Decimal("66.7"), Decimal(100), 2)
    ]
    assert (found.changed, found.higher, found.lower, found.mean_size) == (2, 2, 0, Decimal("33.3"))
    publish(item, cast)
    found = remarking_of_item(Item.objects.get())
    assert [(change.before, change.after, change.by) for change in found.changes] == [
        (Decimal(0), Decimal(100), Decimal(100)),
        (Decimal(100), Decimal(0), Decimal(-100)),
    ]
    assert (found.changed, found.higher, found.lower, found.mean_size) == (3, 1, 2, Decimal(100))


def test_later_rules_are_no_change_of_the_key(cast, quiz, item, shoulder):
    answered(quiz, cast.trainee, makers.pin(0.35, 0.5, shoulder, 2))
    publish(item, cast, makers.entry(shoulder, [makers.SHOULDER], level=1))
    before = remarking_of_item(Item.objects.get())
    change_rules(
        quiz=quiz,
        rules=MarkingRules(see=0.2, name=0.2, weigh=0.6),
        reach_in_heights=True,
        by=cast.educator.person,
    )
    assert remarking_of_item(Item.objects.get()).changes == before.changes
    by_rules = remarking_of_quiz(quiz)
    assert (by_rules.done, by_rules.of) == (1, 1)
    [change] = by_rules.changes
    assert change.before == before.changes[0].after
    assert change.after == Decimal("80.0")  # 0.2 + 0.2 + 0.6 · (1 − 1/3)


def test_progress_is_read_from_the_marks_and_says_when_it_stands_still(cast, quiz, item, shoulder):
    answered(quiz, cast.trainee)
    publish(item, cast, makers.entry(shoulder, [makers.SHOULDER]))
    newest = Key.objects.get(version=2)
    Mark.objects.filter(key=newest).delete()
    Mark.objects.update(current=True)
    found = remarking_of_item(Item.objects.get())
    assert (found.done, found.of, found.finished, found.stuck) == (0, 1, False, False)
    newest.published_at = timezone.now() - timedelta(minutes=3)
    newest.save()
    assert remarking_of_item(Item.objects.get()).stuck
    assert remark(item=item).answers == 1
    assert remarking_of_item(Item.objects.get()).finished


def test_queries_do_not_grow_with_the_answers(cast, quiz, item, shoulder):
    answered(quiz, cast.trainee)
    publish(item, cast, makers.entry(shoulder, [makers.SHOULDER]))
    few = queries_for(Item.objects.get())
    for name in ("Inga Flaws", "Tam Isbister"):
        answered(quiz, makers.make_trainee(cast.club, name))
    assert queries_for(Item.objects.get()) == few


def queries_for(item):
    with CaptureQueriesContext(connection) as caught:
        remarking_of_item(item)
    return len(caught)
