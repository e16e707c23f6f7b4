"""Real Chromium against the running site.

STANDPOINT_BROWSER=skip leaves these tests out, =require fails where there is no browser. With neither they
run if Chromium is found, and say what to install if it is not.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator

import pytest
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from playwright.sync_api import Browser, BrowserContext, Page, expect

from shared.accounts.models import Membership

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
WANTED = os.environ.get("STANDPOINT_BROWSER", "")
ADVICE = "Chromium was not found: install your distribution's package 'chromium' to run the browser tests."
PHONE = {"width": 360, "height": 740}
LAPTOP = {"width": 1366, "height": 768}

# The browser's driver runs an event loop in the thread of the tests, where Django then suspects async code.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
expect.set_options(timeout=10_000)
pytest.register_assert_rewrite("tests.browser.main_path")  # its steps say what they saw, as tests do


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark everything here, and skip it where there is no browser."""
    reason = "STANDPOINT_BROWSER=skip" if WANTED == "skip" else None if CHROMIUM else ADVICE
    if reason == ADVICE and (WANTED == "require" or os.environ.get("CI")):
        raise pytest.UsageError(ADVICE)
    for item in items:
        if "browser" in item.path.parts:
            item.add_marker(pytest.mark.browser)
            if reason:
                item.add_marker(pytest.mark.skip(reason=reason))


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict) -> dict:
    """The distribution's Chromium; without its sandbox where the tests run as root."""
    args = ["--disable-background-networking", "--disable-component-update", "--disable-sync"]
    return browser_type_launch_args | {
        "executable_path": CHROMIUM,
        "args": args + (["--no-sandbox"] if getattr(os, "geteuid", lambda: 1)() == 0 else []),
    }


@pytest.fixture
def open_as(browser: Browser, live_server: object) -> Iterator[Callable[..., Page]]:
    """`open_as(membership, "/clubs/…/", phone=True)`: a page in which the member is signed in.

    Errors of scripts, refusals of the content security policy and answers of 500 fail the test at its end.
    """
    contexts: list[BrowserContext] = []
    troubles: list[str] = []

    def open_page(
        member: Membership | None, address: str = "/", *, phone: bool = False, **options: object
    ) -> Page:
        context = browser.new_context(
            base_url=live_server.url, viewport=PHONE if phone else LAPTOP, has_touch=phone, **options
        )
        context.set_default_timeout(20_000)
        contexts.append(context)
        if member is not None:
            context.add_cookies([{"name": "sessionid", "value": session_of(member), "url": live_server.url}])
        page = context.new_page()
        page.on("pageerror", lambda error: troubles.append(f"script: {error}"))
        page.on(
            "console", lambda said: troubles.append(said.text) if "Content Security" in said.text else None
        )
        page.on(
            "response", lambda got: troubles.append(f"{got.status} {got.url}") if got.status >= 500 else None
        )
        page.goto(address)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert not troubles


def session_of(member: Membership) -> str:
    """The key of a fresh session."""
    session = SessionStore()
    session[SESSION_KEY] = str(member.person.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = member.person.get_session_auth_hash()
    session.save()
    return session.session_key
