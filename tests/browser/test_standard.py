"""The standard is pasted, edited and put in order by keyboard alone, and nothing typed is lost."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from courses.models import Clause
from tests import makers

CLUB = "/clubs/skerry-drover"
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"], "preload": False}


@pytest.fixture
def edition(cast, transactional_db):
    return makers.make_draft(cast.club, reproduced_by="Own text.")


@pytest.fixture
def editor(cast, edition, open_as):
    """Opens the edition's page."""
    return lambda **options: open_as(cast.educator, f"{CLUB}/editions/{edition.pk}/", **options)


def of(number: str) -> int:
    return Clause.objects.get(number=number).pk


def order(page: Page, section: int) -> list[str]:
    return page.locator(".entries").nth(section).locator(".clause-number").all_inner_texts()


def steps_to(page: Page, name: str | re.Pattern[str], most: int = 80) -> None:
    """Press Tab until something of this name has the focus."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if re.search(
            name, page.evaluate("document.activeElement.innerText || document.activeElement.name || ''")
        ):
            return
    pytest.fail(f"Tab does not reach {name}.")


def test_a_pasted_text_becomes_clauses_by_keyboard(cast, transactional_db, open_as):
    edition = makers.make_draft(cast.club, {})
    page = open_as(cast.educator, f"{CLUB}/editions/{edition.pk}/paste/")
    page.get_by_label("The written standard").focus()
    page.keyboard.insert_text("## 5 Forequarters\n5.1 The blade slopes. A steep blade is a serious fault.\n")
    steps_to(page, "Split it into clauses")
    page.keyboard.press("Enter")
    expect(page.locator(".degree")).to_have_text("serious fault")
    steps_to(page, "Change")
    page.keyboard.press("Enter")
    steps_to(page, "clause-text")
    page.keyboard.press("Control+Home")
    for _ in range(len("The blade slopes.")):
        page.keyboard.press("ArrowRight")
    steps_to(page, "Split at the cursor")
    page.keyboard.press("Enter")
    expect(page.locator(".clause")).to_have_count(2)
    steps_to(page, "Save 2 clauses")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Edition of 2026")
    assert list(Clause.objects.values_list("number", "text")) == [
        ("5.1", "The blade slopes."),
        ("5.2", "A steep blade is a serious fault."),
    ]


def test_a_clause_is_edited_confirmed_moved_and_undone_by_keyboard(editor):
    page = editor()
    page.locator(f"#edit-{of('5.1')}").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("Wording")).to_be_focused()
    page.keyboard.press("Control+End")
    page.keyboard.insert_text(" Added.")
    steps_to(page, "Save 5.1")
    page.keyboard.press("Enter")
    expect(page.locator(f"#edit-{of('5.1')}")).to_be_focused()
    expect(page.locator(f"#clause-{of('5.1')} .clause")).to_contain_text("Added.")
    steps_to(page, "Up")
    page.keyboard.press("Alt+ArrowDown")
    expect(page.locator("#undo")).to_have_text("Undo moving 5.1 down")
    expect(page.locator(f"#up-{of('5.1')}")).to_be_focused()
    assert order(page, 0) == ["5.2", "5.1", "5.3"]
    page.locator("#undo").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#undo")).to_have_text("Undo changing 5.1")
    assert order(page, 0) == ["5.1", "5.2", "5.3"]
    page.get_by_role("button", name="Confirm all 3 severities as read").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#_standing")).to_contain_text("2 severities to confirm")
    expect(page.locator("h2", has_text="Forequarters")).to_be_focused()


def test_what_is_being_typed_outlives_changes_around_it(editor):
    page = editor()
    page.locator(f"#edit-{of('5.2')}").click()
    page.get_by_label("Wording").fill("Typed, not saved.")
    page.get_by_role("link", name="Add a clause").first.click()
    page.get_by_label("Wording").nth(1).fill("New, not saved.")
    page.locator(f"#up-{of('5.3')}").click()
    expect(page.locator("#undo")).to_have_text("Undo moving 5.3 up")
    texts = page.get_by_label("Wording").all()
    assert [text.input_value() for text in texts] == ["Typed, not saved.", "New, not saved."]
    page.get_by_role("button", name="Add the clause").click()
    expect(page.locator("#undo")).to_have_text("Undo adding 5.4")
    expect(page.get_by_label("Wording")).to_have_value("Typed, not saved.")
    page.get_by_role("link", name="Leave it as it was").click()
    expect(page.locator(f"#edit-{of('5.2')}")).to_be_focused()
    assert Clause.objects.get(number="5.2").text == "The arm is as long as the blade."


def test_leaving_with_something_unsaved_is_asked_about(editor):
    page = editor()
    asked = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    page.locator(f"#edit-{of('5.2')}").click()
    page.get_by_label("Wording").fill("Typed, not saved.")
    page.get_by_role("link", name="Paste more").click()
    expect(page.get_by_label("Wording")).to_have_value("Typed, not saved.")
    assert asked == ["beforeunload"]


def test_without_script_every_change_can_be_made(editor):
    page = editor(java_script_enabled=False)
    page.locator(f"#edit-{of('5.1')}").click()
    page.get_by_label("Wording").fill("The blade slopes.\n\nA steep blade is a serious fault.")
    page.get_by_role("button", name="Split at the empty line").click()
    page.locator(f"#clause-{of('5.1a')}").get_by_role("button", name="Confirm Serious").click()
    page.locator(f"#clause-{of('5.2')}").get_by_role("link", name="More").click()
    page.get_by_role("button", name="Remove 5.2").click()
    page.get_by_role("button", name="Undo removing 5.2").click()
    page.get_by_role("button", name=re.compile("Renumber Forequarters")).click()
    assert order(page, 0) == ["5.1", "5.2", "5.3", "5.4"]
    assert Clause.objects.get(number="5.2").severity == 2


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_pass_the_checker_and_fit_a_phone(cast, edition, open_as, scheme):
    makers.make_fault(edition)
    club = f"{CLUB}/editions/{edition.pk}"
    breed = f"{CLUB}/breeds/{edition.breed.slug}"
    addresses = [f"{CLUB}/standard/", f"{club}/", f"{club}/paste/", f"{club}/release/", f"{breed}/readings/"]
    addresses += [f"{CLUB}/clauses/{of('5.1')}/edit/", f"{CLUB}/faults/", f"{CLUB}/standard/ladder/"]
    page = open_as(cast.educator, addresses[0], phone=True, color_scheme=scheme)
    for address in addresses:
        page.goto(address)
        found = Axe().run(page, options=RULES).response
        assert found["passes"], address
        assert [each["id"] for each in found["violations"]] == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, address
