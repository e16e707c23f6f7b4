"""The item bank in the browser: found, ticked, changed, undone; items for a quiz; copies."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.quizzes import make_quiz
from assessments.models import Item
from tests import makers

BANK = "/clubs/skerry-drover/items/"


@pytest.fixture
def client(cast):
    return cast.client("educator")


@pytest.fixture
def items(cast, edition):
    return [makers.make_keyed_item(edition, cast.educator) for _ in range(3)]


def shown(response):
    return [row.item.pk for row in response.context["rows"]]


def test_an_empty_bank_says_what_will_be_here(cast, client):
    assert "Make the first item" in client.get(BANK).content.decode()


def test_items_are_found_page_by_page_at_the_same_cost(cast, edition, client, items, monkeypatch):
    def cost():
        with CaptureQueriesContext(
            connection,
        ) as caught:
            assert client.get(BANK, {"kind": "mark-the-faults", "words": "shoulder"}).status_code == 200
        return len(caught)

    client.get(BANK)
    before = cost()
    for _ in range(4):
        makers.make_keyed_item(edition, cast.educator)
    assert cost() == before
    monkeypatch.setattr("assessments.views.bank.PAGE_LENGTH", 2)
    assert shown(client.get(BANK, {"sort": "exhibit", "page": 2})) == [items[2].pk, items[2].pk + 1]
    part = client.get(BANK, {"words": "no such thing"}, headers={"HX-Request": "true"}).content.decode()
    assert (part.lstrip().startswith("<section"), "No item is like that." in part) == (True, True)
    assert shown(client.get(BANK, {"about": "nonsense", "page": "x"})) != []


def test_ticked_items_are_changed_and_the_change_undone(cast, client, items):
    ticks = [items[0].pk, items[2].pk]
    page = client.post(BANK + "change/?state=in+use", {"item": ticks, "what": "retire"}, follow=True)
    assert page.redirect_chain == [(BANK + "?state=in+use", 302)]
    assert shown(page) == [items[1].pk]
    assert "2 items retired." in page.content.decode()
    page = client.post(BANK + "undo/?state=in+use", follow=True)
    assert shown(page) == [item.pk for item in reversed(items)]
    assert "2 items retired." not in page.content.decode()
    assert client.post(BANK + "undo/").status_code == 302


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"what": "retire"}, "Tick at least one item."),
        ({"item": "first"}, "Choose what to do."),
        ({"item": "first", "what": "add"}, "Choose the quiz."),
        ({"item": "first", "what": "title"}, "Write the title."),
        ({"item": "first", "what": "file"}, "Choose the clause."),
        ({"item": "first", "what": "edition"}, "Choose the edition."),
        ({"item": "foreign", "what": "retire"}, "Select a valid choice"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_typed_is_lost(cast, client, items, sent, said):
    foreign = makers.make_keyed_item(makers.make_edition(cast.other_club), cast.stranger)
    known = {"first": items[0].pk, "foreign": foreign.pk}
    given = sent | ({"item": known[sent["item"]]} if "item" in sent else {})
    page = client.post(BANK + "change/", given | {"title": ""})
    assert (page.status_code, said in page.content.decode()) == (422, True)
    if sent.get("item") == "first":
        assert f'name="item" value="{items[0].pk}" checked' in page.content.decode()
    assert set(Item.objects.values_list("state", flat=True)) == {"in use"}


def test_a_refusal_by_the_action_is_said_on_the_page(cast, client, items):
    older = makers.make_edition(cast.club, title="Edition of 2019", state="retired")
    quiz = make_quiz(edition=older, title="Old", by=cast.educator.person)
    page = client.post(BANK + "change/", {"item": items[0].pk, "what": "add", "quiz": quiz.pk})
    assert (page.status_code, "of another edition than the quiz" in page.content.decode()) == (422, True)


def test_a_quiz_takes_items_from_the_bank(cast, edition, client, items):
    quiz = make_quiz(edition=edition, title="Toplines", by=cast.educator.person)
    assert (
        f"?quiz={quiz.pk}"
        in client.get(f"/clubs/skerry-drover/quizzes/{quiz.pk}/items/add/").content.decode()
    )
    Item.objects.filter(pk=items[1].pk).update(state="retired")
    page = client.get(BANK, {"quiz": quiz.pk})
    assert shown(page) == [items[2].pk, items[0].pk]
    sent = {"item": [items[0].pk], "what": "add", "quiz": quiz.pk}
    page = client.post(f"{BANK}change/?quiz={quiz.pk}", sent, follow=True)
    assert page.redirect_chain == [(f"/clubs/skerry-drover/quizzes/{quiz.pk}/edit/", 302)]
    assert "One item added to “Toplines”." in page.content.decode()
    assert list(quiz.items.all()) == [items[0]]
    assert shown(client.get(BANK, {"quiz": quiz.pk})) == [items[2].pk]
    assert client.get(BANK, {"quiz": "0"}).status_code == 404


def test_an_item_is_copied_to_work_on(cast, edition, client, items):
    page = client.post(f"{BANK}{items[0].pk}/copy/", follow=True)
    made = Item.objects.get(copied_from=items[0])
    assert page.redirect_chain == [(f"{BANK}{made.pk}/", 302)]
    assert f"Copied from item {items[0].pk}." in page.content.decode()
    sent = {"edition": makers.make_edition(cast.other_club).pk}
    assert client.post(f"{BANK}{items[0].pk}/copy/", sent).status_code == 404
    page = client.post(f"{BANK}{items[0].pk}/copy/", {"edition": edition.pk}, follow=True)
    assert "of that edition already" in page.content.decode()
