"""From the queue to a second mark and the comparison: on a phone, and by keyboard alone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from assessments.actions.reviews import return_answer
from assessments.actions.second import ask_second_marking
from assessments.actions.sittings import begin_sitting
from assessments.models import SecondMarking
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def second(cast, transactional_db):
    """Thora is asked for an answer that Magnus has returned."""
    quiz = makers.make_open_quiz(makers.make_edition(cast.club), cast.educator)
    makers.make_mentorship(cast.mentor, cast.trainee)
    answer = makers.make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())
    return_answer(answer=answer, mentor=cast.mentor)
    thora = makers.make_mentor(cast.club, "Thora Garrioch")
    ask_second_marking(answer=answer, second=thora, by=cast.educator, why="One in ten is marked twice.")
    return thora


def expect_no_wider_than_the_screen(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_a_second_mark_is_given_on_a_phone_and_settled_by_keyboard(cast, second, open_as):
    phone = open_as(second, f"{CLUB}/reviews/", phone=True)
    expect_no_wider_than_the_screen(phone)
    phone.get_by_role("link", name="Second marking: Forequarters in profile, item 1").tap()
    expect(phone.locator("#marked")).to_have_attribute("data-ready", "1")
    expect(phone.get_by_text("You see neither whose answer it is")).to_be_visible()
    assert "Una Halcro" not in phone.content()
    box = phone.locator("[data-stage]").bounding_box()
    phone.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(phone.get_by_text("Pinned to the spot on the picture.")).to_be_visible()
    phone.get_by_label("Comment").fill("Here the blade is steep.")
    phone.get_by_role("button", name="Add the comment").tap()
    expect(phone.locator(".thread")).to_contain_text("Here the blade is steep.")
    expect_no_wider_than_the_screen(phone)
    phone.get_by_label("Your mark of 100").fill("12.5")
    phone.get_by_label("Why").fill("The note sees it.")
    phone.get_by_role("button", name="Give this mark").tap()
    expect(phone.locator(".two-marks")).to_contain_text("+12.5")
    expect(phone.get_by_role("button", name="Settle it")).to_have_count(0)
    expect_no_wider_than_the_screen(phone)

    page = open_as(cast.educator, f"{CLUB}/mentoring/")
    page.get_by_role("link", name="Forequarters in profile, item 1").press("Enter")
    expect(page.locator(".two-marks")).to_contain_text("Thora Garrioch")
    page.get_by_label("The first, 0.0").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("The second, 12.5")).to_be_checked()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Reason")).to_be_focused()
    page.keyboard.type("The clause names it, and so does the note.")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#marked .news").first).to_contain_text("12.5 stands, the second mark")
    page.get_by_text("Who changed this mark, and when").press("Enter")
    expect(page.locator(".changes")).to_contain_text("0.0 → 12.5")
    assert SecondMarking.objects.get().settled_points == 12.5
