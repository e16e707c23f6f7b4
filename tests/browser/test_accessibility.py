"""Every type of page of the demo, light on a laptop and dark on a phone.

Against WCAG 2.2, levels A and AA, as far as axe-core can tell (https://www.w3.org/TR/WCAG22/); and what it cannot
tell: nothing wider than the phone (1.4.10 Reflow), titles that tell pages apart (2.4.2 Page Titled), no focus
hidden under what sticks to the foot (2.4.11 Focus Not Obscured).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page

from media_demo.pages import PAGES
from tests.browser.demo_site import DemoSite, demo_site

LOOKS = {
    "light laptop": {"viewport": {"width": 1366, "height": 768}, "color_scheme": "light"},
    "dark phone": {"viewport": {"width": 360, "height": 740}, "color_scheme": "dark", "has_touch": True},
}
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"]
# Without its loading of style sheets anew, which the content security policy refuses.
RULES = {"resultTypes": ["violations"], "preload": False, "runOnly": {"type": "tag", "values": LEVELS}}
SHAPE = """() => ({
    wide: document.documentElement.scrollWidth - window.innerWidth,
    heads: document.querySelectorAll("h1").length,
    language: document.documentElement.lang,
    sticks: [...document.querySelectorAll("main *")].some(part => {
        const style = getComputedStyle(part);
        return style.position === "sticky" && style.bottom === "0px" && style.display !== "none";
    }),
})"""
# What a focused control shows of itself beside the foot that sticks: pixels, or all of it.
HIDDEN = """() => {
    const focused = document.activeElement;
    const foot = [...document.querySelectorAll("main *")].find(part => {
        const style = getComputedStyle(part);
        return style.position === "sticky" && style.bottom === "0px" && part.offsetHeight;
    });
    if (!foot || focused === document.body || foot.contains(focused)) return null;
    const own = focused.getBoundingClientRect(), over = foot.getBoundingClientRect();
    const room = Math.min(own.height, over.top - 24);
    const under = own.top < over.bottom && own.top + room > over.top + 1;
    return under ? focused.outerHTML.slice(0, 120) : null;
}"""
# The last words of the page, once it is scrolled to its end.
COVERED = """() => {
    window.scrollTo(0, document.documentElement.scrollHeight);
    const parts = [...document.querySelectorAll("main *")];
    const foot = parts.find(part => {
        const style = getComputedStyle(part);
        return style.position === "sticky" && style.bottom === "0px" && part.offsetHeight;
    });
    if (!foot) return null;
    const over = foot.getBoundingClientRect();
    const last = parts.findLast(part => !foot.contains(part) && !part.contains(foot)
        && part.offsetHeight > 1 && part.checkVisibility());
    const own = last.getBoundingClientRect();
    return own.bottom > over.top + 1 && own.top < over.bottom - 1 ? last.outerHTML.slice(0, 120) : null;
}"""
TABS = 60  # more than any page has between its head and its foot


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[DemoSite]:
    """One demo for all workers, whose folders lie side by side."""
    root = tmp_path_factory.getbasetemp()
    with demo_site((root.parent if root.name.startswith("popen-") else root) / "demo") as served:
        yield served


def opened(browser: Browser, site: DemoSite, role: str, look: str) -> BrowserContext:
    context = browser.new_context(base_url=site.url, locale="en-GB", reduced_motion="reduce", **LOOKS[look])
    context.set_default_timeout(60_000)  # a busy computer must not fail it
    if role:
        context.add_cookies([{"name": "sessionid", "value": site.sessions[role], "url": site.url}])
    return context


def pages_of(site: DemoSite, role: str) -> list[tuple[str, str]]:
    return [(name, path) for of, name, path in site.pages if of == role]


def faults_of(page: Page, look: str) -> list[str]:
    """What is wrong with the page as it stands, one line each."""
    shape = page.evaluate(SHAPE)
    found = [
        f"{broken['id']} ({len(broken['nodes'])}): {broken['nodes'][0]['html'][:200]}"
        for broken in Axe().run(page, options=RULES).response["violations"]
    ]
    if shape["heads"] != 1:
        found.append(f"{shape['heads']} h1")
    if not shape["language"].startswith("en"):
        found.append(f"html lang is {shape['language']!r}")
    if shape["wide"] > 0:
        found.append(f"wider than the screen by {shape['wide']} px")
    if look == "dark phone" and shape["sticks"]:
        found += hidden_in(page)
    return found


def visit(page: Page, path: str, look: str) -> list[str]:
    """Open it, and tell what is wrong with it and what the browser complained of."""
    said: list[str] = []
    page.on("console", lambda told: said.append(told.text) if told.type == "error" else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    answer = page.goto(path)
    if answer is None or answer.status != 200:
        said.append(f"answered {answer and answer.status}")
    return [*said, *faults_of(page, look)]  # what the browser says of axe itself comes too late for this list


def hidden_in(page: Page) -> list[str]:
    """Controls that the foot hides when they have the focus, and the page's end if it stays covered."""
    page.evaluate("document.activeElement.blur()")
    found = []
    for key in ("Tab", "Shift+Tab"):  # upwards a control comes in at the head, downwards at the foot
        for _press in range(TABS):
            page.keyboard.press(key)
            if hidden := page.evaluate(HIDDEN):
                found.append(f"focus under the foot: {hidden}")
    if covered := page.evaluate(COVERED):
        found.append(f"the end stays under the foot: {covered}")
    return found[:3]


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("role", sorted({page.role for page in PAGES}), ids=lambda role: role or "signed out")
def test_every_page_is_open_to_everyone(browser, site, role, look):
    context = opened(browser, site, role, look)
    found, titles = [], {}
    for name, path in pages_of(site, role):
        with context.new_page() as page:
            wrong = visit(page, path, look)
            titles[page.url.partition("#")[0]] = page.title()
        found += [f"{name} ({path}): {fault}" for fault in wrong]
    twice = {title for title, count in Counter(titles.values()).items() if count > 1}
    found += [
        f"{path}: its title is another's too: {title}" for path, title in titles.items() if title in twice
    ]
    context.close()
    assert not found, "\n".join(found)


COUNTED = """
    window.waiting = 0;
    const listen = EventTarget.prototype.addEventListener;
    EventTarget.prototype.addEventListener = function (kind, ...rest) {
        if (kind === "load" && this instanceof HTMLImageElement) window.waiting += 1;
        return listen.call(this, kind, ...rest);
    };
"""


def test_a_picture_that_comes_late_is_drawn_upon_once(browser, site):
    context = opened(browser, site, "trainee", "dark phone")
    held = []
    with context.new_page() as page:
        page.add_init_script(COUNTED)
        page.route("**/pictures/**", lambda route: held.append(route))
        page.goto(dict(pages_of(site, "trainee"))["virtues marked"], wait_until="commit")
        page.wait_for_selector("#marked[data-ready]")
        assert page.evaluate("waiting") == 1
        for route in held:
            route.continue_()
        page.wait_for_load_state()
    context.close()
