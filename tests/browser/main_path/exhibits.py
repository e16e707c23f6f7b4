"""The educator takes a photograph in and draws an exhibit."""

from __future__ import annotations

import re
from pathlib import Path

from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import (
    LAMP,
    UPRIGHT,
    expect_heading,
    expect_ready,
    expect_upright,
    go_to,
    publish,
)
from tests.shared.pictures.making import scene

ROTATE_TO_SHOW = 6  # Exif tag 0x0112: the 0th row is the visual right-hand side (CIPA DC-008, 4.6.4)


def photograph(path: Path) -> Path:
    """A picture of six million pixels as a phone held upright stores it: on its side, with a note to turn it."""
    upright = scene(600, 400).resize(UPRIGHT)
    x, y = LAMP
    ImageDraw.Draw(upright).ellipse((x - 150, y - 150, x + 150, y + 150), fill="white")
    exif = Image.Exif()
    exif[0x0112] = ROTATE_TO_SHOW
    upright.transpose(Image.Transpose.ROTATE_90).save(path, "JPEG", quality=90, exif=exif)
    return path


def take_a_photograph_in(page: Page, file: Path) -> None:
    go_to(page, "Exhibits")
    page.get_by_role("link", name="Take photographs in").click()
    page.get_by_label("Photographs").set_input_files(file)
    page.get_by_role("button", name="Take them in").click()
    taken = page.get_by_role("listitem").filter(has_text=file.name)
    taken.get_by_role("link", name="Exhibit 1").click(timeout=60_000)
    expect_heading(page, "Exhibit 1")
    expect_upright(page.locator("main img").first)


def record_permission_and_publish(page: Page) -> None:
    expect(page.get_by_role("button", name="Publish")).to_have_count(0)
    page.get_by_role("link", name="Record the owner’s permission").click()
    page.get_by_label("Who gave permission").fill("Erlend Scollay")
    page.get_by_label("From", exact=True).fill("2026-01-10")
    page.get_by_role("radio", name="Signed form").check()
    expect(page.get_by_role("checkbox", name="Teaching")).to_be_checked()
    page.get_by_role("button", name="Save permission").click()
    expect(page.get_by_text("Permission given.")).to_be_visible()
    page.get_by_label("View").select_option("feet")
    page.get_by_role("radio", name="Incorrect").check()
    page.get_by_label("Caption").fill("Toes apart")
    page.get_by_role("button", name="Save", exact=True).click()
    publish(page)


def draw_and_publish_a_correct_foot(page: Page) -> None:
    go_to(page, "Exhibits")
    page.get_by_role("link", name="Draw an exhibit").click()
    expect_ready(page, "#drawing")
    page.get_by_label("View").select_option("feet")
    expect(page).to_have_url(re.compile("view=feet"))
    page.get_by_role("button", name="Keep as an exhibit").click()
    expect_heading(page, "Exhibit 2", timeout=60_000)
    expect(page.get_by_text("A drawn exhibit shows no living dog and needs no permission.")).to_be_visible()
    expect(page.locator(".frame-correct")).to_be_visible()
    publish(page)
