"""The mentor reviews an answer and adjusts its mark."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import AMONG_THE_TOES, expect_heading, expect_ready, go_to, on_the_picture


def review_and_adjust(page: Page) -> None:
    go_to(page, "Reviews")
    expect_heading(page, "1 answer waits for you")
    page.get_by_role("link", name="Una Halcro").click()
    expect_ready(page, "#marked")
    page.mouse.click(*on_the_picture(page, *AMONG_THE_TOES))
    expect(page.get_by_text("Pinned to the spot on the picture.")).to_be_visible()
    page.get_by_label("Comment").fill("Count the gaps here before you weigh it.")
    page.get_by_role("button", name="Add the comment").click()
    expect(page.locator(".thread")).to_contain_text("Count the gaps here")
    page.get_by_label("Adjust").fill("weighing")
    page.get_by_label("Points").fill("5")
    page.get_by_label("Reason").fill("The light hides one of the gaps.")
    page.get_by_role("button", name="Return to Una Halcro at 96.7").click()
    go_to(page, "Reviews")
    expect_heading(page, "0 answers wait for you")
