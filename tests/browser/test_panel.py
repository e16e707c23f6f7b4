"""A panel from the marking to the published key: on a phone by touch, and by keyboard alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from assessments.models import Key, Panellist
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def edition(edition):
    makers.make_shoulder_and_back(edition)
    return edition


@pytest.fixture
def item(cast, edition):
    exhibit = makers.make_published(cast.club, cast.educator)
    return makers.make_draft_item(edition, cast.educator, exhibit)


@pytest.fixture
def panel(cast, item):
    """The educator has marked the shoulder; the mentor is waited for."""
    panel = makers.make_key_panel(item, cast.educator, cast.educator, cast.mentor, word="Mind the front.")
    shoulder = item.edition.breed.faults.get(name="Upright shoulder")
    makers.make_marking(panel, cast.educator, makers.marked(shoulder, makers.SHOULDER))
    return panel


def at_work(page: Page) -> Page:
    expect(page.locator("#key[data-ready]")).to_be_attached()
    return page


def saved(page: Page) -> None:
    expect(page.locator("[data-state]")).to_have_text(re.compile("Saved at"))


def seat(cast) -> Panellist:
    return Panellist.objects.get(member=cast.mentor)


def press(page: Page, key: str, times: int = 1) -> None:
    for _ in range(times):
        page.keyboard.press(key)


def tab_to(page: Page, target: object) -> None:
    """Go on with the Tab key alone until the target has the focus."""
    for _ in range(80):
        page.keyboard.press("Tab")
        if target.evaluate("element => element === document.activeElement"):
            return
    pytest.fail("The Tab key does not lead there.")


def test_a_mentor_marks_on_the_phone_and_takes_it_back(cast, panel, open_as):
    page = open_as(cast.mentor, f"{CLUB}/", phone=True)
    page.get_by_role("link", name="Mark it").tap()
    at_work(page)
    expect(page.get_by_text("Mind the front.")).to_be_visible()
    expect(page.locator(".region")).to_have_count(0)
    page.get_by_role("button", name="Hand in").tap(force=True)
    expect(page.locator("[data-missing]")).to_be_in_viewport()
    page.get_by_role("button", name="rectangle").tap()
    stage = page.locator(".stage")
    stage.scroll_into_view_if_needed()
    box = stage.bounding_box()
    for x, y in ((0.31, 0.41), (0.41, 0.56)):
        stage.tap(position={"x": x * box["width"], "y": y * box["width"]})
    page.get_by_label("Fault from the club’s list").fill("upright")
    page.get_by_role("option", name="Upright shoulder").tap()
    expect(page.locator(".entry-sheet .clause")).to_contain_text("A steep blade is a")
    expect(page.locator(".ladder input:checked")).to_have_count(0)
    expect(page.locator("[data-missing-list]")).to_have_text("A: weigh it.")
    page.locator(".ladder label", has_text="Serious").tap()
    saved(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.get_by_role("button", name="Hand in").tap()
    expect(page.locator("#key-version[data-ready]")).to_be_attached()
    expect(page.locator(".region-key")).to_have_count(1)
    assert seat(cast).handed_in_at
    page.get_by_role("button", name="Take it back").tap()
    at_work(page)
    expect(page.locator(".region")).to_have_count(1)
    page.get_by_label("This exhibit is sound").check()
    saved(page)
    page.get_by_role("button", name="Hand in").tap()
    expect(page.locator(".entries-sound")).to_contain_text("You would mark no fault.")
    assert seat(cast).content["sound"]


def test_without_a_connection_the_marking_is_kept_and_sent_later(cast, panel, open_as):
    page = at_work(open_as(cast.mentor, f"{CLUB}/key-panels/marking/{seat(cast).pk}/"))
    page.context.set_offline(True)
    page.get_by_label("This exhibit is sound").check()
    expect(page.locator("[data-trouble]")).to_contain_text("No connection. Kept on this device")
    assert seat(cast).revision == 0
    page.context.set_offline(False)
    saved(page)
    assert seat(cast).revision == 1


def test_by_keyboard_alone_from_the_marking_to_the_published_key(cast, item, panel, open_as):
    page = at_work(open_as(cast.mentor, f"{CLUB}/key-panels/marking/{seat(cast).pk}/"))
    tab_to(page, page.get_by_role("button", name="rectangle"))
    press(page, "Enter")
    press(page, "Shift+ArrowLeft", 4)
    press(page, "Enter")
    press(page, "Shift+ArrowRight", 3)
    press(page, "Shift+ArrowDown", 4)
    press(page, "Enter")
    expect(page.get_by_label("Fault from the club’s list")).to_be_focused()
    page.keyboard.type("upright")
    press(page, "Enter")
    press(page, "ArrowRight", 2)
    saved(page)
    tab_to(page, page.get_by_role("button", name="Hand in"))
    press(page, "Enter")
    expect(page.locator("#key-version[data-ready]")).to_be_attached()
    assert [row["name"] for row in seat(cast).content["entries"]] == ["Upright shoulder"]

    page = open_as(cast.educator, f"{CLUB}/key-panels/{panel.pk}/")
    expect(page.locator("#key-panel[data-ready]")).to_be_attached()
    expect(page.locator(".region-panel")).to_have_count(1)
    expect(page.locator(".region-key")).to_have_count(1)
    tab_to(page, page.get_by_role("button", name="A on the picture"))
    press(page, "Enter")
    expect(page.locator(".region-chosen")).to_have_count(1)
    tab_to(page, page.get_by_label("Each panellist’s outline"))
    press(page, "Space")
    expect(page.locator(".region-panel")).to_have_count(0)
    for name in ("Close the panel", "Make it the draft key"):
        tab_to(page, page.get_by_role("button", name=name))
        press(page, "Enter")
    at_work(page)
    expect(page.locator(".region-panel")).to_have_count(1)
    page.locator(".entry-sheet .ladder input:checked").focus()
    press(page, "ArrowLeft")
    expect(page.locator("[data-departures]")).to_contain_text("The key weighs “Upright shoulder” as")
    note = page.get_by_label("Note on this version")
    tab_to(page, note)
    page.keyboard.type("We read the clause again.")
    expect(page.locator("[data-state]")).to_have_text(re.compile("Draft saved at"))
    tab_to(page, page.get_by_role("button", name="Publish version 1"))
    press(page, "Enter")
    expect(page.locator(".news").first).to_contain_text("Version 1 is in use.")
    key = Key.objects.get()
    assert (key.panel, key.fit, key.note) == (panel, "practice", "We read the clause again.")
