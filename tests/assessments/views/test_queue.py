"""What the mentor's queue says of each answer."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.sittings import begin_sitting
from assessments.models import Mark, Review
from tests import makers

QUEUE = "/clubs/skerry-drover/reviews/"


@pytest.fixture
def answers(cast):
    quiz = makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=3)
    makers.make_mentorship(cast.mentor, cast.trainee)
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    return [makers.make_handed_in(answer) for answer in sitting.answers.all()]


@pytest.mark.parametrize(
    ("word", "sentence"),
    [
        ("missed", "A disqualifying fault was missed."),
        ("not weighed", "A disqualifying fault was weighed lower."),
        ("overclaimed", "Called disqualifying what the key does not."),
        ("", "Nothing stands out; nobody has returned it yet."),
    ],
)
def test_each_row_says_why_it_is_there(cast, answers, word, sentence):
    Mark.objects.filter(answer=answers[0]).update(disqualification=word)
    page = (
        cast.client("mentor").get(f"{QUEUE}?need={'disqualification' if word else 'rest'}").content.decode()
    )
    assert sentence in page


def test_an_answer_without_a_mark_waits_for_one(cast, answers):
    Mark.objects.filter(answer=answers[0]).delete()
    page = cast.client("mentor").get(f"{QUEUE}?need=unmarked").content.decode()
    assert page.count("Waits for your mark: no rule can give one.") == 1
    assert "no mark yet</span>" in page


def test_the_words_above_count_and_the_chosen_one_is_marked(cast, answers):
    page = cast.client("mentor").get(f"{QUEUE}?need=query&days=7").content.decode()
    assert 'aria-current="true">Queries <span class="quiet">0</span>' in page
    assert "Nothing of this kind waits." in page


@pytest.mark.parametrize("query", ["need=x", "days=x", "trainee=x", "trainee=999999", "order=x", "page=x"])
def test_an_unknown_wish_shows_all(cast, answers, query):
    page = cast.client("mentor").get(f"{QUEUE}?{query}").content.decode()
    assert page.count('class="queue-row"') == 3


def test_it_costs_the_same_for_one_and_for_three_and_less_than_twelve(cast, answers):
    client, counts = cast.client("mentor"), []
    for returned_at in (timezone.now(), None):
        for answer in answers[1:]:
            Review.objects.update_or_create(
                answer=answer, defaults={"mentor": cast.mentor, "returned_at": returned_at}
            )
        with CaptureQueriesContext(connection) as captured:
            page = client.get(QUEUE).content.decode()
        counts.append((page.count('class="queue-row"'), len(captured)))
    (few, cost), (many, cost_of_many) = counts
    assert (few, many) == (1, 3)
    assert cost == cost_of_many < 12
