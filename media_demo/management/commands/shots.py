"""`manage.py shots`: photographs every type of page of the demo at three sizes, light and dark."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.management.base import BaseCommand, CommandError

from media_demo import serving
from media_demo.loading import read_scenario
from media_demo.pages import PAGES
from media_demo.photographs import SCHEMES, SIZES, Camera, NoBrowser, Shot
from shared.accounts.models import Club, Membership


class Command(BaseCommand):
    """Looks only; what it signs in with is removed again."""

    help = "Photograph every type of page of the demo into .shots (needs the extra “test” and Chromium)."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("only", nargs="*", help="Words that the page's role or name must contain.")
        parser.add_argument("--size", choices=tuple(SIZES), action="append", help="One size, or several.")
        parser.add_argument("--scheme", choices=SCHEMES, action="append", help="Light or dark alone.")
        parser.add_argument("--whole", action="store_true", help="The whole page, not only the screen.")
        parser.add_argument("--into", type=Path, default=settings.BASE_DIR / ".shots", help="A folder.")

    def handle(self, *args: object, **given: object) -> None:
        club = _demo_club()
        pages = [page for page in PAGES if all(word in f"{page.role} {page.name}" for word in given["only"])]
        shots = [Shot(page.role, page.name, path) for page in pages if (path := page.address(club))]
        if not shots:
            raise CommandError("No page is called so. The pages stand in media_demo/pages.py.")
        port = serving.free_port()
        with _signed_in(club) as sessions, serving.running(serving.web_server(port)) as (server,):
            if not serving.wait_until_answering(port, server):
                raise CommandError("The demo's web server did not start.")
            camera = Camera(f"http://{serving.HOST}:{port}", given["into"], sessions, given["whole"])
            try:
                made = camera.photograph(
                    shots, given["size"] or SIZES, given["scheme"] or SCHEMES, self.stdout.write
                )
            except NoBrowser as error:
                raise CommandError(str(error)) from error
        self._tell(made, given["into"], camera.troubles)

    def _tell(self, made: int, folder: Path, troubles: Sequence[str]) -> None:
        self.stdout.write(f"{made} photographs in {folder}")
        if troubles:
            raise CommandError("\n".join(["The browser complained:", *troubles]))


def _demo_club() -> Club:
    club = Club.objects.filter(slug=read_scenario("small").club["slug"]).first() if settings.DEMO else None
    if club is None:
        raise CommandError("There is no demo yet. Build it first: manage.py demo --no-server")
    return club


@contextmanager
def _signed_in(club: Club) -> Iterator[dict[str, str]]:
    """A session for the first member of each role, for as long as it is needed."""
    stores: dict[str, SessionStore] = {}
    for role in ("educator", "mentor", "secretary", "trainee"):
        people = [row.email for row in read_scenario("small").members if role in row.roles]
        person = Membership.objects.select_related("person").get(club=club, person__email=people[0]).person
        store = stores[role] = SessionStore()
        store[SESSION_KEY] = str(person.pk)
        store[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
        store[HASH_SESSION_KEY] = person.get_session_auth_hash()
        store.save()
    try:
        yield {role: str(store.session_key) for role, store in stores.items()}
    finally:
        for store in stores.values():
            store.delete()
