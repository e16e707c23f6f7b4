"""A paper as its candidate meets it in the browser."""

from __future__ import annotations

import datetime
import json
import uuid

import pytest
from django.utils import timezone

from assessments.actions.paper_results import end_paper, release_results
from assessments.models import Answer, LateAnswer, Mark, PaperSitting
from assessments.rules import GRACE
from courses.models import Exhibit
from tests import makers
from tests.makers.papers import (
    DAY,
    HOUR,
    make_candidate,
    make_paper_sitting,
    make_regulations,
    make_set_paper,
    right,
)

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def front(paper):
    return f"{CLUB}/papers/{paper.pk}/"


def send(client, front, place, content, seen=0):
    body = {"content": content, "seen": seen, "identity": str(uuid.uuid4())}
    return client.post(f"{front}{place}/save/", json.dumps(body), content_type="application/json")


def test_who_is_not_invited_does_not_learn_of_a_paper(cast, paper, front):
    client = cast.client("trainee")
    assert client.get(front).status_code == 404
    assert client.post(f"{front}begin/").status_code == 404
    for address in (f"{CLUB}/", f"{CLUB}/quizzes/", f"{CLUB}/record/"):
        assert paper.quiz.title not in client.get(address).content.decode()
    for address in ("", "rules/", "begin/"):
        client.post(f"{CLUB}/quizzes/{paper.quiz_id}/{address}")
        assert client.get(f"{CLUB}/quizzes/{paper.quiz_id}/{address}").status_code in (404, 405)


def test_the_declaration_comes_before_the_time(cast, candidate, front):
    client = cast.client("trainee")
    page = client.get(front).content.decode()
    for words in ("approves nobody", "veterinary surgeon", "not a measurement of the dog", "60 minutes"):
        assert words in page
    assert f"You are candidate {candidate.number}" in page
    refused = client.post(f"{front}begin/")
    assert refused.status_code == 422
    assert "Your time has not started." in refused.content.decode()
    assert not PaperSitting.objects.exists()
    page = client.post(f"{front}begin/", {"accept": "on"}, follow=True).content.decode()
    assert "60 minutes left" in page
    assert "approves nobody" in PaperSitting.objects.get().declaration


def test_a_paper_outside_its_window_says_when(cast, edition, candidate, front, paper):
    client = cast.client("trainee")
    type(paper).objects.update(opens_at=timezone.now() + HOUR)
    assert "You can begin from" in client.get(front).content.decode()
    response = client.post(f"{front}begin/", {"accept": "on"})
    assert response.status_code == 409
    assert "cannot be begun yet" in response.content.decode()
    type(paper).objects.update(opens_at=timezone.now() - 2 * DAY, closes_at=timezone.now() - DAY)
    assert "You did not sit it." in client.get(front).content.decode()


def test_an_item_whose_picture_is_withdrawn_meanwhile_says_so_and_is_not_asked_for(
    cast, candidate, front, paper
):
    client = cast.client("trainee")
    client.post(f"{front}begin/", {"accept": "on"})
    first, *others = Answer.objects.order_by("position")
    Exhibit.objects.filter(pk=first.item.exhibit_id).update(state="withdrawn")
    page = client.get(f"{front}1/").content.decode()
    assert "The item is passed over" in page
    assert f'{front}2/" data-go rel="next"' in page
    overview = client.get(f"{front}overview/").content.decode()
    assert overview.count("passed over, picture withdrawn") == 1
    assert overview.count("no answer</span>") == len(others)


def test_regulations_that_forbid_it_are_said_before_the_declaration(cast, edition, candidate, front):
    make_paper_sitting(candidate, right_ones=0)
    second = make_set_paper(edition, cast.educator, title="Second")
    make_candidate(second, cast.trainee, cast.educator)
    page = cast.client("trainee").get(f"{CLUB}/papers/{second.pk}/").content.decode()
    assert "The regulations ask for 30 days between attempts" in page
    assert "Begin:" not in page


def test_items_are_answered_in_any_order_and_handed_in_at_once(cast, candidate, front):
    client = cast.client("trainee")
    sitting = make_paper_sitting(candidate)
    page = client.get(f"{front}2/").content.decode()
    assert f"{front}1/" in page
    assert f"{front}3/" in page
    assert "Hand in answer" not in page
    third = sitting.sitting.answers.get(position=2)
    assert send(client, front, 3, right(third)).json()["revision"] == 1
    overview = client.get(f"{front}overview/").content.decode()
    assert "2 items have no answer yet." in overview
    assert overview.count("place-blank") == 2
    assert client.get(f"{front}4/").status_code == 404
    page = client.post(f"{front}hand-in/", follow=True).content.decode()
    assert "You answered 1 of 3 items." in page
    assert "stay sealed" in page
    assert Mark.objects.count() == 3
    assert client.get(f"{front}2/", follow=True).redirect_chain[-1][0] == front
    assert client.post(f"{front}hand-in/").url == front


def test_two_windows_are_told_of_each_other(cast, candidate, front):
    client = cast.client("trainee")
    answer = make_paper_sitting(candidate).sitting.answers.first()
    send(client, front, 1, right(answer))
    response = send(client, front, 1, makers.said(nothing_found=True))
    assert response.status_code == 409
    assert response.json()["revision"] == 1
    assert send(client, front, 1, makers.said(nothing_found=True), seen=1).status_code == 200
    assert send(client, front, 1, {"marks": "none"}, seen=2).status_code == 422
    assert client.post(f"{front}1/save/", "{", content_type="application/json").status_code == 422


def test_when_the_time_is_over_what_is_there_is_handed_in_at_the_next_request(cast, candidate, front):
    client = cast.client("trainee")
    sitting = make_paper_sitting(candidate)
    first, second, _third = sitting.sitting.answers.all()
    send(client, front, 1, right(first))
    PaperSitting.objects.update(ends_at=timezone.now() - datetime.timedelta(seconds=5))
    assert send(client, front, 2, right(second)).status_code == 200, "On its way when the time ended."
    assert "The time was over at" in client.get(front).content.decode()
    assert client.get(f"{front}clock/").json() == {"left": 0}
    ended = timezone.now() - GRACE
    PaperSitting.objects.update(ends_at=ended)
    too_late = makers.said(makers.pin(0.9, 0.1))
    late = send(client, front, 2, too_late, seen=1)
    assert late.status_code == 422
    assert "does not count; it is kept for the club to see" in late.json()["error"]
    sitting.refresh_from_db()
    assert (sitting.handed_in, sitting.sitting.finished_at) == ("time", ended)
    kept = LateAnswer.objects.get()
    assert (kept.answer, kept.content) == (second, too_late)
    assert Answer.objects.get(pk=second.pk).revision == 1
    page = client.get(front).content.decode()
    assert "what was saved by then is handed in" in page
    assert "You answered 2 of 3 items." in page
    assert client.get(f"{front}overview/").url == front


def test_another_device_goes_on_with_the_time_that_is_left(cast, candidate, front):
    make_paper_sitting(candidate)
    PaperSitting.objects.update(ends_at=timezone.now() + datetime.timedelta(minutes=12))
    for _device in range(2):
        client = cast.client("trainee")
        assert "12 minutes left" in client.get(f"{front}1/").content.decode()
        assert 700 < client.get(f"{front}clock/").json()["left"] <= 720


def test_one_candidate_cannot_reach_the_sitting_of_another(cast, paper, candidate, front):
    make_paper_sitting(candidate)
    other = makers.make_trainee(cast.club, "Erlend Scollay")
    make_candidate(paper, other, cast.educator)
    client = cast.client("nobody")
    client.force_login(other.person, "django.contrib.auth.backends.ModelBackend")
    assert client.get(f"{front}1/").status_code == 404, "Not begun by them."
    answer = candidate.sitting.sitting.answers.first()
    own = cast.client("trainee")
    for address in (f"{CLUB}/answers/{answer.pk}/", f"{CLUB}/sittings/{answer.sitting_id}/"):
        assert own.get(address).status_code == 404, "An answer to a paper is on no page of practice."
    for address in (f"{CLUB}/answers/{answer.pk}/save/", f"{CLUB}/answers/{answer.pk}/hand-in/"):
        assert own.post(address).status_code == 404


def test_a_mark_is_told_where_the_regulations_disclose_it(cast, edition, paper, candidate, front):
    make_regulations(cast.club, effective_from=timezone.localdate(), discloses_mark=True, pass_mark="60.0")
    make_paper_sitting(candidate, right_ones=2)
    end_paper(paper=paper)
    release_results(paper=paper, by=cast.educator.person)
    client = cast.client("trainee")
    page = client.get(front).content.decode()
    assert "66.7 of 100, pass mark 60" in page
    assert "Borderline" in page
    assert "result of “Paper of the spring” is released" in client.get(f"{CLUB}/").content.decode()
