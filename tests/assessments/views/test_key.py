"""The key of an item in the browser: drawn up, saved, published, looked at, and marking anew watched."""

import json
import re
import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.keys import start_draft
from assessments.actions.sittings import begin_sitting
from assessments.models import Item, Key, Mark
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def item(cast, edition):
    """Not published yet."""
    return makers.make_draft_item(edition, cast.educator)


@pytest.fixture
def client(cast):
    return cast.client("educator")


def entry(shoulder, **fields):
    given = {"fault": shoulder.pk, "clause": shoulder.clause_id, "level": 2, "regions": [makers.SHOULDER]}
    return given | fields


def send(client, item, *entries, seen=0, identity=None, draft=None, **content):
    body = {
        "draft": draft or item.keys.get(published_at=None).pk,
        "seen": seen,
        "identity": str(identity or uuid.uuid4()),
        "content": {"sound": False, "note": "", "entries": list(entries)} | content,
    }
    return client.post(f"{CLUB}/items/{item.pk}/key/save/", json.dumps(body), content_type="application/json")


def said_by(response, name):
    found = re.search(rf'<script id="{name}"[^>]*>(.*?)</script>', response.content.decode(), re.S)
    return json.loads(found[1])


def text_of(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def test_the_page_brings_what_drawing_up_needs(client, item, shoulder):
    page = client.get(f"{CLUB}/items/{item.pk}/key/")
    known = said_by(page, "drawn-up")
    assert known["content"] == {"sound": False, "note": "", "entries": []}
    assert [fault["name"] for fault in known["faults"]] == ["Upright shoulder"]
    assert known["clauses"][0]["reading"] == "The club reads “serious fault” in 5.1 as Serious."
    assert known["most"] == {"entries": 20, "regions": 8, "corners": 120, "also": 8}
    assert all(said_by(page, "words").values())
    assert "no version is in use yet" in text_of(page)


def test_a_draft_is_saved_as_one_goes_and_comes_back(client, item, shoulder):
    answer = send(client, item, entry(shoulder), {"level": 1}, note="After the panel met.")
    assert answer.status_code == 200
    assert answer.json()["revision"] == 1
    assert re.fullmatch(r"\d\d:\d\d", answer.json()["saved_at"])
    known = said_by(client.get(f"{CLUB}/items/{item.pk}/key/"), "drawn-up")
    assert known["revision"] == 1
    first, second = known["content"]["entries"]
    assert (first["fault"], first["regions"]) == (shoulder.pk, [makers.SHOULDER])
    assert (second["fault"], second["level"], second["regions"]) == (None, 1, [])
    assert known["content"]["note"] == "After the panel met."


def test_another_window_gets_what_is_kept_instead_of_overwriting_it(client, item, shoulder):
    identity = uuid.uuid4()
    send(client, item, entry(shoulder), identity=identity)
    answer = send(client, item, sound=True)
    assert answer.status_code == 409
    assert answer.json()["revision"] == 1
    assert answer.json()["last"] == str(identity)
    assert answer.json()["content"]["entries"][0]["fault"] == shoulder.pk
    assert send(client, item, sound=True, seen=1).json()["revision"] == 2


def test_what_is_wrong_is_said_by_letter_and_nothing_is_kept(client, item, shoulder):
    crossed = [[[0.1, 0.1], [0.3, 0.3], [0.3, 0.1], [0.1, 0.3]]]
    answer = send(client, item, entry(shoulder), entry(shoulder, regions=crossed, level=9))
    assert answer.status_code == 422
    assert answer.json()["wrong"] == [
        [1, "B: the outline of its region crosses or touches itself. Move a corner."],
        [1, "B: the severity is not on the club’s ladder. Weigh it again."],
    ]
    assert item.keys.get().entries.count() == 0


@pytest.mark.parametrize("body", ["", "[]", "{}", '{"seen": "x"}', "[" * 100_000, '{"seen": 1e999}'])
def test_what_is_no_save_is_refused(client, item, body):
    response = client.post(f"{CLUB}/items/{item.pk}/key/save/", body, content_type="application/json")
    assert response.status_code == 422


def test_a_draft_that_is_no_longer_open_is_not_saved_into(cast, client, item, shoulder):
    draft = item.keys.get().pk
    send(client, item, entry(shoulder))
    client.post(f"{CLUB}/items/{item.pk}/key/publish/")
    assert send(client, item, seen=1, draft=draft).status_code == 410
    assert send(client, item, draft=987654321).status_code == 410
    other = makers.make_keyed_item(item.edition, cast.educator)
    assert send(client, item, draft=other.keys.get().pk).status_code == 410


def test_publishing_says_what_is_missing_and_keeps_the_draft(client, item, shoulder):
    send(client, item, entry(shoulder, level=None), {})
    response = client.post(f"{CLUB}/items/{item.pk}/key/publish/")
    assert response.status_code == 422
    page = text_of(response)
    assert "A: weigh it." in page
    assert "B: name the fault, say the clause, weigh it, draw its region or say whole dog." in page
    assert len(said_by(response, "drawn-up")["content"]["entries"]) == 2
    assert item.keys.get().published_at is None


def test_publishing_what_another_window_changed_shows_it_first(client, item, shoulder):
    send(client, item, entry(shoulder))
    send(client, item, sound=True, seen=1)
    response = client.post(f"{CLUB}/items/{item.pk}/key/publish/", {"seen": 1})
    assert response.status_code == 409
    assert "changed in another window. Look at it below, then publish." in text_of(response)
    assert client.post(f"{CLUB}/items/{item.pk}/key/publish/", {"seen": 2}).status_code == 302
    assert item.keys.get().published_at is not None


def test_a_published_key_is_shown_and_a_new_draft_begins_from_it(client, item, shoulder):
    send(client, item, entry(shoulder), note="First.")
    client.post(f"{CLUB}/items/{item.pk}/key/publish/")
    page = client.get(f"{CLUB}/items/{item.pk}/key/")
    assert said_by(page, "drawn") == [{"letter": "A", "regions": [makers.SHOULDER]}]
    assert "A Upright shoulder 5.1 Serious" in text_of(page)
    assert client.post(f"{CLUB}/items/{item.pk}/key/start/").status_code == 302
    known = said_by(client.get(f"{CLUB}/items/{item.pk}/key/"), "drawn-up")
    assert known["content"]["note"] == "First."
    send(client, item, sound=True)
    client.post(f"{CLUB}/items/{item.pk}/key/publish/")
    assert "Sound." in text_of(client.get(f"{CLUB}/items/{item.pk}/key/"))
    earlier = client.get(f"{CLUB}/items/{item.pk}/key/1/")
    assert "An earlier version, as it was." in text_of(earlier)
    assert said_by(earlier, "drawn") == [{"letter": "A", "regions": [makers.SHOULDER]}]
    assert client.get(f"{CLUB}/items/{item.pk}/key/3/").status_code == 404


def test_a_draft_has_no_page_as_a_version(cast, client, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    start_draft(item=item, by=cast.educator.person)
    assert client.get(f"{CLUB}/items/{item.pk}/key/2/").status_code == 404


def test_a_discarded_draft_is_offered_back(cast, client, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    client.post(f"{CLUB}/items/{item.pk}/key/start/")
    send(client, item, sound=True)
    client.post(f"{CLUB}/items/{item.pk}/key/discard/")
    assert "The draft was discarded on" in text_of(client.get(f"{CLUB}/items/{item.pk}/key/"))
    client.post(f"{CLUB}/items/{item.pk}/key/take-back/")
    assert said_by(client.get(f"{CLUB}/items/{item.pk}/key/"), "drawn-up")["content"]["sound"] is True
    only = makers.make_draft_item(edition, cast.educator)
    refused = client.post(f"{CLUB}/items/{only.pk}/key/discard/", follow=True)
    assert "only key" in text_of(refused)


def test_publishing_says_beforehand_and_afterwards_what_it_does_to_marks(cast, client, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    item = quiz.items.get()
    client.post(f"{CLUB}/items/{item.pk}/key/start/")
    assert "Nothing has been answered yet" in text_of(client.get(f"{CLUB}/items/{item.pk}/key/"))
    makers.make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())
    assert "Publishing re-marks 1 answer and tells" in text_of(client.get(f"{CLUB}/items/{item.pk}/key/"))
    send(client, item, sound=True)
    page = client.post(f"{CLUB}/items/{item.pk}/key/publish/", follow=True)
    assert "Marked anew: one mark of 1 changed" in text_of(page)
    assert "1 rose and 0 fell, by 100.0 points of 100 on average." in text_of(page)
    assert "hx-get" not in page.content.decode()

    Mark.objects.filter(key__version=2).delete()
    Mark.objects.update(current=True)
    fragment = client.get(f"{CLUB}/items/{item.pk}/key/marking/", headers={"HX-Request": "true"})
    assert "Marking anew: 0 of 1 answers" in text_of(fragment)
    assert 'hx-trigger="every 2s"' in fragment.content.decode()
    Key.objects.filter(version=2).update(published_at="2026-01-01T10:00Z")
    assert "Mark the rest" in text_of(client.get(f"{CLUB}/items/{item.pk}/key/"))
    client.post(f"{CLUB}/items/{item.pk}/key/marking/rest/")
    assert Mark.objects.get(current=True).key.version == 2


def test_an_item_says_where_it_is_asked_and_how_often_answered(cast, client, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    item = quiz.items.get()
    address = f"{CLUB}/items/{item.pk}/"
    assert "Nobody has handed in an answer yet." in text_of(client.get(address))
    makers.make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())
    begin_sitting(quiz=quiz, trainee=cast.trainee)
    page = text_of(client.get(address))
    assert "handed in 1 people 1 share of the marks won 0 %" in page
    assert "One more lies in a sitting under way." in page
    assert "Asked in Forequarters in profile open" in page
    client.post(f"{address}retire/")
    assert Item.objects.get().state == "retired"
    assert "Bring it back" in text_of(client.get(address))
    client.post(f"{address}bring-back/")
    assert Item.objects.get().state == "in use"


def test_a_key_asks_as_often_for_three_faults_as_for_one(cast, client, edition, item, shoulder):
    def queries(pk):
        with CaptureQueriesContext(connection) as caught:
            assert client.get(f"{CLUB}/items/{pk}/key/").status_code == 200
        return len(caught)

    send(client, item, entry(shoulder))
    one = queries(item.pk)
    makers.make_fault(edition, "Short upper arm", "5.2")
    send(client, item, entry(shoulder), entry(shoulder), entry(shoulder), seen=1)
    assert queries(item.pk) == one
    client.post(f"{CLUB}/items/{item.pk}/key/publish/")
    assert queries(makers.make_keyed_item(edition, cast.educator).pk) == queries(item.pk)
