"""The smaller demo as a site of its own: built once for all workers of a test run, served as readers are served.

In a process with the demo's settings this module prints what pages there are, and a session for each role.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from media_demo import serving

PATIENCE = 300  # seconds for another worker to build it
ASIDE = ("DATABASE_URL", "EMAIL_URL", "STORAGE", "PRODUCTION")


@dataclass(frozen=True)
class DemoSite:
    """`pages` holds role, name and path of each; `sessions` the key of a session by role."""

    url: str
    pages: list[tuple[str, str, str]]
    sessions: dict[str, str]


@contextmanager
def demo_site(folder: Path) -> Iterator[DemoSite]:
    """Build it in this folder unless that was done, and serve it."""
    environment = {name: value for name, value in os.environ.items() if name not in ASIDE} | {
        "STANDPOINT_DATA": str(folder),
        "STANDPOINT_DEMO": "1",
        "DJANGO_SETTINGS_MODULE": "shared.settings",
    }
    found = _built(folder, environment)
    port = serving.free_port()
    # A browser opens connections that it may never use, and each of them holds a thread.
    *server_words, application = serving.web_server(port)
    command = [*server_words, "--threads=24", application]
    with (
        patch.dict(os.environ, environment, clear=True),
        serving.running(command) as (server,),
    ):
        assert serving.wait_until_answering(port, server), "the demo's web server did not start"
        yield DemoSite(
            f"http://{serving.HOST}:{port}", [tuple(page) for page in found["pages"]], found["sessions"]
        )


def _built(folder: Path, environment: dict[str, str]) -> dict:
    """What it printed, by the first worker that comes here; the others wait for it."""
    told = folder / "pages.json"
    try:
        folder.mkdir()
    except FileExistsError:
        until = time.monotonic() + PATIENCE
        while not told.exists() and time.monotonic() < until:
            time.sleep(0.2)
        return json.loads(told.read_text())
    _run(environment, "manage.py", "demo", "--no-server", "--scale", "small")
    printed = _run(environment, "-m", "tests.browser.demo_site")
    (folder / "pages.new").write_text(printed)
    (folder / "pages.new").rename(told)
    return json.loads(printed)


def _run(environment: dict[str, str], *words: str) -> str:
    done = subprocess.run(
        [sys.executable, *words],
        cwd=serving.ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def _tell() -> None:
    import django

    django.setup()
    from django.conf import settings
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    from media_demo.loading import read_scenario
    from media_demo.pages import PAGES
    from shared.accounts.models import Club, Person

    scenario = read_scenario("small")
    club = Club.objects.get(slug=scenario.club["slug"])
    sessions = {}
    for role in {page.role for page in PAGES} - {""}:
        email = next(member.email for member in scenario.members if role in member.roles)
        person = Person.objects.get(email=email)
        store = SessionStore()
        store[SESSION_KEY] = str(person.pk)
        store[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
        store[HASH_SESSION_KEY] = person.get_session_auth_hash()
        store.save()
        sessions[role] = store.session_key
    pages = [(page.role, page.name, path) for page in PAGES if (path := page.address(club))]
    sys.stdout.write(json.dumps({"pages": pages, "sessions": sessions}))


if __name__ == "__main__":
    _tell()
