"""A panel that chooses the better of a pair: each alone, what they agree on as the draft key."""

import json
import uuid

import pytest

from assessments.actions.key_panels import close_panel, draft_from_panel, hand_in_marking, save_marking
from assessments.items import KINDS
from tests import makers
from tests.assessments.items import asked

CLUB = "/clubs/skerry-drover"
METHOD = KINDS["which-of-the-pair"].panel


@pytest.fixture
def item(cast):
    return asked.pair(makers.make_edition(cast.club), cast.educator)


@pytest.fixture
def panel(cast, item):
    members = [makers.make_mentor(cast.club, f"Mentor {number}") for number in range(3)]
    return makers.make_key_panel(item, cast.educator, *members)


def say(seat, exhibit, clause):
    sent = {"exhibit": exhibit, "clause": clause, "also": [], "note": ""}
    save_marking(panellist=seat, sent=sent, seen=seat.revision, identity=uuid.uuid4())
    hand_in_marking(panellist=seat)


def test_what_a_panel_agrees_on_becomes_the_draft_key(cast, item, panel):
    key = item.keys.get().content
    other = key["also"][0]["clause"]
    for seat, clause in zip(panel.panellists.all(), (other, other, key["clause"]), strict=True):
        say(seat, key["exhibit"], clause)
    closed = close_panel(panel=panel, by=cast.educator)
    assert (closed.agreement, closed.fit) == (1, "examination")
    client = cast.client("educator")
    page = client.get(f"{CLUB}/key-panels/{panel.pk}/").content.decode()
    assert "is the better." in page
    assert "Mentor 2" in page
    draft = draft_from_panel(panel=closed, by=cast.educator)
    assert draft.content == {"exhibit": key["exhibit"], "clause": other, "also": []}
    assert client.get(f"{CLUB}/items/{item.pk}/key/").status_code == 200
    assert METHOD.departures(draft) == []
    draft.content = key
    assert METHOD.departures(draft) == ["the clause is not the panel’s."]


def test_a_panel_at_odds_proposes_nothing(cast, item, panel):
    key, both = item.keys.get().content, [row.exhibit_id for row in item.item_exhibits.all()]
    first, second, third = panel.panellists.all()
    third.delete()
    say(first, both[0], key["clause"])
    say(second, both[1], key["clause"])
    closed = close_panel(panel=panel, by=cast.educator)
    assert closed.fit == "discussion"
    draft = draft_from_panel(panel=closed, by=cast.educator)
    assert KINDS["which-of-the-pair"].lacks(draft) == [
        "Say which of the two is the better.",
        "Say by which clause.",
    ]


def test_a_panellist_chooses_on_a_page_that_tells_nothing(item, panel, client):
    seat, key = panel.panellists.first(), item.keys.get().content
    client.force_login(seat.member.person, "django.contrib.auth.backends.ModelBackend")
    address = f"{CLUB}/key-panels/marking/{seat.pk}/"
    page = client.get(address)
    assert page.status_code == 200
    assert '"exhibit": null' in page.content.decode()
    assert "correct" not in page.content.decode()
    for clause, status in ((None, 422), (key["clause"], 302)):
        seat.refresh_from_db()
        sent = {"exhibit": key["exhibit"], "clause": clause, "also": [], "note": "By the blade."}
        body = {"content": sent, "seen": seat.revision, "identity": str(uuid.uuid4())}
        saved = client.post(f"{address}save/", json.dumps(body), content_type="application/json")
        assert saved.status_code == 200, saved.content
        seat.refresh_from_db()
        assert client.post(f"{address}hand-in/", {"seen": seat.revision}).status_code == status
    own = client.get(address).content.decode()
    assert "By the blade." in own
    assert "The blade slopes." in own
