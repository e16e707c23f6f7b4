"""The trainee reads, answers on a phone, and sees what became of the answer."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import (
    AMONG_THE_TOES,
    CLUB,
    QUIZ,
    expect_heading,
    expect_no_wider_than_the_screen,
    expect_ready,
    expect_upright,
    go_to,
    on_the_picture,
    pick,
)


def read_the_module(page: Page) -> None:
    go_to(page, "Study")
    expect(page.get_by_text("Next: Feet")).to_be_visible()
    page.get_by_role("link", name="Begin").click()
    expect_heading(page, "What to look for")
    page.get_by_role("navigation", name="Back and on").get_by_role("link", name="Go on to plate 1").click()
    expect_heading(page, "Plate 1 The foot")
    expect(page.get_by_text("Feet are round and close, the toes well arched.")).to_be_visible()
    expect(page.get_by_role("figure")).to_contain_text(["Clause 2.1", "Toes apart"])
    expect_upright(page.get_by_role("figure").last.locator("img"))
    expect(page.get_by_text("in 1 b daylight shows.")).to_be_visible()
    expect_no_wider_than_the_screen(page)


def answer_the_quiz(page: Page) -> None:
    page.get_by_role("link", name="Go on to the quiz").click()
    expect_heading(page, QUIZ)
    page.get_by_role("button", name="Begin the quiz").click()
    expect_ready(page, "#answering")
    expect_heading(page, "Mark the faults. There may be none.")
    expect_upright(page.locator(".stage img"))
    page.touchscreen.tap(*on_the_picture(page, *AMONG_THE_TOES))
    pick(page.get_by_label("Name the fault"), "splay", "Splayed feet")
    page.get_by_role("radio", name="Moderate").check(force=True)
    expect(page.locator("[data-state]").filter(visible=True)).to_contain_text("Saved at")
    expect_no_wider_than_the_screen(page)
    page.get_by_role("button", name="Hand in answer").click()


def see_the_mark_line_by_line(page: Page) -> None:
    """40 for seeing and 35 for naming it; of the 25 for weighing it 1 − 1/3, as Moderate is one of the three
    steps of the ladder from Serious."""
    expect_heading(page, "Your answer scores 92 of 100")
    expect(page.get_by_role("rowheader", name="Splayed feet, 2.1. Key: Serious.")).to_be_visible()
    for line in (
        "Seen: inside the region 40.0 40.0",
        "Named: as the key has it 35.0 35.0",
        "Weighed: Moderate, one level light 25.0 16.7",
        "Mark 100 91.7",
    ):
        expect(page.get_by_role("row", name=line)).to_be_visible()
    expect(page.locator(".region-key")).to_have_count(1)
    expect(page.locator(".pin-tab")).to_have_text(["1"])
    expect(page.get_by_text("who may judge is for the registry")).to_be_visible()
    expect_no_wider_than_the_screen(page)


def see_both_marks(page: Page) -> None:
    open_news(page, f"Magnus Flett has looked at {QUIZ}, item 1.")
    expect_heading(page, "Your answer scores 97 of 100")
    expect(page.get_by_role("row", name="Mark by the rules")).to_contain_text("91.7")
    expect(page.get_by_role("row", name="Adjusted mark")).to_contain_text("96.7")
    expect(page.get_by_text("The light hides one of the gaps.")).to_be_visible()
    expect(page.locator(".thread")).to_contain_text("Count the gaps here before you weigh it.")


def hear_of_the_changed_mark(page: Page) -> None:
    open_news(page, "your mark was 91.7 and is now 100.0 of 100.")
    expect_heading(page, "Your answer scores 100 of 100")


def open_news(page: Page, words: str) -> None:
    """What has changed, on the trainee's home page."""
    page.get_by_role("link", name=CLUB).click()
    page.get_by_role("listitem").filter(has_text="new").get_by_role("link", name=words).click()
