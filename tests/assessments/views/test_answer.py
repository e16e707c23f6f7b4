"""Answering in the browser: what the page gives, what it keeps, and what it never gives away."""

import json
import uuid

import pytest

from assessments.actions.sittings import begin_sitting
from assessments.models import Answer, Mark
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=2)


@pytest.fixture
def answer(cast, quiz):
    return begin_sitting(quiz=quiz, trainee=cast.trainee).answers.first()


def send(client, answer, content, seen=0, identity=None):
    body = {"content": content, "seen": seen, "identity": str(identity or uuid.uuid4())}
    return client.post(f"{CLUB}/answers/{answer.pk}/save/", json.dumps(body), content_type="application/json")


def test_beginning_leads_to_the_first_item(cast, quiz):
    response = cast.client("trainee").post(f"{CLUB}/quizzes/{quiz.pk}/begin/", follow=True)
    assert [step[0].split("/")[3] for step in response.redirect_chain] == ["sittings", "answers"]
    assert "Mark the faults. There may be none." in response.content.decode()


def test_the_rules_can_be_read_before_answering(cast, quiz):
    page = cast.client("trainee").get(f"{CLUB}/quizzes/{quiz.pk}/").content.decode()
    assert "40 % for seeing it, 35 % for naming it and 25 % for weighing it" in page
    assert "who may judge is for the registry" in page


def test_no_page_of_an_unanswered_item_holds_its_key(cast, quiz, answer):
    entry = answer.item.keys.get().entries.first()
    entry.regions = [[[0.123457, 0.2], [0.3, 0.2], [0.3, 0.654321]]]
    entry.save()
    exhibit = answer.item.exhibit
    exhibit.verdict, exhibit.caption, exhibit.description = "incorrect", "SECRET-CAPTION", "SECRET-WORDS"
    exhibit.save()
    client = cast.client("trainee")
    for address in [
        f"{CLUB}/",
        f"{CLUB}/quizzes/",
        f"{CLUB}/quizzes/{quiz.pk}/",
        f"{CLUB}/quizzes/{quiz.pk}/rules/",
        f"{CLUB}/sittings/{answer.sitting_id}/",
        f"{CLUB}/answers/{answer.pk}/",
        f"{CLUB}/record/",
    ]:
        page = client.get(address, follow=True).content.decode()
        for secret in ("0.123457", "0.654321", "SECRET", "ncorrect", '"entries"', '"regions"'):
            assert secret not in page, (address, secret)
    kept = send(client, answer, makers.said(makers.pin(0.1, 0.1))).content.decode()
    assert "0.123457" not in kept


def test_a_save_is_acknowledged_and_survives_a_reload(cast, answer):
    client = cast.client("trainee")
    response = send(client, answer, makers.said(makers.pin(0.25, 0.31)))
    assert response.json()["revision"] == 1
    page = client.get(f"{CLUB}/answers/{answer.pk}/").content.decode()
    assert '"x": 0.25, "y": 0.31' in page


def test_another_window_is_told_what_is_kept(cast, answer):
    client = cast.client("trainee")
    send(client, answer, makers.said(makers.pin(0.25, 0.31)))
    response = send(client, answer, makers.said(nothing_found=True), seen=0)
    assert response.status_code == 409
    assert response.json()["revision"] == 1
    assert response.json()["content"]["marks"][0]["x"] == 0.25
    assert send(client, answer, makers.said(nothing_found=True), seen=1).status_code == 200


@pytest.mark.parametrize("body", ["", "[]", "{}", '{"content": 3, "seen": 0, "identity": "x"}', "\x00"])
def test_what_cannot_be_read_is_refused_and_changes_nothing(cast, answer, body):
    response = cast.client("trainee").post(
        f"{CLUB}/answers/{answer.pk}/save/", body, content_type="application/json"
    )
    assert response.status_code == 422
    answer.refresh_from_db()
    assert (answer.revision, answer.content) == (0, {})


def test_saving_after_handing_in_is_refused_as_gone(cast, answer):
    client = cast.client("trainee")
    send(client, answer, makers.said(nothing_found=True))
    client.post(f"{CLUB}/answers/{answer.pk}/hand-in/", {"seen": "1"})
    assert send(client, answer, makers.said(), seen=1).status_code == 410


def test_pressing_twice_hands_in_once_and_leads_to_the_mark(cast, answer):
    client = cast.client("trainee")
    send(client, answer, makers.said(nothing_found=True))
    for _press in range(2):
        response = client.post(f"{CLUB}/answers/{answer.pk}/hand-in/", {"seen": "1"}, follow=True)
        assert "Your answer scores 0 of 100" in response.content.decode()
    assert Mark.objects.count() == 1


def test_handing_in_what_another_window_changed_asks_to_look_first(cast, answer):
    client = cast.client("trainee")
    send(client, answer, makers.said(nothing_found=True))
    send(client, answer, makers.said(makers.pin(0.1, 0.1)), seen=1)
    response = client.post(f"{CLUB}/answers/{answer.pk}/hand-in/", {"seen": "1"})
    assert response.status_code == 409
    assert "changed in another window" in response.content.decode()
    assert Answer.objects.get(pk=answer.pk).handed_in_at is None


def test_the_ledger_adds_up_as_shown(cast, quiz, answer):
    client = cast.client("trainee")
    shoulder = quiz.edition.breed.faults.get(name="Upright shoulder")
    send(client, answer, makers.said(makers.pin(0.35, 0.5, shoulder, 1), makers.pin(0.9, 0.2, None, 0)))
    client.post(f"{CLUB}/answers/{answer.pk}/hand-in/", {"seen": "1"})
    page = client.get(f"{CLUB}/answers/{answer.pk}/").content.decode()
    # Worked by hand: 4/6 of the points, less a third of a quarter of them, less a Minor false alarm (1/24).
    for figure in ("26.7", "23.3", "11.1", "−4.2", "56.9", "Your answer scores 57 of 100"):
        assert figure in page
    assert "Look next for: roached back." in page


def test_a_trainee_sees_only_their_own_answers(cast, answer):
    other = makers.make_trainee(cast.club, "Erlend Scollay")
    client = cast.client("nobody")
    client.force_login(other.person, "django.contrib.auth.backends.ModelBackend")
    assert client.get(f"{CLUB}/answers/{answer.pk}/").status_code == 404
    assert send(client, answer, makers.said(nothing_found=True)).status_code == 404
    assert client.post(f"{CLUB}/answers/{answer.pk}/hand-in/").status_code == 404


def test_a_query_is_asked_once(cast, answer):
    client = cast.client("trainee")
    send(client, answer, makers.said(nothing_found=True))
    client.post(f"{CLUB}/answers/{answer.pk}/hand-in/")
    address = f"{CLUB}/answers/{answer.pk}/query/"
    assert client.post(address, {"text": ""}).status_code == 422
    assert client.post(address, {"text": "The shoulder is right."}).status_code == 302
    assert client.post(address, {"text": "Again."}).status_code == 409
    assert answer.query.text == "The shoulder is right."
