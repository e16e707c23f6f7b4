"""Photographs of the demo's pages in Chromium, with whatever the browser complained of."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext

SIZES = {"phone": (360, 740), "laptop": (1366, 768), "projector": (1920, 1080)}
SCHEMES = ("light", "dark")
CHROMIUM = ("chromium", "chromium-browser", "google-chrome")


class NoBrowser(Exception):
    """What to install, in words."""


@dataclass(frozen=True)
class Shot:
    """A page to photograph: whose, what it is called, where."""

    role: str
    name: str
    path: str


@dataclass
class Camera:
    """Photographs into `folder`; `sessions` are the signed-in sessions by role."""

    site: str
    folder: Path
    sessions: Mapping[str, str]
    whole: bool = False
    troubles: list[str] = field(default_factory=list)

    def photograph(
        self,
        shots: list[Shot],
        sizes: Iterable[str],
        schemes: Iterable[str],
        say: Callable[[str], None],
    ) -> int:
        """Every shot at every size in every scheme; how many pictures were made."""
        made = 0
        with _browser() as browser:
            for size in sizes:
                for scheme in schemes:
                    for role, group in groupby(shots, key=lambda shot: shot.role):
                        made += self._visit(browser, role, list(group), size, scheme)
                    say(f"  {size}, {scheme}: {len(shots)} pages")
        return made

    def _visit(self, browser: Browser, role: str, shots: list[Shot], size: str, scheme: str) -> int:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if scheme == "dark" else "light",
            has_touch=size == "phone",
            locale="en-GB",
        )
        if role in self.sessions:
            context.add_cookies([{"name": "sessionid", "value": self.sessions[role], "url": self.site}])
        folder = self.folder / f"{size}-{scheme}"
        folder.mkdir(parents=True, exist_ok=True)
        for shot in shots:
            self._take(context, shot, folder / f"{file_name(shot)}.png", f"{size}, {scheme}")
        context.close()
        return len(shots)

    def _take(self, context: BrowserContext, shot: Shot, path: Path, where: str) -> None:
        page = context.new_page()
        words = f"{shot.role or 'signed out'}, {shot.name} ({where})"
        page.on("pageerror", lambda error: self.troubles.append(f"{words}: {error}"))
        page.on("console", lambda said: self._note(words, said.type, said.text))
        answer = page.goto(self.site + shot.path, wait_until="networkidle")
        if answer is None or answer.status != 200:
            self.troubles.append(f"{words}: answered {answer and answer.status}")
        if page.evaluate("document.documentElement.scrollWidth > window.innerWidth"):
            self.troubles.append(f"{words}: wider than the screen")
        page.screenshot(path=path, full_page=self.whole)
        page.close()

    def _note(self, words: str, kind: str, text: str) -> None:
        if kind == "error":
            self.troubles.append(f"{words}: {text}")


def file_name(shot: Shot) -> str:
    """Such as "trainee-answer-marked"."""
    words = f"{shot.role or 'signed out'} {shot.name}"
    return "-".join("".join(letter if letter.isalnum() else " " for letter in words).split())


@contextmanager
def _browser() -> Iterator[Browser]:
    try:
        from playwright.sync_api import sync_playwright
    except ImportError as error:
        raise NoBrowser("Playwright is missing: pip install -e '.[test]'") from error
    root = getattr(os, "geteuid", lambda: 1)() == 0
    args = ["--disable-background-networking", *(["--no-sandbox"] if root else [])]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=_chromium(), args=args)
        try:
            yield browser
        finally:
            browser.close()


def _chromium() -> str:
    found = next(filter(None, map(shutil.which, CHROMIUM)), None)
    if not found:
        raise NoBrowser("Chromium was not found: install your distribution's package 'chromium'.")
    return found
