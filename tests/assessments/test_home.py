"""What assessments put on the day's page of trainees and mentors."""

import uuid

import pytest

from assessments.actions.reviews import ask_query, return_answer
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from tests import makers

HOME = "/clubs/skerry-drover/"


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=2)


def test_a_trainee_finds_what_can_be_answered_and_what_was_begun(cast, quiz):
    page = cast.client("trainee").get(HOME).content.decode()
    assert "Forequarters in profile" in page
    assert "2 items" in page
    begin_sitting(quiz=quiz, trainee=cast.trainee)
    assert "begun" in cast.client("trainee").get(HOME).content.decode()


def test_a_trainee_without_a_mentor_is_told_who_assigns_one(cast):
    assert "The secretary assigns one." in cast.client("trainee").get(HOME).content.decode()
    makers.make_mentorship(cast.mentor, cast.trainee)
    assert "When Magnus Flett has looked at an answer" in cast.client("trainee").get(HOME).content.decode()


def test_a_mentor_finds_queries_by_name_and_the_rest_counted(cast, quiz):
    makers.make_mentorship(cast.mentor, cast.trainee)
    answers = list(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.all())
    for answer in answers:
        save_answer(answer=answer, sent=makers.said(nothing_found=True), seen=0, identity=uuid.uuid4())
        hand_in(answer=answer)
    assert "2 answers wait for you." in cast.client("mentor").get(HOME).content.decode()
    answers[0].refresh_from_db()
    ask_query(answer=answers[0], text="The back is level to my eye.")
    page = cast.client("mentor").get(HOME).content.decode()
    for words in (
        "Una Halcro asks you to look again.",
        "The back is level to my eye.",
        "An answer waits for you.",
    ):
        assert words in page
    return_answer(answer=answers[0], mentor=cast.mentor)
    assert "Magnus Flett has looked at your answer." in cast.client("trainee").get(HOME).content.decode()
