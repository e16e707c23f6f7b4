"""`manage.py seed_load`: a club with very many answers, to measure the pages that count them."""

from __future__ import annotations

import time
from argparse import ArgumentParser, ArgumentTypeError

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from media_demo.load import Load
from shared.accounts.models import Club


def number(text: str) -> int:
    """A whole number from 1."""
    if not text.isdigit() or int(text) < 1:
        raise ArgumentTypeError(f"{text} is not a whole number from 1 up")
    return int(text)


class Command(BaseCommand):
    """Fills an empty site alone, so that it never stands on anyone's own."""

    help = "Fill an empty site with simulated answers. Give it a folder of its own: STANDPOINT_DATA=a-new-folder."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--trainees", type=number, default=500)
        parser.add_argument("--items", type=number, default=300)
        parser.add_argument("--answers", type=number, default=200_000)

    def handle(self, *args: object, **given: object) -> None:
        if settings.PRODUCTION:
            raise CommandError(
                "This is a production site. Use a folder of its own on a computer of your own."
            )
        call_command("migrate", verbosity=0)
        if Club.objects.exists():
            raise CommandError(
                f"{settings.DATA_DIR} holds a club already. Set STANDPOINT_DATA to a new folder."
            )
        begun = time.monotonic()

        def tell(words: str) -> None:
            self.stdout.write(f"{time.monotonic() - begun:7.1f} s  {words}")

        Load(int(given["trainees"]), int(given["items"]), int(given["answers"]), tell).make()
        tell(f"ready in {settings.DATA_DIR}")
