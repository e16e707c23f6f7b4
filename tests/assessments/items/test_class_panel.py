"""A panel that places a class: each alone, what they agree on as the draft key, where a key departs from it."""

import json
import uuid

import pytest

from assessments.actions.key_panels import close_panel, draft_from_panel, hand_in_marking, save_marking
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.items import KINDS, KeyRefused
from assessments.models import Item
from assessments.rules import NotReady
from tests import makers
from tests.assessments.items import asked

CLUB = "/clubs/skerry-drover"
METHOD = KINDS["place-a-class"].panel


@pytest.fixture
def item(cast):
    return asked.class_item(makers.make_edition(cast.club), cast.educator)


@pytest.fixture
def members(cast):
    return [makers.make_mentor(cast.club, f"Mentor {number}") for number in range(3)]


@pytest.fixture
def panel(cast, item, members):
    return makers.make_key_panel(item, cast.educator, *members)


def placed(panel, member, order, cuts):
    seat = panel.panellists.get(member=member)
    sent = {"order": order, "cuts": cuts, "note": ""}
    save_marking(panellist=seat, sent=sent, seen=seat.revision, identity=uuid.uuid4())
    return hand_in_marking(panellist=seat)


def test_what_a_panel_agrees_on_becomes_the_draft_key(cast, item, members, panel):
    key = item.keys.get().content
    a, b, c = key["order"]
    for member, order, cuts in zip(
        members, ([b, a, c], [b, a, c], [a, b, c]), ([1, 5], [2, 6], [1, 7]), strict=True
    ):
        placed(panel, member, order, cuts)
    closed = close_panel(panel=panel, by=cast.educator)
    draft = draft_from_panel(panel=closed, by=cast.educator)
    assert draft.content == {**key, "order": [b, a, c], "cuts": [1, 6]}
    assert (draft.agreement, draft.fit) == (closed.agreement, closed.fit)
    publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
    client = cast.client("educator")
    for address in (f"key-panels/{panel.pk}/", f"items/{item.pk}/key/", f"items/{item.pk}/"):
        assert client.get(f"{CLUB}/{address}").status_code == 200, address
    page = client.get(f"{CLUB}/key-panels/{panel.pk}/").content.decode()
    assert "cut 6" in page
    assert "Mentor 2" in page


def test_a_departure_is_said_and_wants_a_note(cast, item, members, panel):
    order = item.keys.get().content["order"]
    for member in members:
        placed(panel, member, order, [3, 3])
    draft = draft_from_panel(panel=close_panel(panel=panel, by=cast.educator), by=cast.educator)
    assert draft.fit == "examination"
    content = draft.content | {"cuts": [3, 0]}
    save_draft(key=draft, sound=False, note="", content=content, by=cast.educator.person)
    draft.refresh_from_db()
    assert METHOD.departures(draft) == ["the cuts are not the panel’s."]
    with pytest.raises(NotReady):
        publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)


def test_a_panellist_places_on_a_page_that_tells_nothing(cast, item, panel, client):
    seat = panel.panellists.first()
    client.force_login(seat.member.person, "django.contrib.auth.backends.ModelBackend")
    page = client.get(f"{CLUB}/key-panels/marking/{seat.pk}/")
    assert page.status_code == 200
    assert '"total"' not in page.content.decode()
    order = item.keys.get().content["order"]
    for cuts, status in (([2, None], 422), ([2, 4], 302)):
        seat.refresh_from_db()
        sent = {"order": order, "cuts": cuts, "note": "Close at the top."}
        body = {"content": sent, "seen": seat.revision, "identity": str(uuid.uuid4())}
        saved = client.post(
            f"{CLUB}/key-panels/marking/{seat.pk}/save/", json.dumps(body), content_type="application/json"
        )
        assert saved.status_code == 200
        seat.refresh_from_db()
        handed = client.post(f"{CLUB}/key-panels/marking/{seat.pk}/hand-in/", {"seen": seat.revision})
        assert handed.status_code == status
    own = client.get(f"{CLUB}/key-panels/marking/{seat.pk}/").content.decode()
    assert "cut 4" in own
    assert "Close at the top." in own


@pytest.mark.parametrize("sent", [None, {}, {"order": [1], "cuts": []}, {"order": [], "cuts": "x"}])
def test_what_is_no_placing_is_refused(sent, panel):
    with pytest.raises(KeyRefused):
        METHOD.read(panel, sent)


def test_each_panellist_has_an_order_of_their_own_to_begin_with(item, panel):
    begun = [METHOD.draw_up(seat)["content"] for seat in panel.panellists.select_related("panel__item")]
    assert all(sorted(each["order"]) == sorted(begun[0]["order"]) for each in begun)
    assert all(METHOD.lacks(each) == ["Say the cut between each pair of neighbours."] for each in begun)


def test_a_new_draft_without_a_panel_has_nothing_to_depart_from(cast, item):
    draft = start_draft(item=item, by=cast.educator.person)
    assert draft.panel is None
