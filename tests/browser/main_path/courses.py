"""The educator makes a plate, and a course of a text, the plate and a quiz."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import QUIZ, expect_heading, go_to, publish


def make_the_plate(page: Page) -> None:
    go_to(page, "Courses")
    page.get_by_role("link", name="Plates").click()
    page.get_by_role("link", name="Begin a plate").click()
    page.get_by_label("Title").fill("The foot")
    page.get_by_role("button", name="Begin it").click()
    expect(page.get_by_role("heading", name="Missing before it can be published")).to_be_visible()

    page.wait_for_load_state()
    page.get_by_label("Add a clause, by number or words").press_sequentially("arched")
    page.get_by_role("button", name="Add 2.1").click()
    page.get_by_role("link", name="Choose correct exhibits").click()
    page.get_by_role("button", name="Exhibit 2 Add as correct").click()
    page.get_by_role("link", name="Choose incorrect exhibits").click()
    page.get_by_role("button", name="Exhibit 1 Add as incorrect").click()
    expect(page.locator(".missing li")).to_have_text(["The club’s note."])

    page.get_by_label("The club’s note").fill("In *1 a* the toes are *close*; in *1 b* daylight shows.")
    expect(page.locator("#_note em").first).to_have_text("1 a")
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.locator(".heading-side")).to_contain_text("Published")


def make_the_course(page: Page) -> None:
    go_to(page, "Courses")
    page.get_by_role("link", name="Begin a course").click()
    page.get_by_label("Title").fill("Clause by clause")
    page.get_by_role("button", name="Begin it").click()
    adding = page.locator("form").filter(has=page.get_by_role("button", name="Add a module"))
    adding.get_by_label("Title").fill("Feet")
    adding.get_by_role("button").click()
    expect_heading(page, "Feet")

    add_place(page, "What to look for", "Add a text")
    page.get_by_label("Text").fill("Look at the **toes** first, then at the nails.")
    expect(page.locator("#_note strong")).to_have_text("toes")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="Back to the module").click()
    page.get_by_label("Plate").select_option("Plate 1: The foot")
    page.get_by_role("button", name="Add the plate").click()
    add_place(page, QUIZ, "Add a quiz")
    expect(page.locator("#_places > li")).to_contain_text(["What to look for", "The foot", QUIZ])
    publish(page)
    page.get_by_role("link", name="Clause by clause").click()
    publish(page)


def add_place(page: Page, title: str, verb: str) -> None:
    adding = page.locator("form").filter(has=page.get_by_role("button", name=verb))
    adding.get_by_label("Title").fill(title)
    adding.get_by_role("button", name=verb).click()
