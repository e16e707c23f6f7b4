"""Make a club, and the link that makes its first secretary a member."""

from __future__ import annotations

from argparse import ArgumentParser

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.core.validators import validate_email
from django.urls import reverse
from django.utils.text import slugify

from shared.accounts.actions.clubs import found_club
from shared.web import limits


class Command(BaseCommand):
    """manage.py create_club "Skerry Drover Club" secretary@club.example"""

    help = "Make a club and print the invitation link for its first secretary."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="The club's name.")
        parser.add_argument("email", help="The secretary's email address.")
        parser.add_argument("--address", default="", help="The club's part of the web address.")
        parser.add_argument("--time-zone", default=settings.TIME_ZONE, help="Such as Europe/London.")
        parser.add_argument(
            "--site", default="", help="Where this site is, such as https://learn.club.example."
        )

    def handle(self, *args: object, **given: str) -> None:
        slug = given["address"] or slugify(given["name"])
        try:
            validate_email(given["email"])
            club, _invitation, token = found_club(
                name=given["name"], slug=slug, time_zone=given["time_zone"], secretary_email=given["email"]
            )
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        link = (given["site"] or _site()).rstrip("/") + reverse("invitation", args=[token])
        self.stdout.write(f"{club.name} is at /clubs/{club.slug}/.")
        self.stdout.write(f"Give this link to {given['email']}. It makes one person its secretary, once,")
        self.stdout.write(f"within {limits.INVITATION_DAYS} days, and is not shown again:")
        self.stdout.write(link)


def _site() -> str:
    if settings.PRODUCTION:
        return f"https://{settings.ALLOWED_HOSTS[0]}"
    return "http://127.0.0.1:8000"
