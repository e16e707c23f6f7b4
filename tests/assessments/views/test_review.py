"""What a mentor sees and does, and what the trainee sees of it."""

import re
import uuid
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Adjustment, Comment, Mark
from tests import makers

CLUB = "/clubs/skerry-drover"


def answered(quiz, trainee, fault, level=1):
    """Hand in answers that pin the shoulder, seen and named, weighed a level light."""
    sitting = begin_sitting(quiz=quiz, trainee=trainee)
    for answer in sitting.answers.all():
        save_answer(
            answer=answer,
            sent=makers.said(makers.pin(0.35, 0.5, fault, level)),
            seen=0,
            identity=uuid.uuid4(),
        )
        hand_in(answer=answer)
    return list(sitting.answers.all())


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=3)


@pytest.fixture
def answers(cast, quiz):
    makers.make_mentorship(cast.mentor, cast.trainee)
    return answered(quiz, cast.trainee, quiz.edition.breed.faults.get(name="Upright shoulder"))


def test_the_queue_holds_the_answers_of_ones_own_trainees_only(cast, answers):
    other = makers.make_trainee(cast.club, "Erlend Scollay")
    answered(answers[0].sitting.quiz, other, None)
    page = cast.client("mentor").get(f"{CLUB}/reviews/").content.decode()
    assert "3 answers wait for you" in page
    assert "Erlend Scollay" not in page
    response = cast.client("mentor").get(f"{CLUB}/reviews/{other.sittings.get().answers.first().pk}/")
    assert response.status_code == 404


def test_queries_come_first(cast, answers):
    cast.client("trainee").post(f"{CLUB}/answers/{answers[2].pk}/query/", {"text": "The back is level."})
    page = cast.client("mentor").get(f"{CLUB}/reviews/").content.decode()
    numbers = re.findall(rf"{CLUB}/reviews/(\d+)/", page)
    assert numbers[0] == str(answers[2].pk)
    assert "Asks you to look again: “The back is level.”" in page


def test_an_adjusted_mark_stands_beside_the_computed_one_and_the_trainee_sees_both(cast, answers):
    before = Mark.objects.get(answer=answers[0]).score
    response = cast.client("mentor").post(
        f"{CLUB}/reviews/{answers[0].pk}/return/",
        {"what": "B counts as seen", "points": "13.3", "reason": "Her note names it."},
    )
    assert response.status_code == 302
    assert Mark.objects.get(answer=answers[0]).score == before
    page = cast.client("trainee").get(f"{CLUB}/answers/{answers[0].pk}/").content.decode()
    # 4/6 of the weight, less a level of three on a quarter of it: 61.1 by the rules.
    for words in ("61.1", "+13.3", "74.4", "B counts as seen", "Her note names it.", "Mark by the rules"):
        assert words in page
    assert (
        "Magnus Flett has looked at Forequarters in profile, item 1."
        in cast.client("trainee").get(f"{CLUB}/record/").content.decode()
    )


@pytest.mark.parametrize(
    ("sent", "error"),
    [
        ({"what": "x", "points": "5"}, "Give the reason"),
        ({"points": "5", "reason": "y"}, "Say what the points are for"),
        ({"reason": "kept words"}, "Say how many points"),
        ({"what": "x", "points": "60", "reason": "y"}, "must lie between 0 and 100; by the rules it is 61.1"),
        ({"what": "x", "points": "abc", "reason": "y"}, "Enter a number"),
    ],
)
def test_an_incomplete_adjustment_is_refused_beside_its_field_and_nothing_is_lost(cast, answers, sent, error):
    response = cast.client("mentor").post(f"{CLUB}/reviews/{answers[0].pk}/return/", sent)
    page = response.content.decode()
    assert response.status_code == 422
    assert error in page
    assert sent.get("reason", "") in page
    assert not Adjustment.objects.exists()


def test_a_new_adjustment_takes_the_old_one_back(cast, answers):
    for points in ("5", "7.5"):
        cast.client("mentor").post(
            f"{CLUB}/reviews/{answers[0].pk}/return/", {"what": "w", "points": points, "reason": "r"}
        )
    old, new = Adjustment.objects.order_by("pk")
    assert old.taken_back_at is not None
    assert (new.points, new.taken_back_at) == (Decimal("7.5"), None)
    cast.client("mentor").post(f"{CLUB}/reviews/{answers[0].pk}/take-back/")
    assert not Adjustment.objects.filter(taken_back_at=None).exists()


def test_a_comment_is_pinned_where_it_was_put(cast, answers):
    cast.client("mentor").post(
        f"{CLUB}/reviews/{answers[0].pk}/comment/", {"text": "Look here.", "x": "0.41", "y": "0.3"}
    )
    comment = Comment.objects.get()
    assert (comment.x, comment.y, comment.author) == (0.41, 0.3, cast.mentor)
    page = cast.client("trainee").get(f"{CLUB}/answers/{answers[0].pk}/").content.decode()
    assert "Look here." in page
    assert '"x": 0.41' in page


@pytest.mark.parametrize("spot", [{"x": "0.4"}, {"x": "1.4", "y": "0.1"}])
def test_a_comment_off_the_picture_is_refused(cast, answers, spot):
    response = cast.client("mentor").post(
        f"{CLUB}/reviews/{answers[0].pk}/comment/", {"text": "Kept words.", **spot}
    )
    assert response.status_code == 422
    assert "Kept words." in response.content.decode()
    assert not Comment.objects.exists()


def test_only_ones_own_comment_is_taken_away(cast, answers):
    comment = answers[0].comments.create(author=cast.mentor, text="Mine")
    other = makers.make_mentor(cast.club, "Thora Garrioch")
    makers.make_mentorship(other, cast.trainee)
    address = f"{CLUB}/reviews/{answers[0].pk}/comment/{comment.pk}/remove/"
    client = cast.client("nobody")
    client.force_login(other.person, "django.contrib.auth.backends.ModelBackend")
    assert client.post(address).status_code == 404
    cast.client("mentor").post(address)
    comment.refresh_from_db()
    assert comment.removed_at is not None


def test_the_queue_costs_the_same_for_one_answer_and_for_many(cast, quiz):
    makers.make_mentorship(cast.mentor, cast.trainee)
    client = cast.client("mentor")
    client.get(f"{CLUB}/reviews/")
    fault = quiz.edition.breed.faults.get(name="Upright shoulder")
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    counts = []
    for answer in sitting.answers.all():
        save_answer(
            answer=answer, sent=makers.said(makers.pin(0.35, 0.5, fault, 1)), seen=0, identity=uuid.uuid4()
        )
        hand_in(answer=answer)
        with CaptureQueriesContext(connection) as captured:
            client.get(f"{CLUB}/reviews/")
            client.get(f"{CLUB}/trainees/")
            client.get(f"{CLUB}/trainees/{cast.trainee.pk}/")
        counts.append(len(captured))
    assert counts[0] == counts[1] == counts[2]
