"""Every page of the kinds that ask by words, pairs and classes, from making an item to its review."""

from __future__ import annotations

import html
import json
import re
import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.sittings import begin_sitting
from assessments.items import KINDS
from assessments.models import Item, Key
from tests import makers
from tests.assessments.items import asked

CLUB = "/clubs/skerry-drover"
MAKERS = {
    "choose": asked.choice,
    "complete-the-clause": asked.clause_item,
    "which-of-the-pair": asked.pair,
    "place-a-class": asked.class_item,
}
kinds = pytest.mark.parametrize("name", MAKERS)


def right_answer(item: Item) -> dict:
    content = item.keys.exclude(published_at=None).get().content
    return {
        "choose": lambda: {"chosen": content["right"]},
        "complete-the-clause": lambda: {"gaps": ["long", "Well-laid back"]},
        "which-of-the-pair": lambda: {"exhibit": content["exhibit"], "clause": content["clause"]},
        "place-a-class": lambda: {
            "placing": content["order"],
            "findings": {
                exhibit: {"faults": [row["fault"] for row in rows], "nothing": not rows}
                for exhibit, rows in content["faults"].items()
            },
        },
    }[item.kind]()


def secrets(item: Item) -> list[str]:
    """What would tell of the key if it stood on a page."""
    return {
        "choose": ["&quot;right&quot;", '"right"', '"why"', "since the standard says so"],
        "complete-the-clause": ["well laid back", "Well laid back", '"also"', ">long<", "long and"],
        "which-of-the-pair": ['"also"', "0.5", "correct", "better of the two</strong>"],
        "place-a-class": ['"order"', '"cuts"', '"total"', '"level"'],
    }[item.kind]


def posted(client, address, content, **more):
    body = {"content": content, "seen": 0, "identity": str(uuid.uuid4()), **more}
    return client.post(address, json.dumps(body), content_type="application/json")


@kinds
def test_the_right_answer_scores_all_and_its_pages_show_it(name, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    makers.make_mentorship(cast.mentor, cast.trainee)
    answer = asked.begun(item, cast.trainee)
    trainee, content = cast.client("trainee"), right_answer(item)
    address = f"{CLUB}/answers/{answer.pk}/"
    assert trainee.get(address).status_code == 200
    assert posted(trainee, f"{address}save/", content).json()["revision"] == 1
    assert json.loads(script(trainee.get(address), "ask"))["content"] == kept(content)
    assert trainee.post(f"{address}hand-in/", {"seen": 1}, follow=True).status_code == 200
    page = trainee.get(address)
    assert "Your answer scores 100 of 100" in page.content.decode()
    assert trainee.get(f"{CLUB}/sittings/{answer.sitting_id}/").status_code == 200
    review = cast.client("mentor").get(f"{CLUB}/reviews/{answer.pk}/")
    assert review.status_code == 200
    assert "Una Halcro" in review.content.decode()


def kept(content):
    return json.loads(json.dumps(content))


def script(response, ident):
    return re.search(rf'<script id="{ident}"[^>]*>(.*?)</script>', response.content.decode(), re.DOTALL)[1]


@kinds
def test_a_blank_is_not_taken(name, cast, edition):
    answer = asked.begun(MAKERS[name](edition, cast.educator), cast.trainee)
    client = cast.client("trainee")
    page = client.post(f"{CLUB}/answers/{answer.pk}/hand-in/", {"seen": 0}, follow=True)
    answer.refresh_from_db()
    assert answer.handed_in_at is None
    assert KINDS[name].words()["blank"] in page.content.decode()


@kinds
def test_nothing_on_the_answer_page_tells_of_the_key(name, cast, edition):
    makers_of = {"choose": {"why": {"aaaaaaaa": "since the standard says so"}}}
    item = MAKERS[name](edition, cast.educator, **makers_of.get(name, {}))
    answer = asked.begun(item, cast.trainee)
    page = cast.client("trainee").get(f"{CLUB}/answers/{answer.pk}/").content.decode()
    assert [secret for secret in secrets(item) if secret in page] == []


@kinds
def test_the_preview_is_the_answer_page_and_keeps_nothing(name, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    page = cast.client("educator").get(f"{CLUB}/items/{item.pk}/preview/")
    assert page.status_code == 200
    assert 'data-save=""' in page.content.decode()


@kinds
def test_key_pages_of_a_version_and_of_a_draft(name, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    client = cast.client("educator")
    assert client.get(f"{CLUB}/items/{item.pk}/key/").status_code == 200
    client.post(f"{CLUB}/items/{item.pk}/key/start/")
    page = client.get(f"{CLUB}/items/{item.pk}/key/")
    drawn = json.loads(script(page, "drawn-up"))
    draft = item.keys.get(published_at=None)
    assert {**drawn["content"], "note": ""} == {**kept(draft.content), "note": ""}
    content = {**drawn["content"], "note": "Looked at again."}
    saved = posted(client, f"{CLUB}/items/{item.pk}/key/save/", content, draft=draft.pk)
    assert saved.status_code == 200, saved.content
    draft.refresh_from_db()
    assert draft.note == "Looked at again."
    assert draft.content == item.keys.exclude(published_at=None).get().content
    assert client.post(f"{CLUB}/items/{item.pk}/key/publish/", {"seen": 1}).status_code == 302
    assert Key.objects.filter(item=item).exclude(published_at=None).count() == 2


@kinds
@pytest.mark.parametrize(
    "sent", [None, [], "x", {}, {"right": 1}, {"order": [1]}, {"also": {}}, {"chosen": 3}]
)
def test_what_no_page_sends_is_refused(name, sent, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    cast.client("educator").post(f"{CLUB}/items/{item.pk}/key/start/")
    draft = item.keys.get(published_at=None)
    refused = posted(cast.client("educator"), f"{CLUB}/items/{item.pk}/key/save/", sent, draft=draft.pk)
    assert refused.status_code == 422
    answer = asked.begun(item, cast.trainee)
    refused = posted(cast.client("trainee"), f"{CLUB}/answers/{answer.pk}/save/", sent)
    assert refused.status_code == 422


@kinds
def test_asking_pages_show_what_is_asked(name, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    page = cast.client("educator").get(f"{CLUB}/items/{item.pk}/asking/")
    assert page.status_code == 200
    new = cast.client("educator").get(f"{CLUB}/items/new/{name}/?edition={edition.pk}")
    assert new.status_code == 200


@kinds
def test_its_evidence_says_what_the_room_answered(name, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    quiz = asked.begun(item, cast.trainee).sitting.quiz
    address = f"{CLUB}/evidence/quizzes/{quiz.pk}/items/{item.pk}/"
    assert "what they said will be here" in cast.client("educator").get(address).content.decode()
    for number in range(5):
        member = makers.make_trainee(cast.club, f"Trainee {number}")
        answer = begin_sitting(quiz=quiz, trainee=member).answers.get()
        mark = asked.marked(answer, right_answer(item))
    page = cast.client("educator").get(address).content.decode()
    words = mark.detail["lines"][0]["text"].split("“")[0]
    assert re.search(rf"<td>{re.escape(words)}.*?</td>.*?>5</td>", page)
    assert cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/").status_code == 200
    assert cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/items.csv").status_code in (
        200,
        404,
    )


@kinds
def test_quiz_pages_say_how_it_is_marked(name, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    answer = asked.begun(item, cast.trainee)
    quiz = answer.sitting.quiz_id
    first = KINDS[name].rules_in_words(answer.sitting.quiz.rules_versions.first())[0]
    page = cast.client("trainee").get(f"{CLUB}/quizzes/{quiz}/rules/").content.decode()
    assert html.escape(first) in page or first in page


def cost_of(client, address):
    with CaptureQueriesContext(connection) as asked_of_it:
        assert client.get(address).status_code == 200
    return len(asked_of_it)


def test_a_class_of_eight_costs_what_a_class_of_three_does(cast, edition):
    costs = []
    for size in (3, 8):
        item = asked.class_item(edition, cast.educator, size=size)
        answer = asked.begun(item, cast.trainee)
        client, address = cast.client("trainee"), f"{CLUB}/answers/{answer.pk}/"
        before = cost_of(client, address)
        asked.marked(answer, right_answer(item))
        key = cost_of(cast.client("educator"), f"{CLUB}/items/{item.pk}/key/")
        costs.append((before, cost_of(client, address), key))
    assert costs[0] == costs[1]


@kinds
def test_nothing_at_all_is_marked_as_nothing(name, cast, edition):
    """When time is up, what is there is handed in; of an answer not begun that is an empty content."""
    item = MAKERS[name](edition, cast.educator)
    rules = asked.begun(item, cast.trainee).sitting.quiz.rules_versions.first()
    found = next(KINDS[name].mark(item.keys.get(), rules, [{}]))
    assert (found.score, found.detail["answered"]) == (0, False)
    assert sum(line["points"] for line in found.detail["lines"]) == 0
