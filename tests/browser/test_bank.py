"""The item bank by keyboard alone: found while one types, ticked, retired, brought back; a quiz filled from it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from assessments.actions.quizzes import make_quiz
from assessments.models import Item
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def items(cast, edition):
    keyed = [makers.make_keyed_item(edition, cast.educator) for _ in range(3)]
    return [*keyed, makers.make_keyed_item(edition, cast.educator, entries=[])]


def tab_to(page: Page, focused: str) -> None:
    """Tab until an element is focused that the selector finds."""
    for _ in range(120):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", focused):
            return
    pytest.fail(f"Tab never came to {focused}")


@pytest.mark.parametrize("phone", [False, True], ids=["laptop", "phone"])
def test_found_ticked_retired_and_undone(cast, items, open_as, phone):
    page = open_as(cast.educator, f"{CLUB}/items/", phone=phone)
    expect(page.locator("#found")).to_contain_text("4 items")
    tab_to(page, "#id_words")
    page.keyboard.type("upright")
    expect(page.locator("#found")).to_contain_text("3 items")
    assert "words=upright" in page.url
    tab_to(page, "[data-all]")
    page.keyboard.press("Space")
    expect(page.locator("[data-count]")).to_have_text("3 ticked")
    tab_to(page, "button[value=retire]")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("3 items retired.")
    assert Item.objects.filter(state="retired").count() == 3
    tab_to(page, "form[action*=undo] button")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("Taken back.")
    assert not Item.objects.filter(state="retired").exists()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_a_quiz_is_filled_from_the_bank(cast, edition, items, open_as):
    quiz = make_quiz(edition=edition, title="Toplines", by=cast.educator.person)
    page = open_as(cast.educator, f"{CLUB}/quizzes/{quiz.pk}/items/add/")
    page.get_by_role("link", name="Choose from the item bank").click()
    page.get_by_label("Tick Exhibit 4").check()
    page.get_by_label("Tick Exhibit 2").check()
    page.get_by_role("button", name="Add to the quiz").click()
    expect(page.locator("main")).to_contain_text("2 items added to “Toplines”.")
    assert set(quiz.items.all()) == {items[1], items[3]}
