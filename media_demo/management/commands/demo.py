"""`manage.py demo`: a believable club, ready to be looked at."""

from __future__ import annotations

import os
import shutil
import time
from argparse import ArgumentParser
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection, transaction
from django.utils import timezone

from media_demo import serving
from media_demo.build import build
from media_demo.loading import read_scenario
from media_demo.signins import SignIn, new_signins, read_signins, write_signins

SIGNINS = "sign-ins.json"


class Command(BaseCommand):
    """Builds the club once, prints who can sign in, and serves it on this computer until Ctrl-C."""

    help = "Build and serve a believable club: an invented breed, its standard, course, quizzes and people."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--port", type=int, default=8000, help="Where it listens; 8000 unless given.")
        parser.add_argument("--fresh", action="store_true", help="Throw the demo away and build it anew.")
        parser.add_argument("--no-server", action="store_true", help="Build only.")
        parser.add_argument("--scale", choices=("full", "small"), default="full", help="How much to build.")

    def handle(self, *args: object, **given: object) -> None:
        folder = _own_folder()
        if not given["no_server"]:
            _check_port(int(given["port"]))
        signins = None if given["fresh"] else read_signins(folder / SIGNINS)
        if signins is None:
            try:
                signins = self._build(folder, str(given["scale"]))
            except KeyboardInterrupt:
                raise CommandError("Stopped before it was ready. The next run builds it anew.") from None
        else:
            self.stdout.write(f"The demo in {folder} is kept as it is. To start over: manage.py demo --fresh")
            call_command("migrate", verbosity=0)
        self._tell(signins, None if given["no_server"] else int(given["port"]))
        if not given["no_server"]:
            self._serve(int(given["port"]))

    def _build(self, folder: Path, scale: str) -> list[SignIn]:
        begun = time.monotonic()
        scenario = read_scenario(scale)
        signins = new_signins(scenario.members)
        self.stdout.write(f"Building the demo in {folder}")
        _clear(folder)
        write_signins(folder / SIGNINS, signins, built=False)
        call_command("migrate", verbosity=0)
        with transaction.atomic():
            build(
                scenario,
                passwords={signin.email: signin.password for signin in signins},
                now=timezone.now(),
                processes=max(2, os.cpu_count() or 1) if scale == "full" else 0,
                say=self._say,
            )
        write_signins(folder / SIGNINS, signins, built=True)
        self._say(f"  ready in {time.monotonic() - begun:.0f} s")
        return signins

    def _tell(self, signins: list[SignIn], port: int | None) -> None:
        columns = zip(*((s.roles, s.name, s.email) for s in signins), strict=True)
        roles, names, emails = (max(map(len, column)) for column in columns)
        self.stdout.write("")
        if port is not None:
            self.stdout.write(f"  http://{serving.HOST}:{port}/\n\n")
        for signin in signins:
            self.stdout.write(
                f"  {signin.roles:{roles}}  {signin.name:{names}}  {signin.email:{emails}}  {signin.password}"
            )
        self.stdout.write("")

    def _serve(self, port: int) -> None:
        with serving.running(serving.web_server(port), serving.worker()) as processes:
            if serving.wait_until_answering(port, processes[0]):
                self._say("Ctrl-C stops it.")
            code = serving.wait_for_one_to_end(processes)
        if code is not None:
            raise CommandError(f"A process of the demo ended by itself (code {code}); all are stopped.")
        self._say("Stopped. What was done is kept.")

    def _say(self, line: str) -> None:
        self.stdout.write(line)
        self.stdout.flush()


def _own_folder() -> Path:
    """The demo's folder. Nothing else's database is ever built into or thrown away."""
    folder, database = Path(settings.DATA_DIR), settings.DATABASES["default"]
    own = settings.DEMO and not settings.PRODUCTION and folder.name == "demo"
    if not own or Path(database["NAME"]) != folder / "standpoint.sqlite3":
        raise CommandError(
            "The demo works on its own database only. Start it as “manage.py demo”, without DATABASE_URL, "
            "DJANGO_SETTINGS_MODULE or settings of production."
        )
    if (folder / "standpoint.sqlite3").exists() and not (folder / SIGNINS).exists():
        raise CommandError(
            f"{folder} holds a database that the demo did not make. Move it away, or set STANDPOINT_DATA "
            "to another folder."
        )
    return folder


def _clear(folder: Path) -> None:
    connection.close()
    for name in ("standpoint.sqlite3", "standpoint.sqlite3-wal", "standpoint.sqlite3-shm"):
        (folder / name).unlink(missing_ok=True)
    shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)


def _check_port(port: int) -> None:
    try:
        serving.check_free(port)
    except serving.Taken as taken:
        raise CommandError(
            f"Port {taken} is in use, perhaps by a demo that is running already. Stop that one, or choose "
            f"another port: manage.py demo --port {port + 1}"
        ) from taken
