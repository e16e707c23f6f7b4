"""A choice, a clause, a pair and a class answered on the phone by keyboard alone; their keys and other ways."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from assessments.models import Item
from tests import makers
from tests.assessments.items import asked

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def open_item(cast, open_as):
    """The answer page of an item, on the phone unless said otherwise."""

    def opened(item: Item, phone: bool = True, **options) -> Page:
        answer = asked.begun(item, cast.trainee)
        page = open_as(cast.trainee, f"{CLUB}/answers/{answer.pk}/", phone=phone, **options)
        expect(page.locator("#answering[data-ready]")).to_be_attached()
        assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
        return page

    return opened


@pytest.fixture
def open_key(cast, open_as):
    """The page of a new draft of an item's key."""

    def opened(item: Item, **options) -> Page:
        cast.client("educator").post(f"{CLUB}/items/{item.pk}/key/start/")
        page = open_as(cast.educator, f"{CLUB}/items/{item.pk}/key/", **options)
        expect(page.locator("#key[data-ready]")).to_be_attached()
        return page

    return opened


def tab_to(page: Page, selector: str, most: int = 60) -> None:
    """Press Tab until the focus stands on it."""
    for _ in range(most):
        if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{selector} is not reached by keyboard")


def saved(page: Page) -> None:
    expect(page.locator("[data-state]").filter(has_text=re.compile("Saved at")).first).to_be_attached()


def draft_saved(page: Page) -> None:
    expect(page.locator("[data-state]")).to_contain_text("Draft saved at")


def hand_in(page: Page, heading: str) -> None:
    tab_to(page, "[data-hand-in]")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text(heading)


def test_choice_by_keyboard_on_the_phone(open_item, cast, edition):
    page = open_item(asked.choice(edition, cast.educator))
    for ident in ("aaaaaaaa", "bbbbbbbb"):
        page.locator("body").evaluate("document.activeElement.blur()")
        tab_to(page, f"[value={ident}]")
        page.keyboard.press("Space")
    saved(page)
    hand_in(page, "Your answer scores 100 of 100")
    expect(page.locator(".option-right")).to_have_count(2)


def test_choice_of_one_by_keyboard_and_a_blank_is_said(open_item, cast, edition):
    page = open_item(asked.choice(edition, cast.educator, several=False, right="a"))
    tab_to(page, "[data-hand-in]")
    page.keyboard.press("Enter")
    expect(page.locator("[data-announce]")).to_have_text("Choose an option first.")
    page.locator("[name=chosen]").first.focus()
    page.keyboard.press("Space")
    saved(page)
    for _ in range(3):
        if page.locator("[value=aaaaaaaa]").is_checked():
            break
        page.keyboard.press("ArrowDown")
    hand_in(page, "Your answer scores 100 of 100")


def test_clause_by_keyboard_on_the_phone(open_item, cast, edition):
    page = open_item(asked.clause_item(edition, cast.educator))
    assert "well laid back" not in page.content()
    tab_to(page, ".gap")
    page.keyboard.type("LONG")
    page.keyboard.press("Enter")
    page.keyboard.type("well-laid bakc")
    saved(page)
    page.keyboard.press("Enter")
    hand_in(page, "Your answer scores 50 of 100")
    expect(page.locator(".ledger")).to_contain_text("“LONG”, as the clause has it")


def test_clause_with_words_to_choose(open_item, cast, edition):
    page = open_item(asked.clause_item(edition, cast.educator, typed=False))
    for gap, words in zip(page.locator(".gap").all(), ("long", "well laid back"), strict=True):
        gap.select_option(words)
    saved(page)
    hand_in(page, "Your answer scores 100 of 100")


def test_pair_by_keyboard_on_the_phone(open_item, cast, edition):
    item = asked.pair(edition, cast.educator)
    page = open_item(item)
    better = item.keys.get().content["exhibit"]
    tab_to(page, "[name=exhibit]")
    page.keyboard.press("Space")
    if not page.locator(f"[value='{better}']").is_checked():
        page.keyboard.press("ArrowDown")
    tab_to(page, "#pair-clause")
    page.keyboard.type("arm is as")
    page.keyboard.press("Enter")
    expect(page.locator("[data-clause]")).to_contain_text("The arm is as long as the blade.")
    saved(page)
    page.get_by_role("button", name="Closer to a").press("Enter")
    expect(page.locator(".stage").first).to_have_class(re.compile("stage-close"))
    hand_in(page, "Your answer scores 80 of 100")
    expect(page.locator(".pair-better")).to_have_count(1)


def letters(page: Page) -> list[str]:
    """The letters in the order in which the list has them."""
    return page.locator("[data-placing] > [data-exhibit]").evaluate_all(
        "rows => rows.map(row => row.dataset.letter)"
    )


def arrow_to(page: Page, exhibit: int) -> None:
    """Press arrow keys until the focus stands on the exhibit's row."""
    for key in ["ArrowUp"] * 8 + ["ArrowDown"] * 8:
        if page.locator(f"[data-exhibit='{exhibit}'] [data-grip]:focus").count():
            return
        page.keyboard.press(key)
    raise AssertionError(f"the row of exhibit {exhibit} is not reached by arrow keys")


def test_class_by_keyboard_on_the_phone(open_item, cast, edition):
    item = asked.class_item(edition, cast.educator)
    page = open_item(item)
    order = item.keys.get().content["order"]
    for exhibit, faults in zip(order, ([], ["gay"], ["upright", "gay"]), strict=True):
        tab_to(page, f"[data-show-look='{exhibit}']")
        page.keyboard.press("Enter")
        for name in faults:
            tab_to(page, "#found-fault")
            page.keyboard.type(name)
            page.keyboard.press("Enter")
        if not faults:
            tab_to(page, "[data-nothing]")
            page.keyboard.press("Space")
    tab_to(page, "[data-grip]")
    for _ in range(2):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Alt+ArrowUp")
    expect(page.locator("[data-announce]")).to_contain_text("stands 1 of 1")
    for place, exhibit in enumerate(order, start=1):
        arrow_to(page, exhibit)
        page.keyboard.press(str(place))
    expect(page.locator("[data-divider]")).to_be_hidden()
    expect(page.locator("[data-unfinished]")).to_be_empty()
    saved(page)
    page.keyboard.press("Alt+ArrowUp")
    assert [
        int(each)
        for each in page.locator("[data-placing] > [data-exhibit]").evaluate_all(
            "rows => rows.map(row => row.dataset.exhibit)"
        )
    ] == [order[0], order[2], order[1]]
    hand_in(page, "Your answer scores 98 of 100")
    expect(page.locator(".ledger")).to_contain_text("loses 2")


def test_class_by_mouse(open_item, cast, edition):
    page = open_item(asked.class_item(edition, cast.educator, findings="none"), phone=False)
    rows = page.locator("[data-placing] > [data-exhibit]")
    for _ in range(3):
        page.get_by_role("button", name="Place", exact=True).first.click()
    assert letters(page) == ["a", "b", "c"]
    box, last = rows.first.bounding_box(), rows.last.bounding_box()
    page.mouse.move(box["x"] + 60, box["y"] + 30)
    page.mouse.down()
    page.mouse.move(last["x"] + 60, last["y"] + 50, steps=8)
    page.mouse.up()
    assert letters(page) == ["b", "c", "a"]
    saved(page)
    page.locator("[data-letter=a]").get_by_role("button", name="Down").click()
    expect(page.locator("[data-unfinished]")).to_contain_text("Not every exhibit has a place yet")


def test_class_by_finger(open_item, cast, edition):
    page = open_item(asked.class_item(edition, cast.educator, findings="none"))
    for _ in range(3):
        page.get_by_role("button", name="Place", exact=True).first.tap()
    page.locator("[data-placing]").scroll_into_view_if_needed()
    picture = page.locator("[data-letter=c] [data-handle]").bounding_box()
    top = page.locator("[data-letter=a]").bounding_box()
    x, y = picture["x"] + 30, picture["y"] + 20
    finger = page.context.new_cdp_session(page)
    for kind, at in (
        ("touchStart", y),
        ("touchMove", y - 40),
        ("touchMove", top["y"] + 4),
        ("touchEnd", None),
    ):
        points = [] if at is None else [{"x": x, "y": at}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    expect(page.locator("[data-placing] > [data-exhibit]").first).to_have_attribute("data-letter", "c")
    assert letters(page) == ["c", "a", "b"]
    expect(page.locator("[data-announce]")).to_have_text("c stands 1 of 3.")


def test_class_key_by_keyboard(open_key, cast, edition):
    item = asked.class_item(edition, cast.educator)
    page = open_key(item)
    order = item.keys.exclude(published_at=None).get().content["order"]
    page.locator("[data-grip]").first.focus()
    page.keyboard.press("Alt+ArrowDown")
    page.locator("#cut-0").fill("30")
    draft_saved(page)
    expect(page.locator("[data-warned]")).to_contain_text("so it would fall below 0")
    page.locator("#cut-0").fill("0")
    expect(page.locator("[data-warned]")).to_be_empty()
    page.locator("#cut-1").fill("")
    expect(page.locator("[data-missing]")).to_contain_text("Say the cut between each pair")
    page.locator("#cut-1").fill("5")
    expect(page.locator("[data-missing]")).to_be_hidden()
    draft_saved(page)
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.locator("#key-version")).to_contain_text("cut 0: the pair may stand either way")
    content = item.keys.get(version=2).content
    assert content["order"] == [order[1], order[0], order[2]]
    assert content["cuts"] == [0, 5]


def test_keys_of_pair_clause_and_choice(open_key, cast, edition):
    item = asked.choice(edition, cast.educator)
    page = open_key(item)
    page.locator("[data-option=cccccccc] input").check()
    draft_saved(page)
    expect(page.locator("[data-warned]")).to_contain_text("choosing every option would earn 67 of 100")
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.locator(".option-right")).to_have_count(3)

    page = open_key(asked.clause_item(edition, cast.educator), phone=True)
    page.get_by_role("button", name="Accept other words for “long”").press("Enter")
    page.keyboard.type("of good length")
    draft_saved(page)
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.locator("#key-version")).to_contain_text("of good length 0.5")

    page = open_key(asked.pair(edition, cast.educator), phone=True)
    page.locator("[data-also] input").fill("0.25")
    page.locator("[data-also] input").press("Tab")
    draft_saved(page)
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.locator("#key-version")).to_contain_text("with 0.25 of the credit")


def test_words_of_a_clause_are_picked_by_keyboard(open_as, cast, edition):
    clause = makers.make_clause(edition, text=asked.TEXT)
    page = open_as(cast.educator, f"{CLUB}/items/new/complete-the-clause/?edition={edition.pk}")
    page.get_by_label("Clause").select_option(str(clause.pk))
    expect(page.locator(".clause-word").first).to_be_visible()
    for word in ("laid", "back"):
        page.get_by_role("checkbox", name=word, exact=True).press("Space")
    page.get_by_role("button", name="Make it and draw up its key").press("Enter")
    expect(page.locator("#key[data-ready]")).to_be_attached()
    expect(page.locator("[data-gaps]")).to_contain_text("laid back")
    start = asked.TEXT.index("laid back")
    assert Item.objects.get().asking["gaps"] == [[start, start + 9]]


def test_a_panellist_places_a_class_by_keyboard(open_as, cast, edition):
    item = asked.class_item(edition, cast.educator)
    panel = makers.make_key_panel(item, cast.educator, cast.mentor)
    seat = panel.panellists.get()
    page = open_as(cast.mentor, f"{CLUB}/key-panels/marking/{seat.pk}/", phone=True)
    expect(page.locator("#key[data-ready]")).to_be_attached()
    expect(page.locator("[data-missing]")).to_contain_text("Say the cut between each pair")
    tab_to(page, "[data-grip]")
    page.keyboard.press("Alt+ArrowDown")
    tab_to(page, "#cut-0")
    page.keyboard.type("3")
    page.keyboard.press("Tab")
    page.keyboard.type("0")
    expect(page.locator("[data-missing]")).to_be_hidden()
    expect(page.locator("[data-state]")).to_contain_text("Saved at")
    page.get_by_role("button", name="Hand in").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your placing of a class")
    seat.refresh_from_db()
    assert seat.content["cuts"] == [3, 0]
    assert seat.handed_in_at


def test_a_panellist_chooses_of_a_pair_by_keyboard(open_as, cast, edition):
    item = asked.pair(edition, cast.educator)
    seat = makers.make_key_panel(item, cast.educator, cast.mentor).panellists.get()
    page = open_as(cast.mentor, f"{CLUB}/key-panels/marking/{seat.pk}/", phone=True)
    expect(page.locator("#key[data-ready]")).to_be_attached()
    tab_to(page, "[name=exhibit]")
    page.keyboard.press("Space")
    tab_to(page, "#pair-clause")
    page.keyboard.type("5.1")
    page.keyboard.press("Enter")
    expect(page.locator("[data-missing]")).to_be_hidden()
    expect(page.locator("[data-state]")).to_contain_text("Saved at")
    page.get_by_role("button", name="Hand in").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your choice of a pair")


MAKERS = {
    "choice": asked.choice,
    "clause": asked.clause_item,
    "pair": asked.pair,
    "class": asked.class_item,
}


@pytest.mark.parametrize("name", MAKERS)
def test_pages_pass_the_checker(name, open_item, open_key, open_as, cast, edition):
    item = MAKERS[name](edition, cast.educator)
    pages = [
        open_item(item, bypass_csp=True),
        open_key(item, bypass_csp=True),
        open_as(cast.educator, f"{CLUB}/items/{item.pk}/key/1/", bypass_csp=True),
        open_as(cast.educator, f"{CLUB}/items/{item.pk}/asking/", phone=True, bypass_csp=True),
    ]
    found = [problem for page in pages for problem in Axe().run(page).response["violations"]]
    assert [(each["id"], [node["html"] for node in each["nodes"]]) for each in found] == []
