"""The educator makes a quiz, draws up its key, and later a second version."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import (
    QUIZ,
    TOES,
    drag,
    expect_heading,
    expect_ready,
    expect_upright,
    go_to,
    pick,
)


def make_the_quiz(page: Page) -> None:
    go_to(page, "Courses")
    page.get_by_role("link", name="Clause by clause").click()
    page.get_by_role("link", name="Feet", exact=True).click()
    page.get_by_role("link", name=QUIZ).click()
    page.get_by_role("link", name="Make its quiz").click()
    expect(page.get_by_label("Title")).to_have_value(QUIZ)
    page.get_by_role("button", name="Make it").click()
    expect_heading(page, QUIZ)
    page.get_by_role("link", name="Add items").click()
    page.get_by_role("checkbox", name="Exhibit 1").check()
    page.get_by_role("button", name="Add those ticked").click()
    expect(page.locator("#lacking li")).to_have_text(["Exhibit 1: publish its key."])


def draw_up_the_key(page: Page) -> None:
    page.get_by_role("link", name="Draw up its key").click()
    expect_ready(page, "#key")
    expect_upright(page.locator(".stage img"))
    page.get_by_role("button", name="rectangle").click()
    drag(page, *TOES)
    expect(page.locator("[data-missing-list] li")).to_have_text(
        ["A: name the fault, say the clause, weigh it."]
    )
    pick(page.get_by_label("Fault from the club’s list"), "splay", "Splayed feet")
    expect(page.locator(".entry-sheet .clause")).to_contain_text("Splayed feet are a")
    expect(page.locator(".ladder label:has(:checked)")).to_have_text("Serious")
    expect(page.locator("[data-state]")).to_contain_text("Draft saved at")
    page.get_by_role("button", name="Publish version 1").click()
    expect(page.get_by_role("status").first).to_contain_text("Version 1 is in use.")


def open_the_quiz(page: Page) -> None:
    go_to(page, "Quizzes")
    page.get_by_role("button", name="Open it").click()
    expect(page.get_by_role("button", name="Close the quiz")).to_be_visible()


def publish_a_second_version(page: Page) -> None:
    go_to(page, "Quizzes")
    page.get_by_role("link", name=QUIZ).click()
    page.get_by_role("link", name="Key version 1").click()
    page.get_by_role("button", name="Start a new draft").click()
    expect_ready(page, "#key")
    expect(page.get_by_text("Publishing re-marks 1 answer")).to_be_visible()
    page.get_by_role("radio", name="Moderate").check(force=True)
    page.get_by_label("Note on this version").fill("The nails hide part of the spread.")
    expect(page.locator("[data-state]")).to_contain_text("Draft saved at")
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.get_by_text("Marked anew: one mark of 1 changed")).to_be_visible()
