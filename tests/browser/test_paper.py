"""Sitting a paper on the phone and by keyboard: its clock, its end, and going on from another device."""

from __future__ import annotations

import datetime
import re

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from assessments.models import Answer, LateAnswer, Mark, PaperSitting
from assessments.rules import GRACE
from tests import makers
from tests.makers.papers import make_candidate, make_set_paper

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def paper(cast, transactional_db):
    paper = make_set_paper(makers.make_edition(cast.club), cast.educator)
    make_candidate(paper, cast.trainee, cast.educator, number=417)
    return paper


@pytest.fixture
def begin(cast, paper, open_as):
    """Accepts the declaration and opens the first item."""

    def opened(**options) -> Page:
        page = open_as(cast.trainee, f"{CLUB}/papers/{paper.pk}/", **options)
        page.get_by_label("I have read this and accept it").check()
        page.get_by_role("button", name="Begin: 60 minutes from now").click()
        ready(page)
        return page

    return opened


def ready(page: Page) -> None:
    expect(page.locator("#answering[data-ready]")).to_be_attached()


def ends_in(seconds: float) -> None:
    PaperSitting.objects.update(ends_at=timezone.now() + datetime.timedelta(seconds=seconds))


def nothing_found(page: Page) -> None:
    page.locator("[data-nothing]:visible").check()


def revisions() -> list[int]:
    return list(Answer.objects.order_by("position").values_list("revision", flat=True))


def test_by_keyboard_alone_on_the_phone_from_the_declaration_to_handing_in(cast, paper, open_as):
    page = open_as(cast.trainee, f"{CLUB}/papers/{paper.pk}/", phone=True)
    page.get_by_label("I have read this and accept it").focus()
    page.keyboard.press("Space")
    page.get_by_role("button", name="Begin").focus()
    page.keyboard.press("Enter")
    ready(page)
    expect(page.locator(".time-left")).to_contain_text("60 minutes left")
    for following in ("2", "3", "overview"):
        page.locator("[data-nothing]:visible").focus()
        page.keyboard.press("Space")
        page.get_by_role("link", name=re.compile("Next item|To the overview")).focus()
        page.keyboard.press("Enter")  # at once: leaving waits for the save
        page.wait_for_url(f"**/{following}/")
        if following != "overview":
            ready(page)
    expect(page.get_by_text("Every item has an answer.")).to_be_visible()
    assert revisions() == [1, 1, 1]
    page.get_by_role("button", name="Hand in all answers").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("You answered 3 of 3 items.")).to_be_visible()
    assert Mark.objects.count() == 3
    assert page.evaluate("Object.keys(localStorage).length") == 0


def test_the_clock_is_calm_and_the_end_hands_in_what_is_there(begin):
    page = begin(phone=True)
    ends_in(68)
    page.reload()
    ready(page)
    expect(page.locator("[data-minutes]")).to_have_text("2 minutes left")
    expect(page.locator("[data-minutes]")).to_have_text("1 minute left")
    expect(page.locator("[data-time-said]")).to_have_text("1 minute left")
    nothing_found(page)
    expect(page.locator("[data-state]").filter(has_text="Saved at").first).to_be_attached()
    ends_in(1)
    page.reload()
    expect(page.locator("[data-time-over]")).to_contain_text("The time is over. What was saved is handed in.")
    page.wait_for_url(re.compile(r"/papers/\d+/$"))
    expect(page.get_by_text("The time was over at")).to_be_visible()
    ends_in(-GRACE.total_seconds())
    page.reload()
    expect(page.get_by_text("You answered 1 of 3 items.")).to_be_visible()
    assert PaperSitting.objects.get().handed_in == "time"


def test_another_device_goes_on_where_the_first_stood(cast, paper, begin, open_as):
    first = begin()
    nothing_found(first)
    first.get_by_role("link", name="Next item").click()
    first.wait_for_url("**/2/")
    ends_in(12 * 60)
    second = open_as(cast.trainee, f"{CLUB}/papers/{paper.pk}/", phone=True)
    second.get_by_role("link", name="Go on").click()
    expect(second.locator(".time-left")).to_contain_text("12 minutes left")
    expect(second.locator(".place-blank")).to_have_count(2)
    second.get_by_role("link", name=re.compile("^2 ")).click()
    ready(second)
    nothing_found(second)
    second.get_by_role("link", name="Overview").first.click()
    expect(second.locator(".place-blank")).to_have_count(1)
    nothing_found(first)
    expect(first.get_by_role("alert")).to_contain_text("changed in another window")
    assert revisions() == [1, 1, 0]


def test_what_comes_after_the_end_is_refused_in_words_and_kept(begin):
    page = begin()
    page.context.set_offline(True)
    nothing_found(page)
    expect(page.locator("[data-trouble]")).to_contain_text("No connection. Kept on this device since")
    ends_in(-GRACE.total_seconds())
    page.context.set_offline(False)
    expect(page.locator("[data-trouble]")).to_contain_text("does not count; it is kept for the club to see")
    assert LateAnswer.objects.get().content["nothing_found"] is True
    assert revisions() == [0, 0, 0]
    assert "nothing_found" in page.evaluate("Object.values(localStorage).join()"), "Nor lost on the device."
