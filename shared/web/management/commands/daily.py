"""`manage.py daily`: what is to be done once a day, from the system's timer."""

from __future__ import annotations

import logging

from django.core.management.base import BaseCommand, CommandError

from shared.web.daily import JOBS

logger = logging.getLogger(__name__)


class Command(BaseCommand):
    help = "Do what is to be done once a day: reminders. Run again, it does nothing twice."

    def handle(self, *args: object, **options: object) -> None:
        failed = []
        for name, job in JOBS.items():
            try:
                self.stdout.write(job())
            except Exception:
                logger.exception("%s failed.", name)
                failed.append(name)
        if failed:
            raise CommandError(f"Failed: {', '.join(failed)}. The rest is done; run it again.")
