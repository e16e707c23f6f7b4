"""What steps have in common: what they do on a page, and the names and places that several of them meet."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

CLUB = "Skerry Drover Club"
QUIZ = "Find the faults of the foot"
MENU_BELOW = 901  # px; layout.css folds the head at 900
UPRIGHT = (3000, 2000)
LAMP = (2550, 250)  # the centre of the one white disk, near the upper right corner
# Spots on the picture, in units of its longer side: the corners of the region in the key, and the trainee's pin.
TOES = ((0.30, 0.20), (0.50, 0.40))
AMONG_THE_TOES = (0.40, 0.30)


def go_to(page: Page, word: str) -> None:
    """By the running head, which on a phone is behind its menu. Told by the width, since a page that is only
    just arriving shows what its style sheet is about to hide."""
    if page.viewport_size["width"] < MENU_BELOW:
        page.locator(".head-menu > summary").click()
    page.get_by_role("banner").get_by_role("link", name=word, exact=True).filter(visible=True).click()


def expect_heading(page: Page, words: str | re.Pattern[str], **options: float) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text(words, **options)


def choose(select: Locator, start: str) -> None:
    """The option that begins so."""
    select.select_option(
        select.locator("option").filter(has_text=re.compile(f"^{re.escape(start)} ")).inner_text()
    )


def publish(page: Page) -> None:
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.get_by_role("button", name="Withdraw")).to_be_visible()


def expect_ready(page: Page, part: str) -> None:
    """The script of a page with a picture to mark has begun."""
    expect(page.locator(f"{part}[data-ready]")).to_be_attached()


def on_the_picture(page: Page, x: float, y: float) -> tuple[float, float]:
    """A spot in units of the picture's longer side, as a place on the screen."""
    stage = page.locator(".stage")
    stage.scroll_into_view_if_needed()
    box = stage.bounding_box()
    return box["x"] + x * box["width"], box["y"] + y * box["width"]


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*on_the_picture(page, *start))
    page.mouse.down()
    page.mouse.move(*on_the_picture(page, *end), steps=4)
    page.mouse.up()


def pick(field: Locator, typed: str, name: str) -> None:
    """From a list that narrows as one types."""
    field.fill(typed)
    field.page.get_by_role("option", name=name).click()


def expect_upright(picture: Locator) -> None:
    """The right shape, and the lamp where it shone."""
    expect(picture).to_have_js_property("complete", True)
    shape, lamp, opposite = picture.evaluate(
        """(img, [x, y]) => {
            const canvas = new OffscreenCanvas(300, 200).getContext("2d");
            canvas.drawImage(img, 0, 0, 300, 200);
            const light = (x, y) => Math.min(...canvas.getImageData(x, y, 1, 1).data.slice(0, 3));
            return [img.naturalWidth / img.naturalHeight, light(x, y), light(300 - x, 200 - y)];
        }""",
        [side * 300 / UPRIGHT[0] for side in LAMP],
    )
    assert shape == pytest.approx(UPRIGHT[0] / UPRIGHT[1], rel=0.01)
    assert lamp > 245
    assert opposite < 245


def expect_no_wider_than_the_screen(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
