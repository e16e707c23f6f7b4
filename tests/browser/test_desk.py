"""The quiz desk by keyboard: a quiz is made, filled from thumbnails, put in order, and opened."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from assessments.models import Quiz
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def edition(cast, transactional_db):
    edition = makers.make_edition(cast.club)
    for entries in (None, None, []):
        makers.make_keyed_item(edition, cast.educator, entries=entries)
    return edition


def order(page: Page) -> list[str]:
    return page.locator("#_items .ref").all_inner_texts()


def test_a_quiz_is_made_filled_ordered_and_opened_by_keyboard(cast, edition, open_as):
    page = open_as(cast.educator, f"{CLUB}/quizzes/")
    page.get_by_role("link", name="Make a quiz").press("Enter")
    page.get_by_label("Title").press_sequentially("Forequarters")
    page.get_by_role("button", name="Make it").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Forequarters")
    page.get_by_role("link", name="Add items").press("Enter")
    for number in (1, 2, 3):
        page.get_by_label(f"Exhibit {number}").press("Space")
    page.get_by_role("button", name="Add those ticked").press("Enter")
    expect(page.locator("#_items")).to_contain_text("1 of 3 are sound")
    assert order(page) == ["Exhibit 1", "Exhibit 2", "Exhibit 3"]

    down = page.get_by_role("button", name="Exhibit 1 down")
    down.press("Enter")
    expect(page.locator("#_items .ref").first).to_have_text("Exhibit 2")
    expect(down).to_be_focused()
    page.keyboard.press("Alt+ArrowDown")
    expect(page.locator("#_items .ref").last).to_have_text("Exhibit 1")
    page.keyboard.press("Alt+ArrowUp")
    expect(page.locator("#_items .ref").last).to_have_text("Exhibit 3")
    assert order(page) == ["Exhibit 2", "Exhibit 1", "Exhibit 3"]

    page.get_by_role("button", name="Take out: Exhibit 1").press("Enter")
    expect(page.locator("#_items")).to_contain_text("Exhibit 1 is out of the quiz.")
    page.get_by_role("button", name="Undo").press("Enter")
    expect(page.locator("#_items .ref")).to_have_text(["Exhibit 2", "Exhibit 1", "Exhibit 3"])

    page.get_by_role("button", name="Open the quiz").press("Enter")
    expect(page.locator(".news").first).to_have_text(re.compile("Open: trainees find it under Quizzes."))
    assert Quiz.objects.get().state == "open"


def test_rules_read_in_words_while_they_are_being_changed(cast, edition, open_as):
    quiz = makers.make_open_quiz(edition, cast.educator)
    page = open_as(cast.educator, f"{CLUB}/quizzes/{quiz.pk}/edit/rules/")
    words = page.locator("#_rules_words")
    expect(words).to_contain_text("40 % for seeing it")
    page.get_by_label("See").fill("0.5")
    page.get_by_label("See").press("Tab")
    expect(words).to_contain_text("see 0.5, name 0.35 and weigh 0.25 sum to 1.1; they must sum to 1")
    page.get_by_label("Name").fill("0.25")
    page.get_by_label("Name").press("Tab")
    expect(words).to_contain_text("50 % for seeing it, 25 % for naming it")
    page.get_by_role("button", name="Save as version 2").click()
    expect(page.locator(".news").first).to_contain_text("Rules version 2 is in use.")
