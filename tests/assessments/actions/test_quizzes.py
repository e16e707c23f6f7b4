"""Making quizzes: items once and in order, complete before they are opened, rules in versions."""

import pytest

from assessments.actions.items import retire_item
from assessments.actions.quizzes import (
    add_exhibits,
    add_item,
    change_rules,
    give_place,
    make_quiz,
    move_item,
    open_quiz,
    remove_item,
    remove_quiz,
)
from assessments.actions.sittings import begin_sitting
from assessments.models import Item, Quiz
from assessments.queries.readiness import lacking
from assessments.rules import NotReady, Refused
from assessments.scoring import MarkingRules
from courses.models import Course, Exhibit, Module, Place
from tests import makers


@pytest.fixture
def quiz(cast, edition):
    return make_quiz(edition=edition, title="Forequarters", by=cast.educator.person)


def exhibits_of(quiz):
    return list(quiz.quiz_items.order_by("position").values_list("item__exhibit__number", flat=True))


def test_an_exhibit_brings_the_item_that_it_has_or_gets_a_new_one(cast, edition, quiz):
    known = makers.make_keyed_item(edition, cast.educator)
    retired = makers.make_keyed_item(edition, cast.educator)
    retire_item(item=retired)
    makers.make_exhibit(cast.club, cast.educator)
    add_exhibits(quiz=quiz, exhibits=Exhibit.objects.order_by("number"), by=cast.educator.person)
    assert exhibits_of(quiz) == [1, 2, 3]
    first, second, third = quiz.quiz_items.all()
    assert first.item == known
    assert second.item != retired
    assert (second.item.exhibit, third.item.state) == (retired.exhibit, "draft")
    add_exhibits(quiz=quiz, exhibits=Exhibit.objects.all(), by=cast.educator.person)
    assert (quiz.quiz_items.count(), Item.objects.count()) == (3, 4)


def test_items_move_and_come_back_where_they_stood(cast, edition, quiz):
    items = [makers.make_keyed_item(edition, cast.educator) for _ in range(3)]
    rows = [add_item(quiz=quiz, item=item) for item in items]
    move_item(quiz_item=rows[2], by=-1)
    assert exhibits_of(quiz) == [1, 3, 2]
    move_item(quiz_item=rows[2], by=-1)
    move_item(quiz_item=rows[2], by=-1)
    assert exhibits_of(quiz) == [3, 1, 2]
    move_item(quiz_item=rows[1], by=1)
    assert exhibits_of(quiz) == [3, 1, 2]
    remove_item(quiz_item=rows[0])
    assert exhibits_of(quiz) == [3, 2]
    add_item(quiz=quiz, item=items[0], at=1)
    assert exhibits_of(quiz) == [3, 1, 2]
    add_item(quiz=quiz, item=items[0], at=10**30)
    assert exhibits_of(quiz) == [3, 1, 2]


def test_an_item_of_another_edition_is_refused(cast, quiz):
    older = makers.make_edition(cast.club, title="Edition of 2019", state="retired")
    with pytest.raises(Refused, match="another edition"):
        add_item(quiz=quiz, item=makers.make_keyed_item(older, cast.educator))


def test_a_quiz_holds_so_many_items_and_no_more(cast, edition, quiz, monkeypatch):
    monkeypatch.setattr("assessments.actions.quizzes.ITEMS_PER_QUIZ", 1)
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator))
    with pytest.raises(Refused, match="at most 1 items"):
        add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator))


def test_what_is_missing_is_said_exhibit_by_exhibit(cast, edition, quiz):
    assert lacking(quiz) == ["Add at least one item."]
    fine = makers.make_keyed_item(edition, cast.educator)
    hidden = makers.make_keyed_item(edition, cast.educator)
    Exhibit.objects.filter(pk=hidden.exhibit_id).update(state="draft")
    photograph = makers.make_keyed_item(edition, cast.educator)
    Exhibit.objects.filter(pk=photograph.exhibit_id).update(kind="photograph")
    retired = makers.make_keyed_item(edition, cast.educator)
    retire_item(item=retired)
    heavy = makers.make_keyed_item(edition, cast.educator)
    heavy.keys.get().entries.update(level=4)
    bare = makers.make_draft_item(edition, cast.educator)
    for item in (fine, hidden, photograph, retired, heavy, bare):
        add_item(quiz=quiz, item=item)
    with pytest.raises(NotReady) as caught:
        open_quiz(quiz=quiz)
    assert caught.value.missing == [
        "Exhibit 2: publish the exhibit.",
        "Exhibit 3: record its owner’s permission; none holds now.",
        "Exhibit 4: bring the item back or take it out; it is retired.",
        "Exhibit 5: its key uses a level that this quiz’s ladder lacks.",
        "Exhibit 6: publish its key.",
    ]
    quiz.refresh_from_db()
    assert quiz.state == "draft"


def test_a_quiz_that_was_begun_is_kept(cast, edition, quiz):
    begun = makers.make_open_quiz(edition, cast.educator)
    begin_sitting(quiz=begun, trainee=cast.trainee)
    with pytest.raises(Refused, match="close it instead"):
        remove_quiz(quiz=begun)
    remove_quiz(quiz=quiz)
    assert Quiz.objects.get() == begun


def test_new_rules_are_a_new_version_and_mark_anew(cast, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    answer = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()
    makers.make_handed_in(answer)
    rules = MarkingRules(see=0.5, name=0.5, weigh=0)
    version = change_rules(quiz=quiz, rules=rules, reach_in_heights=False, by=cast.educator.person)
    assert version.version == 2
    assert [(mark.rules.version, mark.current) for mark in answer.marks.order_by("pk")] == [
        (1, False),
        (2, True),
    ]


def test_a_quiz_stands_at_a_place_for_one_of_its_own_edition(cast, edition, quiz):
    older = makers.make_edition(cast.club, title="Edition of 2019", state="retired")
    wanted, text = place(edition), place(edition, kind="text")
    with pytest.raises(Refused, match="not one for a quiz"):
        give_place(quiz=quiz, place=text)
    with pytest.raises(Refused, match="another edition"):
        give_place(quiz=quiz, place=place(older))
    give_place(quiz=quiz, place=wanted)
    with pytest.raises(Refused, match="stands at this place already"):
        give_place(quiz=make_quiz(edition=edition, title="Another", by=cast.educator.person), place=wanted)
    give_place(quiz=quiz, place=None)
    assert Quiz.objects.filter(place=None).count() == 2


def place(edition, kind="quiz"):
    course = Course.objects.create(edition=edition, title="The whole dog")
    module = Module.objects.create(course=course, position=0, title="Forequarters")
    return Place.objects.create(module=module, position=0, kind=kind, title="What did you see?")
