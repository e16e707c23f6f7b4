"""Misconfigurations that a start can find, each with an id and a hint."""

from __future__ import annotations

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, Warning, register


@register(Tags.security, deploy=True)
def mail_leaves_the_house(app_configs: object, **kwargs: object) -> list[CheckMessage]:
    """Password resets and invitations need a mail server that is not the console."""
    if "console" not in settings.EMAIL_BACKEND:
        return []
    return [
        Warning("Mail goes to the console.", hint="Set EMAIL_URL to the club's server.", id="standpoint.W001")
    ]


@register("keeping")
def database_keeps_what_it_acknowledged(app_configs: object, **kwargs: object) -> list[CheckMessage]:
    """SQLite must wait for the disk."""
    database = settings.DATABASES["default"]
    if not database["ENGINE"].endswith("sqlite3"):
        return []
    if "synchronous=FULL" in database.get("OPTIONS", {}).get("init_command", ""):
        return []
    return [
        Error("SQLite may lose acknowledged answers.", hint="Keep synchronous=FULL.", id="standpoint.E001")
    ]
