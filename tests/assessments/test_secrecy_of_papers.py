"""What a paper asks and what its keys say is on no page of a candidate before its time, nor ever the key; who a
candidate is, is on no page but the stewards'."""

from __future__ import annotations

import json
import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.paper_results import end_paper, release_results
from assessments.models import Key, Mark
from shared.accounts.permissions import ROLES, Ability
from shared.accounts.roles import Role
from tests import makers
from tests.assessments.test_secrecy import leaks
from tests.makers.papers import make_candidate, make_paper_sitting, make_set_paper, right, wrong
from tests.printed import said_by
from tests.test_routes import CLUB, Scene, url_of, visit

PLACE = [[0.30117, 0.40117], [0.40117, 0.40117], [0.40117, 0.55117]]
OPEN_TO_TRAINEES = [route for route in CLUB if Role.TRAINEE in ROLES[route.view.ability]]
BLIND = [
    route
    for route in CLUB
    if route.owner != "courses"
    and {Role.EDUCATOR, Role.MENTOR} & ROLES[route.view.ability]
    and route.view.ability is not Ability.STEWARD_PAPERS
]


@pytest.fixture
def scene(cast):
    """A set paper for one candidate; the key of every item that has faults holds the secrets."""
    scene = Scene(cast.club, cast.educator, cast.mentor, cast.trainee, cast.secretary)
    edition = scene.thing("edition")
    paper = make_set_paper(edition, cast.educator)
    for item in edition.items.exclude(keys__sound=True):
        fault = item.keys.get().entries.get().fault
        draft = start_draft(item=item, by=cast.educator.person)
        entry = makers.entry(fault, [PLACE], also=[])
        save_draft(key=draft, sound=False, note="Said by the panel", entries=[entry], by=cast.educator.person)
        publish_key(item=item, by=cast.educator.person)
    Key.objects.update(fit="examination")
    scene.made |= {"paper": paper, "candidate": make_candidate(paper, cast.trainee, cast.educator)}
    return scene


def front(scene):
    return f"/clubs/skerry-drover/papers/{scene.thing('paper').pk}/"


def asks(response, scene):
    """What of the paper's items is in an answer: pictures, exhibits' numbers, the page that asks."""
    sent = said_by(response) + json.dumps(dict(response.headers))
    exhibits = [item.exhibit for item in scene.thing("paper").quiz.items.all()]
    numbers = [words % each.number for each in exhibits for words in ("Exhibit %d,", '"exhibit": %d,')]
    return [words for words in ('id="ask"', *numbers) if words in sent]


def pages(scene):
    return [front(scene), *(f"{front(scene)}{page}/" for page in ("overview", "1", "2", "3", "clock"))]


def test_items_are_sealed_until_the_candidate_begins(cast, scene):
    client = cast.client("trainee")
    for address in pages(scene):
        assert asks(client.get(address), scene) == []
    make_paper_sitting(scene.thing("candidate"))
    shown = {words for address in pages(scene) for words in asks(client.get(address), scene)}
    assert len(shown) == 4, "The pages of the items are the ones that were asked for above."


@pytest.mark.parametrize("stage", ["not begun", "begun", "handed in", "released"])
def test_no_page_of_a_candidate_tells_of_a_key_at_any_stage(cast, scene, stage):
    client = cast.client("trainee")
    if stage == "begun":
        make_paper_sitting(scene.thing("candidate"))
    if stage in ("handed in", "released"):
        make_paper_sitting(scene.thing("candidate"), right_ones=2)
    if stage == "released":
        end_paper(paper=scene.thing("paper"))
        release_results(paper=scene.thing("paper"), by=cast.educator.person)
    pages_of_items = [*pages(scene), "/clubs/skerry-drover/", "/clubs/skerry-drover/quizzes/"]
    pages_of_items += [f"/clubs/skerry-drover/record/{page}" for page in ("", "record.json", "record.pdf")]
    for address in pages_of_items:
        response = client.get(address, follow=True)
        said = said_by(response)
        assert leaks(response) == [], address
        if stage != "begun":
            assert asks(response, scene) == [], address
        assert "66.7" not in said, address


def test_no_page_tells_of_a_paper_to_a_trainee_who_is_not_invited(cast, scene):
    make_paper_sitting(scene.thing("candidate"), right_ones=2)
    other = makers.make_trainee(cast.club, "Erlend Scollay")
    client = cast.client("nobody")
    client.force_login(other.person, "django.contrib.auth.backends.ModelBackend")
    for route in OPEN_TO_TRAINEES:
        response = visit(client, url_of(route, scene))
        said = said_by(response)
        assert scene.thing("paper").quiz.title not in said, route
        assert leaks(response) == [], route
        if route.name.startswith("paper"):
            assert response.status_code == 404, route


def test_a_save_answers_alike_and_does_the_same_work_for_right_and_wrong(cast, scene):
    client = cast.client("trainee")
    sitting = make_paper_sitting(scene.thing("candidate"))
    said, work = [], []
    for answer in sitting.sitting.answers.all():
        for seen, content in enumerate((right(answer), wrong(answer), right(answer))):
            if content["nothing_found"]:
                content = makers.said(makers.pin(0.2, 0.2, answer.item.edition.breed.faults.first(), 1))
            body = {"content": content, "seen": seen, "identity": str(uuid.uuid4())}
            address = f"{front(scene)}{answer.position + 1}/save/"
            with CaptureQueriesContext(connection) as queries:
                response = client.post(address, json.dumps(body), content_type="application/json")
            assert leaks(response) == []
            named = bool(content["marks"][0]["fault"])
            said.append((response.status_code, sorted(response.json()), dict(response.headers).keys()))
            work.append((len(queries), named))
    assert len({(status, tuple(keys)) for status, keys, _headers in said}) == 1
    assert len({frozenset(headers) for _status, _keys, headers in said}) == 1
    assert len({count - named for count, named in work}) == 1, "One query more where a fault is named."
    assert not Mark.objects.exists()


def test_no_page_of_an_educator_or_mentor_says_who_a_candidate_is(cast, scene):
    hidden = makers.make_trainee(cast.club, "Osla Tulloch")
    makers.make_mentorship(cast.mentor, hidden)
    scene.thing("review")  # an answer of a trainee of the mentor's
    scene.made |= {"trainee": cast.trainee}
    candidate = make_candidate(scene.thing("paper"), hidden, cast.educator)
    make_paper_sitting(candidate, right_ones=1)
    for route in BLIND:
        for role in {Role.EDUCATOR, Role.MENTOR} & ROLES[route.view.ability]:
            response = cast.client(role).get(url_of(route, scene))
            sent = said_by(response)
            if "Tulloch" in sent:
                assert scene.thing("paper").quiz.title not in sent, f"{route} for the {role}"
                assert f"andidate {candidate.number}" not in sent, f"{route} for the {role}"


def test_the_walk_met_the_pages_that_matter():
    names = {route.name for route in OPEN_TO_TRAINEES} | {route.name for route in BLIND}
    assert {"paper", "paper-item", "paper-save", "paper-overview", "paper-results", "reviews"} <= names
