"""The educator writes the standard, releases it and lists its faults."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import CLUB, choose, expect_heading, go_to

# As a word processor on Windows hands it over.
WRITTEN = "\r\n".join(
    [
        "1. General appearance",
        "1.1 A drover’s dog of the skerries, “four-square” in outline and never heavy.",
        "",
        "2. Feet",
        "2.1 Feet are round and close, the toes well arched. Splayed feet are a serious fault.",
        "2.2 Nails are short and strong. Long nails are a minor fault.",
    ]
)


def write_the_standard(page: Page) -> None:
    go_to(page, "Standard")
    page.get_by_role("link", name="Add the first breed").click()
    page.get_by_label("Breed").fill("Skerry Drover")
    page.get_by_role("button", name="Add it, and go on to its standard").click()

    page.get_by_label("Title").fill("Edition of 2026")
    page.get_by_label("Issued by").fill(CLUB)
    page.get_by_label("Issued on").fill("2026-01-10")
    page.get_by_label("Permission to reproduce").fill("The club’s own text.")
    page.get_by_role("button", name="Save, and go on to its text").click()

    page.get_by_label("The written standard").fill(WRITTEN)
    page.get_by_role("button", name="Split it into clauses").click()
    expect_heading(page, "Look it over before it is saved")
    feet = page.get_by_role("region", name="2 Feet")
    expect(feet).to_contain_text("Feet are round and close, the toes well arched.")
    expect(feet).to_contain_text("“serious fault” reads as Serious")
    expect(feet.get_by_label("Zone of 2.1")).to_have_value("feet")
    expect(page.get_by_role("region", name="1 General appearance")).to_contain_text("drover’s dog")
    page.get_by_role("button", name="Save 3 clauses").click()
    expect_heading(page, "Edition of 2026")
    expect(
        page.get_by_text("Issued by Skerry Drover Club, 10 January 2026. The club’s own text.")
    ).to_be_visible()


def confirm_and_release(page: Page) -> None:
    expect(page.get_by_text("3 severities to confirm")).to_be_visible()
    for title, words in (
        ("1 General appearance", "Confirm 1 severity"),
        ("2 Feet", "Confirm all 2 severities"),
    ):
        page.get_by_role("region", name=title).get_by_role("button", name=f"{words} as read").click()
    expect(page.get_by_text("every severity confirmed")).to_be_visible()
    page.get_by_role("link", name="Check and release").click()
    page.get_by_role("button", name="Release it").click()
    expect(page.get_by_role("link", name="Read it as members do")).to_be_visible()


def add_fault(page: Page, name: str, *, clause: str, usual: str) -> None:
    go_to(page, "Standard")
    page.get_by_role("link", name="List of faults").click()
    page.get_by_role("link", name="Add a fault", exact=True).click()
    page.get_by_label("Fault", exact=True).fill(name)
    page.get_by_label("Zone").select_option("feet")
    choose(page.get_by_label("Clause"), clause)
    page.get_by_role("radio", name=usual).check()
    page.get_by_role("button", name="Add the fault").click()
    row = page.get_by_role("row").filter(has_text=name)
    expect(row).to_contain_text(usual)
    expect(row).to_contain_text(clause)
