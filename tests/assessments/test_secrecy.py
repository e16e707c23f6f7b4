"""The key of an unanswered item is on no page that a trainee can open, and in nothing that a page is sent."""

import json
import uuid

import pytest

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.quizzes import add_item, change_rules, make_quiz, open_quiz
from assessments.actions.sittings import begin_sitting
from assessments.models import Item
from assessments.scoring import MarkingRules
from shared.accounts.permissions import ROLES
from shared.accounts.roles import Role
from tests import makers
from tests.printed import said_by
from tests.test_routes import CLUB, Scene, url_of, visit

PLACE = [[0.30117, 0.40117], [0.40117, 0.40117], [0.40117, 0.55117]]
DRAFTED = [[0.10229, 0.10229], [0.20229, 0.10229], [0.20229, 0.25229]]
SECRETS = ["0.30117", "0.10229", "0.371", "Said by the panel", "Not settled", "regions", "also"]


@pytest.fixture
def scene(cast):
    """A quiz of one item that the trainee has begun; its key is published, and a second one is in work."""
    scene = Scene(cast.club, cast.educator, cast.mentor, cast.trainee, cast.secretary)
    edition = scene.thing("edition")
    shoulder, arm = makers.make_fault(edition), makers.make_fault(edition, "Short upper arm", "5.2")
    exhibit = makers.make_published(cast.club, cast.educator, seed=7, verdict="incorrect")
    quiz = make_quiz(edition=edition, title="Forequarters", by=cast.educator.person)
    item = makers.make_keyed_item(edition, cast.educator)
    Item.objects.filter(pk=item.pk).update(exhibit=exhibit)
    also = [{"fault": arm.pk, "credit": 0.371}]
    key(item, cast, "Said by the panel", makers.entry(shoulder, [PLACE], also=also))
    publish_key(item=item, by=cast.educator.person)
    key(item, cast, "Not settled", makers.entry(arm, [DRAFTED]))
    add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    scene.made |= {"quiz": quiz, "exhibit": exhibit}
    scene.made["sitting"] = begin_sitting(quiz=quiz, trainee=cast.trainee)
    return scene


def key(item, cast, note, *entries):
    draft = start_draft(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
    save_draft(key=draft, sound=False, note=note, entries=list(entries), by=cast.educator.person)


def leaks(response):
    sent = said_by(response) + json.dumps(dict(response.headers))
    return [secret for secret in SECRETS if secret in sent]


OPEN_TO_TRAINEES = [route for route in CLUB if Role.TRAINEE in ROLES[route.view.ability]]


def test_the_secrets_are_there_for_whoever_may_see_them(cast, scene):
    address = f"/clubs/skerry-drover/items/{scene.thing('item').pk}/key/"
    shown = [cast.client("educator").get(page) for page in (address, f"{address}2/")]
    assert {secret for page in shown for secret in leaks(page)} == set(SECRETS)


@pytest.mark.parametrize("route", OPEN_TO_TRAINEES, ids=str)
def test_no_page_of_a_trainee_tells_of_the_key(route, cast, scene):
    if route.name == "answer-query":
        pytest.skip("asks about an answer that is handed in")
    client, url = cast.client("trainee"), url_of(route, scene)
    if route.name in ("answer-hand-in", "quiz-begin"):
        client.post(url)  # a blank answer is not taken; beginning goes on with what was begun
    for response in (visit(client, url), visit(client, url, HX_Request="true"), client.post(url)):
        assert leaks(response) == []


def test_a_record_to_take_along_has_no_key_even_of_marked_answers(cast, scene):
    makers.make_handed_in(scene.thing("answer"))
    client = cast.client("trainee")
    for kind in ("json", "pdf"):
        response = client.get(f"/clubs/skerry-drover/record/record.{kind}")
        assert "Forequarters" in said_by(response)
        assert leaks(response) == []


def test_no_answer_to_a_save_tells_of_the_key(cast, scene):
    answer = scene.thing("answer")
    client, address = cast.client("trainee"), f"/clubs/skerry-drover/answers/{answer.pk}/save/"
    shoulder = scene.thing("edition").breed.faults.get(name="Upright shoulder")
    right = makers.said(makers.pin(0.36, 0.45, shoulder, 2))
    for seen in (0, 0, 1):
        body = {"content": right, "seen": seen, "identity": str(uuid.uuid4())}
        assert leaks(client.post(address, json.dumps(body), content_type="application/json")) == []


def test_changed_rules_tell_nothing_either(cast, scene):
    quiz = scene.thing("quiz")
    change_rules(
        quiz=quiz, rules=MarkingRules(false_alarm=0.3), reach_in_heights=True, by=cast.educator.person
    )
    assert leaks(cast.client("trainee").get(f"/clubs/skerry-drover/quizzes/{quiz.pk}/")) == []


def test_the_walk_met_the_pages_that_matter():
    names = {route.name for route in OPEN_TO_TRAINEES}
    assert {"quizzes", "quiz", "quiz-rules", "sitting", "answer", "answer-save"} <= names
    assert {"record", "record-json", "record-pdf"} <= names
