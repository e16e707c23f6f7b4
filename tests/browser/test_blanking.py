"""Blanking parts of a picture by mouse and by keyboard alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from courses.models import Exhibit
from tests import makers

HERE = "/clubs/skerry-drover/exhibits/1/blank/"


@pytest.fixture
def blank(cast, transactional_db, open_as):
    def opened(**options) -> Page:
        makers.make_photograph(cast.club, cast.educator)
        page = open_as(cast.educator, HERE, **options)
        expect(page.locator("#blanking[data-ready]")).to_be_attached()
        return page

    return opened


def done(page: Page) -> list:
    page.get_by_role("button", name="Blank what is drawn").click()
    expect(page.get_by_text(re.compile("painted over in every size of the picture"))).to_be_visible()
    return Exhibit.objects.get().blanked


def test_the_mouse_drags_a_rectangle_over_a_face(blank):
    page = blank()
    names = set(Exhibit.objects.get().renditions.values_list("name", flat=True))
    box = page.locator(".stage").bounding_box()
    page.get_by_role("button", name="rectangle").click()
    page.mouse.move(box["x"] + 0.2 * box["width"], box["y"] + 0.1 * box["width"])
    page.mouse.down()
    page.mouse.move(box["x"] + 0.4 * box["width"], box["y"] + 0.3 * box["width"], steps=4)
    page.mouse.up()
    expect(page.locator(".blank-drawn")).to_have_count(1)
    ((left, top), *_others) = done(page)[0]
    assert (left, top) == (pytest.approx(0.2, abs=0.01), pytest.approx(0.1, abs=0.01))
    assert names.isdisjoint(Exhibit.objects.get().renditions.values_list("name", flat=True))
    expect(page.locator(".blank-drawn")).to_have_count(1)


def test_the_keyboard_alone_draws_undoes_and_blanks(blank):
    page = blank()
    page.get_by_role("button", name="rectangle").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    for _ in range(4):
        page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("[data-count]")).to_have_text("One part drawn.")
    page.get_by_role("button", name="Undo").focus()
    page.keyboard.press("Enter")
    expect(page.locator("[data-count]")).to_have_text("Nothing drawn yet.")
    page.get_by_role("button", name="Redo").focus()
    page.keyboard.press("Enter")
    (outline,) = done(page)
    assert sorted({x for x, _y in outline}) == [pytest.approx(0.51), pytest.approx(0.71)]


def test_without_the_original_what_is_painted_stays(blank):
    page = blank(phone=True)
    box = page.locator(".stage").bounding_box()
    page.get_by_role("button", name="corner by corner").tap()
    for x, y in ((0.2, 0.1), (0.5, 0.1), (0.5, 0.4)):
        page.touchscreen.tap(box["x"] + x * box["width"], box["y"] + y * box["width"])
    page.get_by_role("button", name="Close the region").tap()
    assert len(done(page)) == 1
    page.get_by_text("Delete it").click()
    page.get_by_role("button", name="Delete the file for good").click()
    page.goto(HERE)
    page.get_by_role("button", name=re.compile("^Hidden part 1,")).focus()
    page.keyboard.press("Delete")
    expect(page.locator("[data-announce]")).to_have_text("This part is painted over for good.")
    expect(page.locator(".blank-drawn")).to_have_count(1)
