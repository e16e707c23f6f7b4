"""What an owner's word allows, in words that pages and actions share."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Protocol

from django.db import models
from django.utils.translation import gettext_lazy as _

# An educator hears of a permission's end so many days before.
ENDS_SOON_DAYS = 14


class Use(StrEnum):
    """What a picture may be used for; the names are those of the permission's fields."""

    TEACHING = "teaching"
    EXAMINATION = "examination"
    PRINT = "print"
    PUBLIC = "public"


class PermissionState(models.TextChoices):
    """Whether a picture may be used; computed on each request, never stored."""

    NOT_NEEDED = "not needed", _("drawn, needs no permission")
    HOLDS = "holds", _("permission given")
    NOT_YET = "not yet", _("permission has not begun")
    OTHER_USE = "other use", _("permission is for another use")
    ENDED = "ended", _("permission has ended")
    WITHDRAWN = "withdrawn", _("permission withdrawn")
    NONE = "none", _("no permission")


ALLOWING = frozenset({PermissionState.NOT_NEEDED, PermissionState.HOLDS})

# Of several permissions that do not hold, the one nearest to holding is told.
_NEAREST_FIRST = (
    PermissionState.HOLDS,
    PermissionState.NOT_YET,
    PermissionState.OTHER_USE,
    PermissionState.ENDED,
    PermissionState.WITHDRAWN,
)


class OwnersWord(Protocol):
    """What the rule reads of a permission; `ends_on` is the first day without the picture."""

    starts_on: date
    ends_on: date | None
    withdrawn_at: object | None


def state_of(word: OwnersWord, use: Use, on: date) -> PermissionState:
    """Whether one permission allows the use on the day."""
    if word.withdrawn_at is not None:
        return PermissionState.WITHDRAWN
    if word.ends_on is not None and word.ends_on <= on:
        return PermissionState.ENDED
    if not getattr(word, use.value):
        return PermissionState.OTHER_USE
    return PermissionState.NOT_YET if word.starts_on > on else PermissionState.HOLDS


def nearest(states: set[PermissionState]) -> PermissionState:
    """What a set of permissions amounts to."""
    return next((state for state in _NEAREST_FIRST if state in states), PermissionState.NONE)
