"""The educator's side of a panel: asked, watched, closed, made the draft key, and kept on record."""

import datetime
import json
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.key_panels import close_panel, draft_from_panel, look_at_markings
from assessments.actions.keys import publish_key, save_draft
from assessments.models import Item, Key, KeyPanel
from assessments.queries.quizzes import items_of, published_key
from tests import makers
from tests.makers import BACK, SHOULDER, make_key_panel, make_marking, marked

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def item(cast, edition):
    exhibit = makers.make_published(cast.club, cast.educator)
    return makers.make_draft_item(edition, cast.educator, exhibit)


@pytest.fixture
def client(cast):
    return cast.client("educator")


def text_of(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def drawn(response):
    return json.loads(
        re.search(r'<script id="drawn"[^>]*>(.*?)</script>', response.content.decode(), re.S)[1]
    )


def at(panel, then=""):
    return f"{CLUB}/key-panels/{panel.pk}/{then}"


def ask(client, item, *members, **fields):
    return client.post(
        f"{CLUB}/items/{item.pk}/panel/", {"members": [m.pk for m in members]} | fields, follow=True
    )


def done(item, cast, third, shoulder, back):
    """All three have marked the shoulder, the mentor as Moderate; one has marked the back."""
    panel = make_key_panel(item, cast.educator, cast.educator, cast.mentor, third)
    make_marking(panel, cast.educator, marked(shoulder, SHOULDER), marked(back, BACK))
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER, level=1))
    make_marking(panel, third, marked(shoulder, SHOULDER))
    return panel


class TestAsking:
    def test_members_who_may_mark_are_offered_and_asked(self, cast, client, item, third):
        page = client.get(f"{CLUB}/items/{item.pk}/panel/")
        assert "Ishbel Rendall (has worked on the key)" in text_of(page)
        assert "Una Halcro" not in text_of(page)
        page = ask(client, item, cast.mentor, third, word="Mind the front.", wanted_by="2099-12-01")
        assert "0 of 2 have handed in" in text_of(page)
        assert "Wanted by 1 December 2099." in text_of(page)
        panel = KeyPanel.objects.get()
        assert client.get(f"{CLUB}/items/{item.pk}/panel/").url == at(panel)

    def test_who_has_seen_an_earlier_panel_is_told_apart(self, cast, client, item):
        other = makers.make_member(cast.club, "Erlend Scollay", educator=True)
        panel = make_key_panel(item, cast.educator, cast.mentor)
        make_marking(panel, cast.mentor)
        close_panel(panel=panel, by=cast.educator)
        look_at_markings(panel=panel, by=other)
        words = text_of(client.get(f"{CLUB}/items/{item.pk}/panel/"))
        assert "Erlend Scollay (has seen an earlier panel’s markings)" in words
        assert "Magnus Flett (" not in words

    def test_what_is_wrong_stands_by_its_cause_and_nothing_typed_is_lost(self, cast, client, item):
        yesterday = timezone.localdate() - datetime.timedelta(days=1)
        page = client.post(
            f"{CLUB}/items/{item.pk}/panel/", {"word": "Mind the front.", "wanted_by": yesterday.isoformat()}
        )
        assert page.status_code == 422
        assert "Choose at least one member." in text_of(page)
        assert "This day is past." in text_of(page)
        assert "Mind the front." in page.content.decode()
        assert not KeyPanel.objects.exists()

    @pytest.mark.parametrize("who", ["trainee", "stranger"])
    def test_nobody_else_can_be_asked(self, cast, client, item, who):
        page = client.post(f"{CLUB}/items/{item.pk}/panel/", {"members": [getattr(cast, who).pk]})
        assert page.status_code == 422
        assert "Choose members of the club who may mark for a key." in text_of(page)

    def test_an_exhibit_that_panellists_cannot_see_is_said_beforehand(self, cast, client, item):
        item.exhibit.state = "draft"
        item.exhibit.save()
        page = client.get(f"{CLUB}/items/{item.pk}/panel/")
        assert "Publish the exhibit, with its owner’s permission" in text_of(page)
        assert "Ask them" not in text_of(page)

    def test_more_are_asked_and_the_item_tells_of_it(self, cast, client, item, third):
        panel = make_key_panel(item, cast.educator, cast.mentor)
        page = client.post(at(panel, "ask/"), {"members": [third.pk]}, follow=True)
        assert "0 of 2 have handed in" in text_of(page)
        assert client.post(at(panel, "ask/"), {"members": [third.pk]}).status_code == 422
        page = client.get(f"{CLUB}/items/{item.pk}/")
        assert "0 of 2 handed in" in text_of(page)
        assert "See who has handed in" in text_of(page)

    def test_it_is_called_off_before_anybody_has_handed_in(self, cast, client, item):
        panel = make_key_panel(item, cast.educator, cast.mentor)
        page = client.post(at(panel, "call-off/"), follow=True)
        assert "The panel is called off." in text_of(page)
        assert client.post(at(panel, "draft/"), follow=True).redirect_chain[-1][0] == at(panel)


class TestAskingAboutAQuiz:
    @pytest.fixture
    def quiz(self, cast, edition):
        """Three items: one that a panel has marked, one on which a panel is at work, one for trainees only to see."""
        quiz = makers.make_open_quiz(edition, cast.educator, items=3)
        done, at_work, _free = quiz.items.order_by("quiz_items__position")
        panel = make_key_panel(done, cast.educator)
        make_marking(panel, cast.educator)
        close_panel(panel=panel, by=cast.educator)
        make_key_panel(at_work, cast.educator)
        return quiz

    def test_what_no_panel_has_marked_is_chosen_and_asked_about_at_once(self, cast, client, quiz, third):
        done, at_work, free = quiz.items.order_by("quiz_items__position")
        page = client.get(f"{CLUB}/quizzes/{quiz.pk}/panel/")
        assert f"{done.name} (marked by a panel)" in text_of(page)
        assert f"{at_work.name} A panel is at work on it." in text_of(page)
        assert page.context["form"]["items"].initial == [free.pk]
        sent = {"items": [done.pk, free.pk], "members": [cast.mentor.pk, third.pk], "word": "Go slowly."}
        page = client.post(f"{CLUB}/quizzes/{quiz.pk}/panel/", sent, follow=True)
        assert "Asked about 2 items." in text_of(page)
        asked = KeyPanel.objects.filter(word="Go slowly.")
        assert {panel.item for panel in asked} == {done, free}
        assert all(panel.panellists.count() == 2 for panel in asked)
        assert (
            client.get(f"{CLUB}/quizzes/{quiz.pk}/edit/").content.decode().count(f"quizzes/{quiz.pk}/panel/")
            == 1
        )

    def test_all_or_none(self, cast, client, quiz, third):
        _done, at_work, free = quiz.items.order_by("quiz_items__position")
        sent = {"items": [at_work.pk, free.pk], "members": [third.pk]}
        page = client.post(f"{CLUB}/quizzes/{quiz.pk}/panel/", sent)
        assert page.status_code == 422
        assert "Choose items of this quiz about which a panel can be asked." in text_of(page)
        assert not free.key_panels.exists()
        assert client.post(f"{CLUB}/quizzes/{quiz.pk}/panel/", {"members": [third.pk]}).status_code == 422

    def test_it_costs_the_same_for_many(self, cast, client, edition):
        counts = []
        for n in (1, 4):
            quiz = makers.make_open_quiz(edition, cast.educator, items=n, title=f"Quiz of {n}")
            counts.append(queries(client, f"{CLUB}/quizzes/{quiz.pk}/panel/"))
        assert counts[0] == counts[1]


class TestWhatThePanelAgreesOn:
    def test_it_is_seen_when_all_have_handed_in_and_then_closed(
        self, cast, client, item, third, shoulder, back
    ):
        panel = done(item, cast, third, shoulder, back)
        page = client.get(at(panel))
        words = text_of(page)
        assert "Upright shoulder 5.1 Marked by 3 of 3. Moderate 1, Serious 2. Serious" in words
        assert "Seen by some, not in the key" in words
        assert "Roached back 6.2 Marked by 1 of 3. Moderate" in words
        assert "Magnus Flett Moderate not marked" in words
        assert "In 8 more zones nobody marked anything." in words
        assert [(g["letter"], g["style"], len(g["own"])) for g in drawn(page)] == [
            ("A", "key", 3),
            ("B", "some", 1),
        ]
        assert "Make it the draft key" not in words
        page = client.post(at(panel, "close/"), follow=True)
        assert "Make it the draft key" in text_of(page)
        panel.refresh_from_db()
        assert f"{panel.agreement:.4f}"[:-1] in text_of(page)

    @pytest.mark.parametrize(
        ("agreement", "fit", "says"),
        [
            (0.86, "examination", "The panel agrees: 0.860. Fit for examination"),
            (0.7, "practice", "agrees for the most part: 0.700. Fit for practice, which asks 0.667"),
            (0.9, "practice", "The panel agrees: 0.900. Fit for practice: for an examination two panellists"),
            (0.31, "discussion", "The panel does not agree: 0.310. Fit for discussion only"),
            (None, "practice", "One panellist: there is nothing to compare."),
        ],
    )
    def test_the_fit_is_said_in_words(self, cast, client, item, agreement, fit, says):
        panel = make_key_panel(item, cast.educator, cast.mentor)
        make_marking(panel, cast.mentor)
        close_panel(panel=panel, by=cast.educator)
        KeyPanel.objects.filter(pk=panel.pk).update(agreement=agreement, fit=fit)
        page = client.get(at(panel))
        assert says in text_of(page)
        assert f"{CLUB}/key-panels/method/" in page.content.decode()

    def test_a_panel_that_finds_nothing(self, cast, client, item):
        panel = make_key_panel(item, cast.educator, cast.mentor)
        make_marking(panel, cast.mentor)
        page = client.post(at(panel, "close/"), follow=True)
        assert "Sound. Nobody marked a fault." in text_of(page)

    def test_who_did_and_saw_what_stands_on_record(self, cast, client, item, third, shoulder, back):
        panel = done(item, cast, third, shoulder, back)
        words = text_of(client.get(at(panel)))
        assert "Ishbel Rendall asked Magnus Flett" in words
        assert "Thora Garrioch handed in" in words
        assert "Ishbel Rendall looked at the panel’s markings" in words

    def test_the_method_is_one_link_away_for_who_marks(self, cast):
        page = cast.client("mentor").get(f"{CLUB}/key-panels/method/")
        assert "Krippendorff’s alpha for ordered levels" in text_of(page)
        assert cast.client("trainee").get(f"{CLUB}/key-panels/method/").status_code == 403


class TestTheKey:
    @pytest.fixture
    def panel(self, cast, item, third, shoulder, back):
        return close_panel(panel=done(item, cast, third, shoulder, back), by=cast.educator)

    def test_the_draft_shows_its_panel_and_departures_as_they_arise(
        self, cast, client, item, panel, shoulder
    ):
        page = client.post(at(panel, "draft/"), follow=True)
        assert "Settle what remains, then publish." in text_of(page)
        assert "Each panellist’s outline" in text_of(page)
        draft = Key.objects.get(published_at=None, discarded_at=None)
        entry = {"fault": shoulder.pk, "clause": shoulder.clause_id, "level": 1, "regions": [SHOULDER]}
        body = {
            "draft": draft.pk,
            "seen": draft.revision,
            "identity": "4f9619ff-8b86-4d01-b42d-00cf4fc964ff",
            "content": {"sound": False, "note": "", "entries": [entry]},
        }
        answer = client.post(
            f"{CLUB}/items/{item.pk}/key/save/", json.dumps(body), content_type="application/json"
        )
        said = answer.json()["departs"]
        assert "the key weighs “Upright shoulder” as Moderate, the panel as Serious." in said
        refused = client.post(f"{CLUB}/items/{item.pk}/key/publish/")
        assert refused.status_code == 422
        assert "Say in the note why: the key weighs “Upright shoulder” as Moderate" in text_of(refused)

    def test_its_version_says_what_it_rests_on(self, cast, client, item, panel):
        draft_from_panel(panel=panel, by=cast.educator)
        publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
        words = text_of(client.get(f"{CLUB}/items/{item.pk}/key/"))
        assert "What each of the panel marked" in words
        assert "Fit for" in words
        page = client.get(at(panel))
        assert "See version 1 of the key" in text_of(page)

    def test_a_departure_is_read_beside_the_note(self, cast, client, item, panel):
        draft = draft_from_panel(panel=panel, by=cast.educator)
        save_draft(key=draft, sound=True, note="A trick of light.", entries=[], by=cast.educator.person)
        publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
        words = text_of(client.get(f"{CLUB}/items/{item.pk}/key/1/"))
        assert "The panel found “Upright shoulder”, the key leaves it out." in words
        assert "A trick of light." in words

    def test_a_key_without_a_panel_says_nothing_of_one(self, cast, client, edition):
        keyed = makers.make_keyed_item(edition, cast.educator)
        words = text_of(client.get(f"{CLUB}/items/{keyed.pk}/key/"))
        assert "The panel" not in words
        assert published_key(items_of(cast.club).get(pk=keyed.pk)).fit == ""

    def test_opening_the_draft_counts_as_a_look(self, cast, client, item, panel):
        draft_from_panel(panel=panel, by=cast.educator)
        client.get(f"{CLUB}/items/{item.pk}/key/")
        assert panel.events.filter(what="looked", by=cast.educator).count() == 1


class TestTheDay:
    def test_a_panellist_finds_the_exhibit_on_the_day_s_page_until_it_is_handed_in(self, cast, item):
        wanted = timezone.localdate() + datetime.timedelta(days=9)
        panel = make_key_panel(item, cast.educator, cast.mentor, wanted_by=wanted)
        words = text_of(cast.client("mentor").get(f"{CLUB}/"))
        assert f"Exhibit {item.exhibit.number} is to be marked for its key." in words
        assert f"Wanted by {wanted.day} {wanted:%B}." in words
        make_marking(panel, cast.mentor)
        assert "is to be marked" not in text_of(cast.client("mentor").get(f"{CLUB}/"))
        words = text_of(cast.client("educator").get(f"{CLUB}/"))
        assert f"All have marked exhibit {item.exhibit.number} for its key." in words

    def test_several_are_one_line(self, cast, edition, item):
        other = makers.make_keyed_item(edition, cast.educator)
        for each in (item, other):
            make_key_panel(each, cast.educator, cast.mentor)
        assert "2 exhibits are to be marked for their keys." in text_of(cast.client("mentor").get(f"{CLUB}/"))

    def test_the_list_tells_a_panellist_of_their_own_and_an_educator_of_all(self, cast, item, third):
        make_key_panel(item, cast.educator, third)
        assert "Exhibits that you are asked to mark" in text_of(
            cast.client("mentor").get(f"{CLUB}/key-panels/")
        )
        words = text_of(cast.client("educator").get(f"{CLUB}/key-panels/"))
        assert "0 of 1 have handed in." in words
        panel = KeyPanel.objects.get()
        make_marking(panel, third)
        close_panel(panel=panel, by=cast.educator)
        client = cast.client("mentor")
        client.force_login(third.person, "django.contrib.auth.backends.ModelBackend")
        words = text_of(client.get(f"{CLUB}/key-panels/"))
        assert re.search(r"Closed Exhibit \d+ profile Asked on .* handed in on", words)


def queries(client, url):
    with CaptureQueriesContext(
        connection,
    ) as seen:
        assert client.get(url).status_code == 200
    return len(seen)


def test_pages_cost_the_same_for_few_and_for_many(cast, client, edition, item, third, shoulder, back):
    makers.make_mentor(cast.club, "Not asked")
    panel = done(item, cast, third, shoulder, back)
    client.get(at(panel))
    few = [queries(client, url) for url in (at(panel), f"{CLUB}/key-panels/")]
    for n in range(3):
        other = makers.make_keyed_item(edition, cast.educator)
        more = [makers.make_mentor(cast.club, f"Mentor {n} {k}") for k in range(3)]
        larger = make_key_panel(other, cast.educator, cast.educator, *more)
        for who in (cast.educator, *more):
            make_marking(larger, who, marked(shoulder, SHOULDER), marked(back, BACK))
    client.get(at(larger))
    assert [queries(client, url) for url in (at(larger), f"{CLUB}/key-panels/")] == few
