"""A critique from the first word to the returned mark, by keyboard alone on a phone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import Answer, Mark
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def quiz(cast, transactional_db):
    edition = makers.make_edition(cast.club)
    makers.make_mentorship(cast.mentor, cast.trainee)
    quiz = make_quiz(edition=edition, title="Critiques", by=cast.educator.person)
    add_item(quiz=quiz, item=makers.make_critique(edition, cast.educator))
    open_quiz(quiz=quiz)
    return quiz


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def tab_to(page: Page, focused: str) -> None:
    """Tab until an element is focused that the selector finds."""
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", focused):
            return
    pytest.fail(f"Tab never came to {focused}")


def test_written_marked_and_read_by_keyboard_on_the_phone(cast, quiz, open_as):
    page = open_as(cast.trainee, f"{CLUB}/quizzes/{quiz.pk}/", phone=True)
    tab_to(page, "form[action*=begin] button")
    press(page, "Enter")
    expect(page.locator("#answering[data-ready]")).to_be_attached()
    tab_to(page, "#part-virtues")
    page.keyboard.type("A level back.")
    expect(page.locator("#left-virtues")).to_have_text("1987 of 2000 characters left")
    expect(page.locator("[data-state]").filter(has_text=re.compile("Saved at")).first).to_be_attached()
    page.reload()
    expect(page.get_by_label("Virtues")).to_have_value("A level back.")
    tab_to(page, "[data-hand-in]")
    press(page, "Enter")
    expect(page.locator("main")).to_contain_text("Still empty: What falls short of the standard.")
    page.goto(f"{CLUB}/answers/{Answer.objects.get().pk}/")
    expect(page.locator("#answering[data-ready]")).to_be_attached()
    tab_to(page, "#part-short")
    page.keyboard.type("The loin is long; it matters less than the back.")
    tab_to(page, "[data-hand-in]")
    press(page, "Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your answer waits for your mentor")

    mentor = open_as(cast.mentor, f"{CLUB}/reviews/{Answer.objects.get().pk}/", phone=True)
    expect(mentor.locator("#marked[data-ready]")).to_be_attached()
    tab_to(mentor, "[name=level_accuracy]")
    press(mentor, "Space", "ArrowDown", "ArrowDown", "ArrowDown")
    tab_to(mentor, "[name=level_completeness]")
    press(mentor, "Space", "ArrowDown", "ArrowDown")
    tab_to(mentor, "[name=level_weighing]")
    press(mentor, "ArrowUp")
    tab_to(mentor, "[name=level_language]")
    press(mentor, "ArrowUp")
    tab_to(mentor, "[data-outcome]")
    expect(mentor.locator("[data-outcome]")).to_have_text("Return to Una Halcro at 77.5")
    press(mentor, "Enter")
    expect(mentor.get_by_role("heading", level=1)).to_contain_text("answers wait for you")
    assert Mark.objects.get().score == pytest.approx(0.775)

    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your answer scores 78 of 100")
    expect(page.locator("main")).to_contain_text("The model of virtues.")


def test_a_rubric_is_worded_and_published_by_its_educator(cast, quiz, open_as):
    item = quiz.items.get()
    page = open_as(cast.educator, f"{CLUB}/items/{item.pk}/key/")
    page.get_by_role("button", name="Start a new draft").click()
    expect(page.locator("#key[data-ready]")).to_be_attached()
    page.locator("#weight-completeness").fill("")
    expect(page.locator("[data-missing-list]")).to_have_text("Completeness: say how much it weighs.")
    page.locator("#weight-completeness").fill("1")
    page.locator("#level-language-4").fill("Short and civil.")
    expect(page.locator("[data-missing]")).to_be_hidden()
    expect(page.locator("[data-state]").first).to_have_text(re.compile("Draft saved at"))
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.locator("main")).to_contain_text("Short and civil.")
    rubric = item.keys.get(version=2).content["rubric"]
    assert (rubric["completeness"]["weight"], rubric["language"]["levels"][4]) == (1, "Short and civil.")
