"""A panellist's own pages: marking, saving, handing in, taking back; nothing of anybody else is in them."""

import json
import re
import uuid

import pytest

from assessments.actions.key_panels import call_off_panel, close_panel, hand_in_marking, look_at_markings
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.models import Item, KeyPanelEvent, Panellist
from tests import makers
from tests.makers import BACK, SHOULDER, make_key_panel, make_marking, marked

CLUB = "/clubs/skerry-drover"
PLACE = [[0.30117, 0.40117], [0.40117, 0.40117], [0.40117, 0.55117]]
DRAFTED = [[0.10229, 0.10229], [0.20229, 0.10229], [0.20229, 0.25229]]
THEIRS = [[0.50331, 0.20331], [0.60331, 0.20331], [0.60331, 0.35331]]
SECRETS = ["0.30117", "0.10229", "0.50331", "0.371", "Said in the key", "Not settled", "Said by another"]


@pytest.fixture
def item(cast, edition, shoulder, back):
    """A key in use with one place, a draft with another: neither may be seen by who marks."""
    exhibit = makers.make_published(cast.club, cast.educator, seed=3)
    item = makers.make_keyed_item(edition, cast.educator)
    Item.objects.filter(pk=item.pk).update(exhibit=exhibit)
    item.refresh_from_db()
    also = [{"fault": back.pk, "credit": 0.371}]
    for note, where in (("Said in the key", PLACE), ("Not settled", DRAFTED)):
        draft = start_draft(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
        entries = [makers.entry(shoulder, [where], also=also)]
        save_draft(key=draft, sound=False, note=note, entries=entries, by=cast.educator.person)
        if note == "Said in the key":
            publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
    return item


@pytest.fixture
def panel(cast, item, third, back):
    """Of three; the third has handed in, the educator has begun."""
    panel = make_key_panel(item, cast.educator, cast.educator, cast.mentor, third, word="Mind the front.")
    make_marking(panel, third, marked(back, THEIRS))
    Panellist.objects.filter(panel=panel, member=third).update(
        content=panel.panellists.get(member=third).content | {"note": "Said by another"}
    )
    return panel


@pytest.fixture
def seat(cast, panel):
    return panel.panellists.get(member=cast.mentor)


@pytest.fixture
def client(cast):
    return cast.client("mentor")


def address(seat, then=""):
    return f"{CLUB}/key-panels/marking/{seat.pk}/{then}"


def send(client, seat, *entries, seen=0, identity=None, **content):
    content = {"sound": False, "note": "", "entries": list(entries)} | content
    body = {"content": content, "seen": seen, "identity": str(identity or uuid.uuid4()), "draft": seat.pk}
    return client.post(address(seat, "save/"), json.dumps(body), content_type="application/json")


def said_by(response, name):
    found = re.search(rf'<script id="{name}"[^>]*>(.*?)</script>', response.content.decode(), re.S)
    return json.loads(found[1])


def text_of(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def leaks(response):
    sent = response.content.decode() + json.dumps(dict(response.headers))
    return [secret for secret in [*SECRETS, "Thora"] if secret in sent]


def test_the_page_brings_what_marking_needs_and_weighs_nothing_beforehand(client, seat):
    page = client.get(address(seat))
    known = said_by(page, "drawn-up")
    assert known["content"] == {"sound": False, "note": "", "entries": []}
    assert [fault["name"] for fault in known["faults"]] == ["Roached back", "Upright shoulder"]
    assert {fault["level"] for fault in known["faults"]} == {None}
    assert {clause["level"] for clause in known["clauses"]} == {None}
    assert known["levels"] == ["Minor", "Moderate", "Serious", "Disqualifying"]
    assert all(said_by(page, "words").values())
    assert "Mind the front." in text_of(page)
    assert KeyPanelEvent.objects.filter(what="opened", by=seat.member).count() == 1


def test_faults_of_zones_that_the_view_shows_are_offered_first(cast, client, edition, shoulder, back):
    front = makers.make_published(cast.club, cast.educator, seed=4, view="front")
    item = makers.make_keyed_item(edition, cast.educator)
    Item.objects.filter(pk=item.pk).update(exhibit=front)
    item.refresh_from_db()
    seat = make_key_panel(item, cast.educator, cast.mentor).panellists.get()
    page = client.get(address(seat))
    offered = [fault["name"] for fault in said_by(page, "drawn-up")["faults"]]
    assert offered == ["Upright shoulder", "Roached back"]


def test_it_is_saved_as_one_goes_and_comes_back(client, seat, shoulder):
    identity = uuid.uuid4()
    for _ in range(2):
        answer = send(client, seat, marked(shoulder, SHOULDER), identity=identity, note="The left one.")
    assert answer.json()["revision"] == 1
    assert re.fullmatch(r"\d\d:\d\d", answer.json()["saved_at"])
    known = said_by(client.get(address(seat)), "drawn-up")
    [entry] = known["content"]["entries"]
    assert (entry["fault"], entry["regions"], entry["also"]) == (shoulder.pk, [SHOULDER], [])
    assert (known["content"]["note"], known["last"]) == ("The left one.", str(identity))


def test_another_window_gets_what_is_kept(client, seat, shoulder):
    send(client, seat, marked(shoulder, SHOULDER))
    answer = send(client, seat, sound=True)
    assert answer.status_code == 409
    assert answer.json()["content"]["entries"][0]["fault"] == shoulder.pk
    assert send(client, seat, sound=True, seen=1).json()["revision"] == 2


def test_what_is_wrong_is_said_by_its_letter(client, seat, shoulder):
    answer = send(client, seat, marked(shoulder, SHOULDER), marked(shoulder, level=9))
    assert answer.status_code == 422
    assert answer.json()["wrong"] == [[1, "B: the severity is not on the club’s ladder. Weigh it again."]]


@pytest.mark.parametrize("body", ["", "[]", "{}", '{"seen": "x"}', "[" * 100_000, '{"seen": 1e999}'])
def test_what_is_no_save_is_refused(client, seat, body):
    response = client.post(address(seat, "save/"), body, content_type="application/json")
    assert response.status_code == 422
    assert response.json()["error"] == "The marking could not be read."


def test_it_is_handed_in_shown_and_taken_back(client, seat, shoulder):
    missing = client.post(address(seat, "hand-in/"))
    assert missing.status_code == 422
    assert "Mark the faults, or say that the exhibit is sound." in text_of(missing) or (
        "Enter the faults, or say that the exhibit is sound." in text_of(missing)
    )
    send(client, seat, marked(shoulder, SHOULDER))
    overtaken = client.post(address(seat, "hand-in/"), {"seen": 0})
    assert overtaken.status_code == 409
    page = client.post(address(seat, "hand-in/"), {"seen": 1}, follow=True)
    assert "Handed in. Thank you." in text_of(page)
    assert "Upright shoulder 5.1" in text_of(page)
    assert said_by(page, "drawn") == [{"letter": "A", "regions": [SHOULDER]}]
    assert send(client, seat, sound=True, seen=1).status_code == 410
    page = client.post(address(seat, "take-back/"), follow=True)
    assert "It counts once you hand it in again." in text_of(page)
    assert send(client, seat, sound=True, seen=1).json()["revision"] == 2


def test_after_one_the_next_is_offered(cast, client, edition, seat):
    other = makers.make_keyed_item(edition, cast.educator)
    later = make_key_panel(other, cast.educator, cast.mentor).panellists.get()
    send(client, seat, sound=True)
    page = client.post(address(seat, "hand-in/"), {"seen": 1}, follow=True)
    assert f"Mark the next: {other.name}" in text_of(page)
    assert address(later) in page.content.decode()


def test_a_closed_panel_says_what_became_of_the_marking(cast, client, panel, seat, shoulder):
    send(client, seat, marked(shoulder, SHOULDER))
    close_panel(panel=panel, by=cast.educator)
    page = client.get(address(seat))
    assert "What you had marked does not count." in text_of(page)
    assert said_by(page, "drawn") == []
    answer = send(client, seat, sound=True, seen=1)
    assert (answer.status_code, answer.json()["error"]) == (410, "The panel is closed.")
    for then in ("hand-in/", "take-back/"):
        client.post(address(seat, then))
    assert panel.panellists.get(pk=seat.pk).handed_in_at is None


def test_a_panel_called_off_asks_for_nothing(cast, client, item):
    item.key_panels.all().delete()
    panel = make_key_panel(item, cast.educator, cast.mentor)
    call_off_panel(panel=panel, by=cast.educator)
    assert "Nothing is asked of you any more." in text_of(client.get(address(panel.panellists.get())))


def test_whoever_has_looked_is_told_that_theirs_stays(cast, panel, third):
    for who in (cast.educator, cast.mentor):
        make_marking(panel, who)
    look_at_markings(panel=panel, by=cast.educator)
    own = panel.panellists.get(member=cast.educator)
    page = cast.client("educator").get(address(own))
    assert "You have looked at the panel’s markings: what you handed in stays." in text_of(page)
    assert "Take it back" not in text_of(page)
    page = cast.client("educator").post(address(own, "take-back/"), follow=True)
    assert panel.panellists.get(pk=own.pk).handed_in_at


def test_nobody_opens_another_s_marking(cast, panel, seat, third):
    """Not another panellist, and not the educator who asked."""
    for who in ("mentor", "educator"):
        theirs = panel.panellists.get(member=third)
        for then in ("", "hand-in/", "take-back/", "save/"):
            client = cast.client(who)
            page = client.get(address(theirs)) if not then else client.post(address(theirs, then))
            assert page.status_code == 404
    assert panel.panellists.get(member=third).handed_in_at


class TestSecrecy:
    """Neither another's marking, nor the draft key, nor the key in use is in anything that a panellist is sent."""

    def test_the_secrets_are_there_for_whoever_may_see_them(self, cast, panel, item):
        educator = cast.client("educator")
        close_panel(panel=panel, by=cast.educator)
        pages = [f"items/{item.pk}/key/", f"items/{item.pk}/key/2/", f"key-panels/{panel.pk}/"]
        assert {leak for page in pages for leak in leaks(educator.get(f"{CLUB}/{page}"))} == {
            *SECRETS,
            "Thora",
        }

    @pytest.mark.parametrize("state", ["at work", "handed in", "closed"])
    def test_no_page_of_a_panellist_tells(self, cast, client, panel, seat, shoulder, state):
        send(client, seat, marked(shoulder, SHOULDER))
        if state != "at work":
            hand_in_marking(panellist=seat)
        if state == "closed":
            close_panel(panel=panel, by=cast.educator)
        for page in (address(seat), f"{CLUB}/key-panels/", f"{CLUB}/"):
            assert leaks(client.get(page)) == []
        assert leaks(send(client, seat, sound=True)) == []
        assert leaks(client.post(address(seat, "hand-in/"), {"seen": 0})) == []

    def test_the_educator_who_asked_sees_nothing_of_it_before_all_have_handed_in(self, cast, panel, item):
        page = cast.client("educator").get(f"{CLUB}/key-panels/{panel.pk}/")
        assert "1 of 3 have handed in" in text_of(page)
        assert leaks(page) == ["Thora"]
        assert not panel.events.filter(what="looked").exists()

    def test_an_educator_on_the_panel_sees_only_their_own(self, cast, panel, shoulder):
        own = panel.panellists.get(member=cast.educator)
        send(cast.client("educator"), own, marked(shoulder, BACK))
        page = cast.client("educator").get(address(own))
        assert leaks(page) == []

    def test_a_trainee_and_a_secretary_are_kept_out(self, cast, panel, seat):
        for who in ("trainee", "secretary"):
            for page in (address(seat), f"{CLUB}/key-panels/", f"{CLUB}/key-panels/{panel.pk}/"):
                assert cast.client(who).get(page).status_code == 403
        assert cast.client("mentor").get(f"{CLUB}/key-panels/{panel.pk}/").status_code == 403
