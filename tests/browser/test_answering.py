"""Answering by mouse, by touch and by keyboard alone, on a good connection and on none."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from assessments.models import Answer, Mark
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def quiz(cast, transactional_db):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=2)


@pytest.fixture
def begin(cast, quiz, open_as):
    """Opens the first item of the quiz."""

    def opened(**options) -> Page:
        page = open_as(cast.trainee, f"{CLUB}/quizzes/{quiz.pk}/", **options)
        page.get_by_role("button", name="Begin").click()
        ready(page)
        return page

    return opened


def ready(page: Page) -> None:
    expect(page.locator("#answering[data-ready]")).to_be_attached()


def spot(page: Page, x: float, y: float) -> tuple[float, float]:
    """A place of the picture, in units of its longer side, as a position within the stage."""
    box = page.locator(".stage").bounding_box()
    return x * box["width"], y * box["width"]


def saved(page: Page) -> None:
    expect(page.locator("[data-state]").filter(has_text=re.compile("Saved at")).first).to_be_attached()


def test_mouse_pins_names_weighs_hands_in_and_the_mark_is_explained(begin):
    page = begin()
    x, y = spot(page, 0.35, 0.5)
    page.locator(".stage").click(position={"x": x, "y": y})
    page.get_by_label("Name the fault").fill("upright")
    page.get_by_role("option", name="Upright shoulder").click()
    page.locator(".ladder label", has_text="Serious").click()
    saved(page)
    page.get_by_role("button", name="Hand in answer").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your answer scores 67 of 100")
    expect(page.locator(".ledger")).to_contain_text("Seen: inside the region")
    expect(page.locator(".region-key")).to_have_count(2)
    expect(page.locator(".pin-tab")).to_have_text(["1"])


def test_keyboard_alone_on_the_phone(begin):
    page = begin(phone=True)
    page.locator(".stage").focus()
    for _ in range(15):
        page.keyboard.press("ArrowLeft")
    for _ in range(3):
        page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Name the fault")).to_have_count(1)
    page.get_by_label("Name the fault").focus()
    page.keyboard.type("upright sh")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    saved(page)
    mark = Answer.objects.get(position=0).content["marks"][0]
    assert (mark["x"], mark["y"]) == (pytest.approx(0.35), pytest.approx(0.525))
    assert mark["level"] == 2
    page.get_by_role("button", name="Hand in answer").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your answer scores 67 of 100")


def test_touch_drags_a_pin(begin):
    page = begin(phone=True)
    box = page.locator(".stage").bounding_box()
    page.touchscreen.tap(box["x"] + 0.5 * box["width"], box["y"] + 0.3 * box["width"])
    saved(page)
    page.mouse.move(box["x"] + 0.5 * box["width"], box["y"] + 0.3 * box["width"])
    page.mouse.down()
    page.mouse.move(box["x"] + 0.35 * box["width"], box["y"] + 0.45 * box["width"], steps=5)
    page.mouse.up()
    page.wait_for_timeout(1000)
    marks = Answer.objects.get(position=0).content["marks"]
    assert len(marks) == 1
    assert marks[0]["x"] == pytest.approx(0.35, abs=0.01)
    assert marks[0]["y"] == pytest.approx(0.45, abs=0.01)


def test_nothing_found_sets_pins_aside_and_gives_them_back(begin):
    page = begin()
    x, y = spot(page, 0.35, 0.5)
    page.locator(".stage").click(position={"x": x, "y": y})
    page.get_by_label("Nothing found").first.check()
    expect(page.locator("[data-aside]")).to_contain_text("set aside, not lost")
    expect(page.locator(".pin-tab")).to_have_count(0)
    page.get_by_label("Nothing found").first.uncheck()
    expect(page.locator(".pin-tab")).to_have_count(1)


def test_a_fault_of_the_whole_dog_has_no_spot(begin):
    page = begin()
    page.get_by_role("button", name="Mark a fault of the whole dog").click()
    saved(page)
    mark = Answer.objects.get(position=0).content["marks"][0]
    assert (mark["x"], mark["y"]) == (None, None)


def test_what_was_pinned_without_a_connection_is_sent_when_it_returns(begin):
    page = begin()
    page.context.set_offline(True)
    x, y = spot(page, 0.35, 0.5)
    page.locator(".stage").click(position={"x": x, "y": y})
    expect(page.locator("[data-trouble]")).to_contain_text("No connection. Kept on this device since")
    assert Answer.objects.get(position=0).revision == 0
    page.context.set_offline(False)
    saved(page)
    assert len(Answer.objects.get(position=0).content["marks"]) == 1


def test_what_was_kept_on_the_device_survives_a_reload(begin):
    page = begin()
    page.context.route("**/save/", lambda route: route.abort())
    x, y = spot(page, 0.35, 0.5)
    page.locator(".stage").click(position={"x": x, "y": y})
    expect(page.locator("[data-trouble]")).to_be_visible()
    page.reload()
    ready(page)
    expect(page.locator(".pin-tab")).to_have_text(["1"])
    page.context.unroute("**/save/")
    saved(page)
    assert page.evaluate("Object.keys(localStorage).length") == 0


def test_a_save_whose_acknowledgement_was_lost_is_no_quarrel(begin):
    page = begin()

    def deliver_and_lose(route):
        route.fetch()
        route.abort()

    page.context.route("**/save/", deliver_and_lose)
    x, y = spot(page, 0.35, 0.5)
    page.locator(".stage").click(position={"x": x, "y": y})
    expect(page.locator("[data-trouble]")).to_be_visible()
    x, y = spot(page, 0.6, 0.2)
    page.locator(".stage").click(position={"x": x, "y": y})
    page.context.unroute("**/save/")
    saved(page)
    expect(page.locator("[data-overtaken]")).to_be_hidden()
    assert len(Answer.objects.get(position=0).content["marks"]) == 2


def test_two_windows_never_overwrite_one_another_silently(begin):
    first = begin()
    second = first.context.new_page()
    second.goto(first.url)
    ready(second)
    x, y = spot(first, 0.35, 0.5)
    first.locator(".stage").click(position={"x": x, "y": y})
    saved(first)
    x, y = spot(second, 0.6, 0.2)
    second.locator(".stage").click(position={"x": x, "y": y})
    expect(second.get_by_role("alert")).to_contain_text("changed in another window")
    assert Answer.objects.get(position=0).content["marks"][0]["x"] == pytest.approx(0.35, abs=0.01)
    second.get_by_role("button", name="Keep what is here").click()
    saved(second)
    assert Answer.objects.get(position=0).content["marks"][0]["x"] == pytest.approx(0.6, abs=0.01)


def test_pressing_hand_in_twice_marks_once(begin):
    page = begin()
    page.get_by_label("Nothing found").first.check()
    page.get_by_role("button", name="Hand in answer").dblclick()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your answer scores 0 of 100")
    assert Mark.objects.count() == 1


def test_a_blank_answer_says_what_to_do(begin):
    page = begin()
    page.get_by_role("button", name="Hand in answer").click(force=True)
    expect(page.locator("[data-announce]")).to_contain_text("Mark a fault, or say “Nothing found”.")
    assert not Mark.objects.exists()
