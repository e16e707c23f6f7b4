"""Placing anatomical points by mouse, by touch and by keyboard alone, each for oneself."""

from __future__ import annotations

import json
import re

import numpy as np
import pytest
from playwright.sync_api import Page, expect

from courses.measures.alignment import align
from courses.models import Placement
from tests import makers
from tests.courses.measures.dogs import IDEAL, placed

# Within a picture of 300 by 200.
DOG = {name: (x, y - 0.06) for name, (x, y) in placed(IDEAL, height=0.36).items()}
HERE = "/clubs/skerry-drover/exhibits/1/points/"
FIRST = ["Withers", "Ground in front", "Ground behind"]


@pytest.fixture
def exhibit(cast, transactional_db):
    return makers.make_published(cast.club, cast.educator)


@pytest.fixture
def place(cast, exhibit, open_as):
    """Opens the page as the educator, or as whoever is named."""

    def opened(who: str = "educator", **options) -> Page:
        page = open_as(getattr(cast, who), HERE, **options)
        expect(page.locator("#placing[data-ready]")).to_be_attached()
        return page

    return opened


def on_screen(page: Page, name: str) -> tuple[float, float]:
    """Where a point of the dog lies on the screen now, zoomed or not."""
    left, top, width, scale, dx, dy = page.evaluate(
        """() => {
          const edge = document.querySelector(".stage").getBoundingClientRect();
          const stage = document.querySelector(".stage");
          const now = new DOMMatrix(getComputedStyle(document.querySelector(".stage-picture")).transform);
          return [edge.left + stage.clientLeft, edge.top + stage.clientTop, stage.clientWidth, now.a, now.e, now.f];
        }"""
    )
    x, y = DOG[name]
    return left + x * width * scale + dx, top + y * width * scale + dy


def listed(page: Page, label: str):
    """A point's line in the list of all."""
    return page.locator("[data-all] button").filter(has_text=label).first


def click(page: Page, name: str) -> None:
    page.mouse.click(*on_screen(page, name))


def scale(page: Page) -> float:
    return page.evaluate(
        "new DOMMatrix(getComputedStyle(document.querySelector('.stage-picture')).transform).a"
    )


def asked(page: Page, label: str) -> None:
    expect(page.locator("[data-label]")).to_have_text(label)


def saved(page: Page) -> dict:
    expect(page.locator("[data-state]")).to_contain_text(re.compile(r"Saved at \d\d:\d\d"))
    page.wait_for_timeout(700)  # the pause before a save, so that the last one is in
    return Placement.objects.get(placed_by__name="Ishbel Rendall").points


def test_the_mouse_places_point_after_point_and_the_view_follows(place):
    page = place()
    for name, label in zip(("withers", "ground_front", "ground_rear"), FIRST, strict=True):
        asked(page, label)
        click(page, name)
    asked(page, "Nose")
    assert scale(page) == pytest.approx(3)
    click(page, "nose")
    asked(page, "Stop")
    points = saved(page)
    assert set(points) == {"withers", "ground_front", "ground_rear", "nose"}
    for name, at in points.items():
        assert at == pytest.approx(DOG[name], abs=0.003)
    # The next is in sight, and not in the very middle, which would say where it is.
    x, y = on_screen(page, "stop")
    box = page.locator(".stage").bounding_box()
    assert box["x"] < x < box["x"] + box["width"]
    assert box["y"] < y < box["y"] + box["height"]


def test_not_visible_skip_and_undo(place):
    page = place()
    click(page, "withers")
    page.get_by_role("button", name="Not visible").click()
    asked(page, "Ground behind")
    page.get_by_role("button", name="Skip").click()
    asked(page, "Nose")
    expect(page.locator("[data-count]:visible")).to_have_text("1 placed, 1 not visible, 22 left")
    assert saved(page)["ground_front"] is None
    page.get_by_role("button", name="Undo: Ground in front").click()
    asked(page, "Ground in front")
    assert "ground_front" not in saved(page)
    page.get_by_role("button", name="Undo: Withers").click()
    page.wait_for_timeout(700)
    assert saved(page) == {}


def test_the_keyboard_alone_places_and_nudges(place):
    page = place()
    page.get_by_label("Look closely").uncheck()
    page.locator(".stage").focus()
    for _ in range(5):
        page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    asked(page, "Ground in front")
    # A picture of 300 by 200 begins in its middle; a step is 0.004, with Shift five of them.
    assert saved(page)["withers"] == pytest.approx([0.5 - 5 * 0.02, 0.33333 - 0.004], abs=1e-3)
    listed(page, "Withers").focus()
    page.keyboard.press("Enter")
    before = saved(page)["withers"]
    page.get_by_role("button", name="to the right").focus()
    for _ in range(3):
        page.keyboard.press("Enter")
    expect(page.locator("[data-announce]")).to_have_text("Withers moved.")
    assert saved(page)["withers"] == pytest.approx([before[0] + 3 * 0.0006, before[1]], abs=1e-6)


def test_touch_places_and_drags_a_point_that_stays_clear_of_the_finger(place):
    page = place(phone=True)
    page.touchscreen.tap(*on_screen(page, "withers"))
    asked(page, "Ground in front")
    listed(page, "Withers").tap()
    x, y = on_screen(page, "withers")
    # Taken hold of beside the spot, it keeps its distance.
    page.mouse.move(x + 12, y + 8)
    page.mouse.down()
    page.mouse.move(x + 42, y - 12, steps=4)
    page.mouse.up()
    wide = page.locator(".stage").evaluate("each => each.clientWidth") * scale(page)
    assert saved(page)["withers"] == pytest.approx(
        [DOG["withers"][0] + 30 / wide, DOG["withers"][1] - 20 / wide], abs=0.004
    )


def test_finishing_shows_the_others_and_only_then(cast, place, exhibit):
    makers.make_placement(exhibit, cast.mentor, DOG)
    page = place()
    expect(page.get_by_text("Magnus Flett")).to_have_count(0)
    for name in ("withers", "ground_front"):
        click(page, name)
    page.get_by_role("button", name="These are my points").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("How far the points are apart")
    expect(page.get_by_text("Magnus Flett").first).to_be_visible()
    expect(page.locator(".spread-cross")).to_have_count(4)
    page.get_by_role("link", name="See the measures").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Measures")


def test_one_point_is_not_enough_to_finish(place):
    page = place()
    click(page, "withers")
    page.get_by_role("button", name="These are my points").click()
    expect(page.locator("[data-announce]")).to_have_text("Place two points at least.")
    assert not Placement.objects.exclude(finished_at=None).exists()


def test_what_was_placed_without_a_connection_is_sent_when_it_returns(place):
    page = place()
    page.context.set_offline(True)
    click(page, "withers")
    expect(page.locator("[data-trouble]")).to_contain_text("No connection. Kept on this device since")
    page.context.set_offline(False)
    assert saved(page)["withers"] == pytest.approx(DOG["withers"], abs=0.003)


def test_two_windows_never_overwrite_one_another_silently(place):
    first = place()
    second = first.context.new_page()
    second.goto(first.url)
    expect(second.locator("#placing[data-ready]")).to_be_attached()
    click(first, "withers")
    assert saved(first)
    click(second, "elbow")
    expect(second.get_by_role("alert")).to_contain_text("changed in another window")
    second.get_by_role("button", name="Take the other").click()
    expect(second.locator("[data-count]:visible")).to_have_text("1 placed, 0 not visible, 23 left")
    assert saved(first)["withers"] == pytest.approx(DOG["withers"], abs=0.003)


@pytest.mark.parametrize("mirrored", [False, True])
def test_where_the_next_point_is_expected_agrees_with_the_alignment_of_the_server(place, mirrored):
    page = place()
    source = placed(IDEAL)
    target = placed(IDEAL | {"elbow": (0.02, 0.5)}, height=0.3, roll=7, mirrored=mirrored)
    names = ["withers", "ground_front", "ground_rear", "elbow", "nose"]
    script = page.locator("script[src*=points]").get_attribute("src")
    found = page.evaluate(
        """async ([script, source, target, spot]) => {
          const { fit } = await import(script);
          return fit(source, target)(spot);
        }""",
        [
            script.replace("courses/points.js", "shared/js/fit.js"),
            [source[name] for name in names],
            [target[name] for name in names],
            source["stifle"],
        ],
    )
    matrix = align({name: source[name] for name in names}, target).matrix
    assert found == pytest.approx((matrix @ np.array([*source["stifle"], 1]))[:2], abs=1e-9)


def test_the_page_says_where_each_point_is_to_be_found(place):
    page = place()
    ask = json.loads(page.locator("#ask").text_content())
    for point in ask["points"][:4]:
        listed(page, point["label"]).click()
        expect(page.locator("[data-where]")).to_have_text(point["where"])
        ring = page.locator(".guide-ring")
        assert float(ring.get_attribute("cx")) == pytest.approx(1000 * ask["ideal"][point["name"]][0])
