"""Answering: saved step by step, handed in once, marked by the rules."""

import uuid

import pytest

from assessments.actions.sittings import Overtaken, begin_sitting, hand_in, save_answer
from assessments.items import AnswerRefused
from assessments.models import Mark, Sitting
from assessments.queries.sittings import own_sittings
from assessments.rules import Refused
from courses.models import Exhibit
from tests import makers


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=2)


@pytest.fixture
def answer(cast, quiz):
    return begin_sitting(quiz=quiz, trainee=cast.trainee).answers.first()


@pytest.fixture
def shoulder(quiz):
    return quiz.edition.breed.faults.get(name="Upright shoulder")


@pytest.fixture
def back(quiz):
    return quiz.edition.breed.faults.get(name="Roached back")


def save(answer, content, seen=0, identity=None):
    return save_answer(answer=answer, sent=content, seen=seen, identity=identity or uuid.uuid4())


def test_beginning_twice_goes_on_with_the_same_sitting(cast, quiz):
    first = begin_sitting(quiz=quiz, trainee=cast.trainee)
    assert begin_sitting(quiz=quiz, trainee=cast.trainee) == first
    assert [a.position for a in first.answers.all()] == [0, 1]


def test_a_closed_quiz_cannot_be_begun(cast, quiz):
    quiz.state = quiz.State.CLOSED
    quiz.save()
    with pytest.raises(Refused, match="not open"):
        begin_sitting(quiz=quiz, trainee=cast.trainee)


def test_the_same_save_sent_twice_counts_once(answer, shoulder):
    identity = uuid.uuid4()
    content = makers.said(makers.pin(0.35, 0.5, shoulder, 2))
    first = save(answer, content, identity=identity)
    again = save(answer, content, identity=identity)
    assert first == again
    answer.refresh_from_db()
    assert answer.revision == 1
    assert answer.saved_steps.count() == 1


def test_a_second_window_does_not_overwrite_silently(answer, shoulder, back):
    save(answer, makers.said(makers.pin(0.35, 0.5, shoulder, 2)))
    with pytest.raises(Overtaken) as caught:
        save(answer, makers.said(makers.pin(0.65, 0.35, back, 1)), seen=0)
    assert [mark["fault"] for mark in caught.value.answer.content["marks"]] == [shoulder.pk]


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        ("pins", "could not be read"),
        (makers.said(makers.pin(1.2, 0.1)), "outside the picture"),
        (makers.said(makers.pin(0.5, 0.76)), "outside the picture"),
        (makers.said(makers.pin(float("nan"), 0.1)), "outside the picture"),
        (makers.said(makers.pin(0.5, None)), "outside the picture"),
        (makers.said({"x": 0.1, "y": 0.1, "level": 4}), "could not be read"),
        (makers.said({"x": 0.1, "y": 0.1, "fault": 10**9}), "not on the club’s list"),
        (makers.said(*[makers.pin(0.1, 0.1)] * 41), "at most 40 pins"),
    ],
)
def test_what_cannot_be_an_answer_is_refused_with_its_reason(answer, content, reason):
    with pytest.raises(AnswerRefused, match=reason):
        save(answer, content)
    answer.refresh_from_db()
    assert answer.revision == 0


def test_an_exact_answer_scores_all(answer, shoulder, back):
    save(answer, makers.said(makers.pin(0.35, 0.5, shoulder, 2), makers.pin(0.66, 0.34, back, 1)))
    hand_in(answer=answer, seen=1)
    mark = Mark.objects.get(answer=answer)
    assert (mark.score, mark.seeing, mark.naming, mark.weighing) == (1, 1, 1, 1)
    assert sum(line["points"] for line in mark.detail["lines"]) == pytest.approx(1)
    assert [entry["letter"] for entry in mark.detail["entries"]] == ["A", "B"]


def test_pins_set_aside_by_nothing_found_do_not_count(answer, shoulder):
    save(answer, makers.said(makers.pin(0.35, 0.5, shoulder, 2), nothing_found=True))
    hand_in(answer=answer)
    mark = Mark.objects.get(answer=answer)
    assert mark.score == 0
    assert mark.detail["marks"] == []
    answer.refresh_from_db()
    assert len(answer.content["marks"]) == 1


def test_handing_in_twice_marks_once(answer, shoulder):
    save(answer, makers.said(makers.pin(0.35, 0.5, shoulder, 2)))
    first = hand_in(answer=answer, seen=1)
    assert hand_in(answer=answer, seen=1).handed_in_at == first.handed_in_at
    assert Mark.objects.filter(answer=answer).count() == 1


def test_a_blank_answer_is_not_handed_in(answer):
    with pytest.raises(Refused, match="Nothing found"):
        hand_in(answer=answer)
    assert not Mark.objects.exists()


def test_a_handed_in_answer_is_not_saved_over(answer):
    save(answer, makers.said(nothing_found=True))
    hand_in(answer=answer)
    with pytest.raises(Refused, match="handed in"):
        save(answer, makers.said(), seen=1)


def test_the_last_answer_finishes_the_sitting(cast, quiz):
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    for each in sitting.answers.all():
        save(each, makers.said(nothing_found=True))
        hand_in(answer=each)
    assert Sitting.objects.get().finished_at is not None
    assert begin_sitting(quiz=quiz, trainee=cast.trainee).number == 2


def withdraw(answer):
    Exhibit.objects.filter(pk=answer.item.exhibit_id).update(state="withdrawn")


def test_a_picture_withdrawn_during_a_sitting_is_passed_over_and_does_not_count(cast, quiz):
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    first, second = sitting.answers.all()
    save(first, makers.said(nothing_found=True))
    withdraw(first)
    passed = hand_in(answer=first, seen=1)
    assert (passed.handed_in_at, Mark.objects.count()) == (None, 0)
    assert hand_in(answer=first).passed_over_at == passed.passed_over_at
    with pytest.raises(Refused, match="passed over"):
        save(first, makers.said(nothing_found=True), seen=1)
    save(second, makers.said(nothing_found=True))
    hand_in(answer=second)
    found = own_sittings(cast.trainee).get()
    assert found.finished_at
    assert (found.answers_count, found.handed_in_count, found.marked_count) == (1, 1, 1)
    assert found.mean_score == Mark.objects.get().score


def test_a_sitting_whose_last_picture_is_withdrawn_ends(cast, quiz):
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    for each in sitting.answers.all():
        withdraw(each)
        hand_in(answer=each)
    sitting.refresh_from_db()
    assert sitting.finished_at
    assert not Mark.objects.exists()


def test_the_trainee_is_told_and_led_on(cast, quiz):
    client = cast.client("trainee")
    first, second = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.all()
    address = f"/clubs/skerry-drover/answers/{first.pk}/"
    withdraw(first)
    page = client.get(address).content.decode()
    assert "not marked and does not count" in page
    assert "Pass over this item" in page
    assert client.post(f"{address}hand-in/").url == address
    assert f'href="/clubs/skerry-drover/answers/{second.pk}/"' in client.get(address).content.decode()
    withdraw(second)
    client.post(f"/clubs/skerry-drover/answers/{second.pk}/hand-in/")
    ended = client.get(f"/clubs/skerry-drover/sittings/{first.sitting_id}/").content.decode()
    assert ended.count("passed over, picture withdrawn") == 2
