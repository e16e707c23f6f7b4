"""An edition of 300 clauses, opened and edited through the site.

Run with `DJANGO_SETTINGS_MODULE=tests.settings python -m tests.load.bench_standard`. Prints the median and the
slowest processor time, the queries and the bytes of the editor's page, of one clause saved in place, one moved, one
confirmed, one undone, and of the page that members read. Asserts that each answer holds what it should.
"""

# ruff: noqa: E402

from __future__ import annotations

import statistics
from collections.abc import Callable
from time import process_time

import django

django.setup()

from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.runner import DiscoverRunner
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from courses.actions.edition_steps import undo_step
from courses.forms.clause import seen_of
from courses.models import Clause, Edition
from courses.queries import severity
from courses.templatetags import standard as voice
from shared.accounts.models import Club
from tests.makers import make_draft, make_fault, make_member

SECTIONS, CLAUSES, TURNS = 15, 20, 15
HTMX = {"HX-Request": "true"}
WORDINGS = [
    "The blade {n} slopes well back and meets the arm a little wider than square; a steep one is a serious fault.",
    "Withers {n} stand clear of the back, which is level and firm to the loin, never slack and never roached.",
    "A tail {n} carried above the line of the back is undesirable, and must be lightly penalised in the young.",
]


def main() -> None:
    runner = DiscoverRunner(verbosity=0)
    runner.setup_test_environment()
    databases = runner.setup_databases()
    try:
        measure()
    finally:
        runner.teardown_databases(databases)


def measure() -> None:
    club = Club.objects.create(name="Skerry Drover Club", slug="drover")
    educator = make_member(club, "Ishbel Rendall", educator=True)
    client = Client()
    client.force_login(educator.person, "django.contrib.auth.backends.ModelBackend")
    edition = long_edition(club)
    clause = edition.clauses.get(number="8.10")
    print(f"{edition.clauses.count()} clauses, {TURNS} turns")

    def address(name: str, thing: Clause | Edition) -> str:
        return reverse(name, args=[club.slug, thing.pk])

    def save() -> HttpResponse:
        clause.refresh_from_db()
        sent = {
            "number": clause.number,
            "text": clause.text + " So.",
            "zone": "body",
            "seen": seen_of(clause),
        }
        return client.post(address("clause-edit", clause), sent, headers=HTMX)

    def undo() -> HttpResponse:
        return client.post(address("edition-undo", edition), {"step": edition.steps.first().pk}, headers=HTMX)

    # As after a restart: nothing that has been set or read before is kept in mind.
    severity._suggestion.cache_clear()
    voice._html.cache_clear()
    told("the editor's page, first time", lambda: client.get(address("edition", edition)), 1, "8.10", "15.20")
    told("the editor's page", lambda: client.get(address("edition", edition)), TURNS, "8.10", "15.20")
    told("a clause saved in place", save, TURNS, "So.")
    told("a clause's form", lambda: client.get(address("clause-edit", clause), headers=HTMX), TURNS, "So.")
    told(
        "a clause moved up", lambda: client.post(address("clause-up", clause), headers=HTMX), 5, "Undo moving"
    )
    told(
        "a severity confirmed",
        lambda: client.post(address("clause-confirm", clause), {"severity": "2"}, headers=HTMX),
        TURNS,
        "Serious",
    )
    told("a change undone", undo, TURNS, "Saved at")
    while step := edition.steps.first():
        undo_step(edition=edition, step=step.pk)
    Edition.objects.filter(pk=edition.pk).update(state=Edition.State.RELEASED)
    told(
        "the page that members read",
        lambda: client.get(reverse("study-standard", args=[club.slug])),
        5,
        "c-15.20",
    )


def long_edition(club: Club) -> Edition:
    """A draft of 15 sections with 20 clauses each, a fault for every fifth clause."""
    parts = {
        f"{s} Part {s}": [WORDINGS[(s + n) % 3].format(n=s * 100 + n) for n in range(CLAUSES)]
        for s in range(1, SECTIONS + 1)
    }
    edition = make_draft(club, parts)
    for n, clause in enumerate(list(edition.clauses.all())):
        if n % 5 == 0:
            make_fault(edition, f"Fault {n}", clause.number)
    return edition


def told(what: str, ask: Callable[[], HttpResponse], turns: int, *held: str) -> None:
    """Ask so often, see that the answer holds what it should, and print what it took."""
    times = []
    for _turn in range(turns):
        with CaptureQueriesContext(connection) as queries:
            began = process_time()
            response = ask()
            times.append((process_time() - began) * 1000)
    page = response.content.decode()
    assert response.status_code == 200, (what, response.status_code)
    assert all(piece in page for piece in held), what
    print(
        f"{what:32} median {statistics.median(times):6.0f} ms, slowest {max(times):6.0f} ms, "
        f"{len(queries):3} queries, {len(response.content) / 1024:6.1f} KiB"
    )


if __name__ == "__main__":
    main()
