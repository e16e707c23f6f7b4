"""Drawing up a key by mouse, by touch and by keyboard alone; nothing is lost between two windows."""

from __future__ import annotations

import math
import random
import re

import pytest
from playwright.sync_api import Page, expect

from assessments.actions.keys import save_draft, start_draft
from assessments.models import Key
from shared.geometry.outlines import Canvas, OutlineRefused, read_outlines
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def edition(edition):
    makers.make_shoulder_and_back(edition)
    return edition


@pytest.fixture
def item(cast, edition):
    """Not answered yet; its exhibit shows nothing that is said so far."""
    return makers.make_draft_item(edition, cast.educator)


@pytest.fixture
def draw(cast, item, open_as):
    """Opens the item's key."""

    def opened(**options) -> Page:
        page = open_as(cast.educator, f"{CLUB}/items/{item.pk}/key/", **options)
        expect(page.locator("#key[data-ready]")).to_be_attached()
        return page

    return opened


def at(page: Page, x: float, y: float) -> dict[str, float]:
    """A place of the picture, in units of its longer side, as a position within the stage."""
    box = page.locator(".stage").bounding_box()
    return {"x": x * box["width"], "y": y * box["width"]}


def on_screen(page: Page, x: float, y: float) -> tuple[float, float]:
    box = page.locator(".stage").bounding_box()
    return box["x"] + x * box["width"], box["y"] + y * box["width"]


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*on_screen(page, *start))
    page.mouse.down()
    page.mouse.move(*on_screen(page, *[(a + b) / 2 for a, b in zip(start, end, strict=True)]))
    page.mouse.move(*on_screen(page, *end))
    page.mouse.up()


def saved(page: Page) -> None:
    """Everything that was done is on the server."""
    expect(page.locator("[data-state]")).to_have_text(re.compile("Draft saved at"))


def entries() -> list[dict]:
    return [
        {
            "fault": row.fault.name if row.fault else None,
            "clause": row.clause.number if row.clause else None,
            "level": row.level,
            "whole_dog": row.whole_dog,
            "regions": row.regions,
        }
        for row in Key.objects.get().entries.all()
    ]


def near(outline: list[list[float]]) -> list:
    return [pytest.approx(corner, abs=0.004) for corner in outline]


def test_mouse_corners_fault_severity_and_publication(draw):
    page = draw()
    page.get_by_role("button", name="corner by corner").click()
    stage = page.locator(".stage")
    for spot in [(0.3, 0.4), (0.4, 0.4), (0.4, 0.55), (0.3, 0.55), (0.3, 0.4)]:
        stage.click(position=at(page, *spot))
    page.get_by_label("Fault from the club’s list").fill("upright")
    page.get_by_role("option", name="Upright shoulder").click()
    expect(page.locator(".entry-sheet .clause")).to_contain_text("A steep blade is a")
    expect(page.locator("[data-reading]")).to_have_text("The club reads “serious fault” in 5.1 as Serious.")
    expect(page.locator(".ladder label:has(:checked)")).to_have_text("Serious")
    expect(page.locator("[data-differs]")).to_be_hidden()
    page.locator(".ladder label", has_text="Minor").click()
    expect(page.locator("[data-differs]")).to_contain_text("The key says Minor, the clause reads as Serious.")
    page.locator(".ladder label", has_text="Serious").click()
    saved(page)
    [kept] = entries()
    assert (kept["fault"], kept["clause"], kept["level"]) == ("Upright shoulder", "5.1", 2)
    assert kept["regions"][0] == near([[0.3, 0.4], [0.4, 0.4], [0.4, 0.55], [0.3, 0.55]])
    page.get_by_role("button", name="Publish version 1").click()
    expect(page.locator(".messages, .news").first).to_contain_text("Version 1 is in use.")
    expect(page.locator(".entry-shown")).to_have_count(1)
    expect(page.locator(".region-key")).to_have_count(1)


def test_a_rectangle_is_dragged_out_moved_stretched_and_taken_back(draw):
    page = draw()
    page.get_by_role("button", name="rectangle").click()
    drag(page, (0.3, 0.4), (0.4, 0.5))
    drag(page, (0.35, 0.45), (0.55, 0.35))
    saved(page)
    assert entries()[0]["regions"] == [near([[0.5, 0.3], [0.6, 0.3], [0.6, 0.4], [0.5, 0.4]])]
    drag(page, (0.6, 0.4), (0.7, 0.5))
    saved(page)
    assert entries()[0]["regions"] == [near([[0.5, 0.3], [0.7, 0.3], [0.7, 0.5], [0.5, 0.5]])]
    page.get_by_label("Each corner").check()
    drag(page, (0.7, 0.3), (0.8, 0.2))
    saved(page)
    assert entries()[0]["regions"] == [near([[0.5, 0.3], [0.8, 0.2], [0.7, 0.5], [0.5, 0.5]])]
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="Redo").click()
    saved(page)
    assert entries()[0]["regions"] == [near([[0.5, 0.3], [0.7, 0.3], [0.7, 0.5], [0.5, 0.5]])]


def test_an_outline_that_crosses_itself_is_not_taken(draw):
    page = draw()
    page.get_by_role("button", name="corner by corner").click()
    stage = page.locator(".stage")
    for spot in [(0.3, 0.3), (0.5, 0.5), (0.5, 0.3), (0.3, 0.5)]:
        stage.click(position=at(page, *spot))
    expect(page.locator("[data-announce]")).to_contain_text("would make the outline cross itself")
    page.keyboard.press("c")
    saved(page)
    assert entries()[0]["regions"] == [near([[0.3, 0.3], [0.5, 0.5], [0.5, 0.3]])]


def test_touch_sets_corners_and_drags_one(draw):
    page = draw(phone=True)
    page.get_by_role("button", name="ellipse").tap()
    page.locator(".stage").scroll_into_view_if_needed()
    for spot in [(0.3, 0.3), (0.5, 0.4)]:
        page.locator(".stage").tap(position=at(page, *spot))
    saved(page)
    [outline] = entries()[0]["regions"]
    assert len(outline) == 32
    assert [min(p[0] for p in outline), max(p[1] for p in outline)] == pytest.approx([0.3, 0.4], abs=0.01)
    page.locator(".stage").scroll_into_view_if_needed()
    finger(page, (0.4, 0.35), (0.6, 0.45))
    saved(page)
    [moved] = entries()[0]["regions"]
    assert [min(p[0] for p in moved), max(p[1] for p in moved)] == pytest.approx([0.5, 0.5], abs=0.02)


def finger(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    """One finger put down, drawn along and lifted, as the browser's own protocol tells it."""
    (x1, y1), (x2, y2) = on_screen(page, *start), on_screen(page, *end)
    touch = page.context.new_cdp_session(page)

    def send(kind: str, *spots: tuple[float, float]) -> None:
        points = [{"x": x, "y": y} for x, y in spots]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", (x1, y1))
    for step in (0.25, 0.5, 0.75, 1):
        send("touchMove", (x1 + step * (x2 - x1), y1 + step * (y2 - y1)))
    send("touchEnd")


def test_keyboard_alone_draws_names_changes_and_publishes(draw):
    page = draw()
    page.get_by_role("button", name="corner by corner").focus()
    page.keyboard.press("Enter")
    press(page, "Shift+ArrowLeft", 4)  # from the middle, (0.5, 0.375), to (0.3, 0.375)
    page.keyboard.press("Enter")
    press(page, "Shift+ArrowRight", 2)
    page.keyboard.press("Enter")
    press(page, "Shift+ArrowDown", 3)
    page.keyboard.press("Enter")
    press(page, "ArrowRight", 5)
    page.keyboard.press("Enter")
    page.keyboard.press("Backspace")
    page.keyboard.press("c")
    expect(page.get_by_label("Fault from the club’s list")).to_be_focused()
    page.keyboard.type("upright")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowLeft")  # one level lighter than the fault's usual
    saved(page)
    [kept] = entries()
    assert (kept["fault"], kept["level"]) == ("Upright shoulder", 1)
    assert kept["regions"] == [near([[0.3, 0.375], [0.4, 0.375], [0.4, 0.525]])]

    page.locator(".handle-region").focus()
    press(page, "ArrowDown", 4)
    page.keyboard.press("n")
    page.keyboard.press("n")
    expect(page.get_by_role("button", name="Corner 2 of 3, region 1 of A")).to_be_focused()
    press(page, "ArrowRight", 2)
    page.keyboard.press("i")
    expect(page.get_by_role("button", name="Corner 3 of 4, region 1 of A")).to_be_focused()
    saved(page)
    assert entries()[0]["regions"] == [near([[0.3, 0.395], [0.41, 0.395], [0.405, 0.47], [0.4, 0.545]])]
    page.keyboard.press("Delete")
    saved(page)
    assert entries()[0]["regions"] == [near([[0.3, 0.395], [0.41, 0.395], [0.4, 0.545]])]
    page.get_by_role("button", name="Publish version 1").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".news").first).to_contain_text("Version 1 is in use.")


def press(page: Page, key: str, times: int) -> None:
    for _ in range(times):
        page.keyboard.press(key)


def test_a_press_means_the_smallest_region_and_crowded_corners_go_by_their_frame(cast, item, draw):
    """A disc of twelve corners lies within a square; the disc is chosen first, then the square beside it."""
    faults = item.edition.breed.faults.order_by("name")
    around = [2 * math.pi * i / 12 for i in range(12)]
    disc = [[0.5 + 0.02 * math.cos(turn), 0.4 + 0.02 * math.sin(turn)] for turn in around]
    square = [[0.4, 0.3], [0.6, 0.3], [0.6, 0.5], [0.4, 0.5]]
    kept = [makers.entry(fault, [region]) for fault, region in zip(faults, (square, disc), strict=True)]
    start = start_draft(item=item, by=cast.educator.person)
    save_draft(key=start, sound=False, note="", entries=kept, by=cast.educator.person)
    page = draw()
    expect(page.locator("[data-title]")).to_have_text("Roached back")
    page.locator(".stage").click(position=at(page, 0.505, 0.405))
    expect(page.locator("[data-title]")).to_have_text("Upright shoulder")
    expect(page.get_by_role("button", name="Corner 1 of 4, region 1 of B")).to_be_attached()
    page.locator(".stage").click(position=at(page, 0.5, 0.4))
    page.get_by_label("Each corner").check()
    expect(page.get_by_role("button", name="Corner 1 of 12, region 1 of B")).to_be_attached()
    page.locator(".stage").click(position=at(page, 0.45, 0.33))
    expect(page.locator("[data-title]")).to_have_text("Roached back")


def test_two_regions_of_one_fault_and_a_fault_of_the_whole_dog(draw):
    page = draw()
    page.get_by_role("button", name="rectangle").click()
    drag(page, (0.1, 0.5), (0.2, 0.7))
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Another region of A").click()
    page.get_by_role("button", name="rectangle").click()
    drag(page, (0.3, 0.5), (0.4, 0.7))
    page.get_by_role("button", name="Enter a fault of the whole dog").click()
    saved(page)
    first, second = entries()
    assert [len(first["regions"]), first["whole_dog"]] == [2, False]
    assert [second["regions"], second["whole_dog"]] == [[], True]
    expect(page.locator("[data-missing-list] li")).to_have_text(
        ["A: name the fault, say the clause, weigh it.", "B: name the fault, say the clause, weigh it."]
    )


def test_sound_sets_the_faults_aside_and_publishing_leaves_them_out(draw):
    page = draw()
    page.get_by_role("button", name="rectangle").click()
    drag(page, (0.1, 0.5), (0.2, 0.7))
    page.get_by_label("This exhibit is sound").check()
    expect(page.locator(".region")).to_have_count(0)
    saved(page)
    assert len(entries()) == 1
    page.get_by_role("button", name="Publish version 1").click()
    expect(page.locator(".entries-sound")).to_contain_text("There is nothing to find")
    assert entries() == []


def test_a_second_window_overwrites_nothing_without_being_asked(cast, item, draw):
    one, other = draw(), draw()
    one.get_by_role("button", name="rectangle").click()
    drag(one, (0.1, 0.5), (0.2, 0.7))
    saved(one)
    other.get_by_label("This exhibit is sound").check()
    expect(other.locator("[data-overtaken]")).to_be_visible()
    assert [Key.objects.get().sound, len(entries())] == [False, 1]
    other.get_by_role("button", name="Take the other").click()
    expect(other.locator(".region")).to_have_count(1)
    other.get_by_label("This exhibit is sound").check()
    saved(other)
    assert Key.objects.get().sound


def test_without_a_connection_the_draft_is_kept_on_the_device_and_sent_later(draw):
    page = draw()
    page.context.set_offline(True)
    page.get_by_role("button", name="rectangle").click()
    drag(page, (0.1, 0.5), (0.2, 0.7))
    expect(page.locator("[data-trouble]")).to_contain_text("No connection. Kept on this device")
    assert entries() == []
    page.context.set_offline(False)
    saved(page)
    assert len(entries()) == 1


def test_publishing_from_an_old_window_shows_the_newer_draft_first(cast, item, draw):
    makers.make_keyed_item(item.edition, cast.educator)
    old = draw()
    start = start_draft(item=item, by=cast.educator.person)
    start.revision = 5
    start.save()
    old.get_by_label("This exhibit is sound").check()
    expect(old.locator("[data-overtaken]")).to_be_visible()


def test_the_browser_and_the_server_agree_on_what_crosses_itself(cast, open_as):
    """Shapely (from outside the project, through the server's reading) judges the same outlines.

    Corners lie on a coarse grid of eighths, which both hold exactly: many outlines touch themselves or run back.
    """
    chance = random.Random(7)
    outlines = [
        [[chance.randint(0, 6) / 8, chance.randint(0, 6) / 8] for _ in range(chance.randint(3, 7))]
        for _ in range(3000)
    ]
    page = open_as(cast.educator, f"{CLUB}/quizzes/")
    said = page.evaluate(
        "async (outlines) => { const found = await import('/static/shared/js/outlines.js');"
        " return outlines.map((each) => found.crosses(each) || found.areaOf(each) < 1e-9); }",
        outlines,
    )
    assert said == [refused(outline) for outline in outlines]
    assert 500 < sum(said) < 2500


def refused(outline: list[list[float]]) -> bool:
    try:
        return not read_outlines([outline], Canvas(1000, 1000, most=1, corners=8))
    except OutlineRefused:
        return True
