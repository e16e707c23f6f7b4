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


@register("keeping")
def pictures_have_one_way_out(app_configs: object, **kwargs: object) -> list[CheckMessage]:
    """Pictures are sent by this site, by its web server, or by object storage that signs its links."""
    if not settings.PICTURES_LINKED_FROM:
        return []
    found = []
    if settings.PICTURES_ACCEL_PREFIX:
        hint = "Set PICTURES_ACCEL_PREFIX or PICTURES_LINKED_FROM."
        found.append(Error("Pictures have two ways out.", hint=hint, id="standpoint.E002"))
    if "FileSystemStorage" in settings.STORAGES["default"]["BACKEND"]:
        hint = "Set STORAGE to object storage that signs its links, or unset PICTURES_LINKED_FROM."
        found.append(Error("Files on this disk have no signed links.", hint=hint, id="standpoint.E003"))
    if not settings.PICTURES_LINKED_FROM.startswith("https://"):
        hint = "Give the address as https://bucket.example."
        found.append(Error("PICTURES_LINKED_FROM is no secure address.", hint=hint, id="standpoint.E004"))
    return found
