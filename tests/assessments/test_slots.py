"""A module's place for a quiz, as this side fills it."""

import re

import pytest
from django.template.loader import render_to_string
from django.test import RequestFactory

from assessments.actions.quizzes import give_place, make_quiz
from assessments.actions.sittings import begin_sitting
from assessments.models import Quiz
from courses.models import Course, Module, Place
from shared.web.slots import fillings
from tests import makers


@pytest.fixture
def place(edition):
    course = Course.objects.create(edition=edition, title="The whole dog")
    module = Module.objects.create(course=course, position=0, title="The neck")
    return Place.objects.create(module=module, position=0, kind="quiz", title="Necks")


def filled(cast, who, place):
    """What the member finds at the place, in words; None where nothing stands there."""
    member = getattr(cast, who)
    request = RequestFactory().get("/")
    request.user, request.club, request.membership = member.person, cast.club, member
    found = fillings("quiz place", request, [place])[place]
    assert len(found) < 2
    for filling in found:
        context = {"slot": filling.context, "club": cast.club, "membership": member}
        words = re.sub(r"<[^>]+>", " ", render_to_string(filling.template, context, request))
        return re.sub(r"\s+", " ", words).strip()
    return None


def test_an_educator_is_shown_the_way_to_its_quiz(cast, edition, place):
    assert filled(cast, "trainee", place) is None
    assert filled(cast, "educator", place) == "No quiz stands here yet. Make its quiz"
    make_quiz(edition=edition, title="Made before", by=cast.educator.person)
    older = makers.make_edition(cast.club, title="Edition of 2019", state="retired")
    make_quiz(edition=older, title="Of another edition", by=cast.educator.person)
    words = filled(cast, "educator", place)
    assert "Made before" in words
    assert "Of another edition" not in words


def test_a_draft_is_for_its_educator_alone(cast, edition, place):
    make_quiz(edition=edition, title="Necks", by=cast.educator.person, place=place)
    assert filled(cast, "trainee", place) is None
    assert "This quiz is being made; trainees do not see it yet. Change the quiz" in filled(
        cast, "educator", place
    )


def test_a_trainee_begins_goes_on_and_sees_the_last_result(cast, edition, place):
    quiz = makers.make_open_quiz(edition, cast.educator, title="Necks")
    give_place(quiz=quiz, place=place)
    assert filled(cast, "trainee", place) == "1 item Begin the quiz How answers are marked"
    Place.objects.update(title="Now you")
    place.refresh_from_db()
    assert filled(cast, "trainee", place).startswith("Necks 1 item")
    answer = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()
    assert "1 item, begun Go on with the quiz" in filled(cast, "trainee", place)
    makers.make_handed_in(answer)
    assert "1 item, 0 % on" in filled(cast, "trainee", place)
    assert "Begin the quiz again" in filled(cast, "trainee", place)
    Quiz.objects.update(state="closed")
    assert "This quiz is closed." in filled(cast, "trainee", place)


def test_a_quiz_is_put_at_a_place_and_taken_from_it(cast, edition, place):
    quiz = make_quiz(edition=edition, title="Necks", by=cast.educator.person)
    client, address = cast.client("educator"), "/clubs/skerry-drover/quizzes/place/"
    said = client.post(address, {"quiz": quiz.pk, "place": place.pk}, follow=True)
    assert "It stands in the module “The neck”." in said.content.decode()
    assert Quiz.objects.get().place == place
    client.post(address, {"quiz": quiz.pk, "place": ""})
    assert Quiz.objects.get().place is None
    foreign = make_quiz(edition=makers.make_edition(cast.other_club), title="No", by=cast.stranger.person)
    client.post(address, {"quiz": foreign.pk, "place": place.pk})
    assert not Quiz.objects.filter(place=place).exists()
