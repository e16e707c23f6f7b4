"""Virtues marked, a shown fault weighed, points placed: on the phone's size and by keyboard alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from assessments.actions.items import make_item
from assessments.models import Answer, Item, Key
from courses.models import Placement
from tests import makers

CLUB = "/clubs/skerry-drover"
KEYED = {
    "withers": [0.60, 0.20],
    "ground_front": [0.62, 0.70],
    "ground_rear": [0.20, 0.70],
    "elbow": [0.60, 0.45],
    "tail_tip": None,
}


@pytest.fixture
def shoulder(edition):
    return makers.make_fault(edition, virtue="Well laid shoulder")


@pytest.fixture
def begin(cast, edition, open_as):
    """Opens the answer page of an item in a quiz of its own."""

    def opened(item: Item) -> Page:
        quiz = makers.make_quiz_asking(edition, cast.educator, item)
        page = open_as(cast.trainee, f"{CLUB}/quizzes/{quiz.pk}/", phone=True)
        page.get_by_role("button", name="Begin").focus()
        page.keyboard.press("Enter")
        ready(page, "#answering")
        return page

    return opened


def ready(page: Page, root: str) -> None:
    expect(page.locator(f"{root}[data-ready]")).to_be_attached()


def saved(page: Page) -> None:
    expect(
        page.locator("[data-state]").filter(has_text=re.compile("(Saved|saved) at")).first
    ).to_be_attached()


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def button(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).focus()
    page.keyboard.press("Enter")


def handed_in(page: Page, points: int) -> None:
    button(page, "Hand in answer")
    expect(page.get_by_role("heading", level=1)).to_have_text(f"Your answer scores {points} of 100")


def test_virtues_by_keyboard_alone_on_the_phone(cast, edition, shoulder, begin):
    item = makers.make_item_of(
        edition, cast.educator, "mark-the-virtues", entries=[makers.entry(shoulder, [makers.SHOULDER])]
    )
    page = begin(item)
    page.locator(".stage").focus()
    press(page, *["ArrowLeft"] * 15, *["Shift+ArrowDown"] * 3, "Enter")
    page.get_by_label("Name the virtue").focus()
    page.keyboard.type("well la")
    press(page, "Enter")
    expect(page.get_by_role("button", name="Add a note")).to_be_focused()
    expect(page.locator(".ladder")).to_have_count(0)
    saved(page)
    handed_in(page, 100)
    expect(page.locator(".ledger")).to_contain_text("Well laid shoulder, 5.1")


def test_a_shown_fault_by_keyboard_alone_on_the_phone(cast, edition, shoulder, begin):
    item = makers.make_item_of(
        edition, cast.educator, "weigh-the-fault", entries=[makers.entry(shoulder, [makers.SHOULDER])]
    )
    page = begin(item)
    expect(page.locator(".region-some")).to_have_count(1)
    expect(page.locator(".weigh")).to_contain_text("Upright shoulder")
    button(page, "Hand in answer")
    expect(page.locator("[data-announce]")).to_have_text("Say first how severe the fault is.")
    page.locator(".ladder input").first.focus()
    press(page, "ArrowRight")  # from Minor to Moderate; the key has Serious
    page.get_by_label("Note").focus()
    page.keyboard.type("Near to serious")
    saved(page)
    handed_in(page, 67)
    expect(page.get_by_text("Near to serious")).to_be_visible()
    expect(page.locator(".ledger")).to_contain_text("Weighed: Moderate, one level light")


def test_points_by_keyboard_alone_on_the_phone(cast, edition, begin):
    content = {"points": {name: {"place": at, "spread": 0} for name, at in KEYED.items()}}
    item = makers.make_item_of(
        edition, cast.educator, "place-the-points", asking={"points": ["elbow", "tail_tip"]}, content=content
    )
    page = begin(item)
    expect(page.locator("[data-label]")).to_have_text("Elbow joint")
    page.get_by_label("Look closely at the next point").uncheck()
    page.locator(".stage").focus()
    press(page, *["Shift+ArrowRight"] * 2, *["Shift+ArrowDown"] * 2, "Enter")
    expect(page.locator("[data-label]")).to_have_text("Tip of tail")
    button(page, "Not visible")
    saved(page)
    x, y = Answer.objects.get().content["points"]["elbow"]
    away = ((x - 0.60) ** 2 + (y - 0.45) ** 2) ** 0.5 / 0.5
    credit = min(1, max(0, 1 - (away - 0.01) / 0.05))
    handed_in(page, round(50 * (1 + credit)))
    expect(page.locator(".ledger")).to_contain_text(f"Elbow joint: {100 * away:.1f} % of the height")
    expect(page.locator(".key-cross")).to_have_count(1)


def test_a_key_of_points_is_taken_from_the_drawing_and_published_by_keyboard(cast, edition, open_as):
    exhibit = makers.make_exhibit(cast.club, cast.educator, breed=edition.breed)
    item = make_item(
        edition=edition,
        exhibit=exhibit,
        kind="place-the-points",
        asking={"points": ["elbow", "tail_tip"]},
        by=cast.educator.person,
    )
    Placement.objects.create(exhibit=exhibit, points=KEYED, exact=True)
    page = open_as(cast.educator, f"{CLUB}/items/{item.pk}/key/")
    ready(page, "#key")
    expect(page.locator("#key-missing")).to_contain_text("Elbow joint: place it")
    button(page, "Take the drawing’s points")
    expect(page.locator("#key-missing")).to_be_hidden()
    page.get_by_role("button", name=re.compile("^Elbow joint")).focus()
    press(page, "Enter")
    page.get_by_label("Elbow joint spread").fill("2.5")
    saved(page)
    button(page, "Publish version 1")
    expect(page.get_by_text("Version 1 is in use.")).to_be_visible()
    ready(page, "#key-version")
    points = Key.objects.get(item=item).content["points"]
    assert points["elbow"] == {"place": [0.6, 0.45], "spread": 0.025}
    assert points["tail_tip"] == {"place": None, "spread": 0}


def test_a_shown_fault_is_keyed_with_room_for_one(cast, edition, shoulder, open_as):
    exhibit = makers.make_exhibit(cast.club, cast.educator, breed=edition.breed)
    item = make_item(edition=edition, exhibit=exhibit, kind="weigh-the-fault", by=cast.educator.person)
    page = open_as(cast.educator, f"{CLUB}/items/{item.pk}/key/")
    ready(page, "#key")
    expect(page.get_by_text("This exhibit is sound")).to_have_count(0)
    button(page, "Enter it as a fault of the whole dog")
    page.get_by_label("Fault from the club’s list").focus()
    page.keyboard.type("upright")
    press(page, "Enter")
    expect(page.get_by_role("button", name="Enter the fault")).to_be_hidden()
    saved(page)
    button(page, "Publish version 1")
    expect(page.get_by_text("Version 1 is in use.")).to_be_visible()
    assert Key.objects.get(item=item).entries.get().level == shoulder.level
