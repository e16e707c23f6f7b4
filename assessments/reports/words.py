"""What every report says: its cautions, how its pages are numbered, its dates written out."""

from __future__ import annotations

import datetime

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _


def on_day(when: datetime.datetime | datetime.date | None) -> str:
    """ "3 November 2026", in the time zone in force; nothing for None."""
    if when is None:
        return ""
    return date_format(timezone.localtime(when) if isinstance(when, datetime.datetime) else when, "j F Y")


def at_time(when: datetime.datetime) -> str:
    """ "3 November 2026, 14:05", in the time zone in force."""
    return date_format(timezone.localtime(when), "j F Y, H:i")


def page_words() -> str:
    """How a page is numbered."""
    return _("{n} of {of}")


def cautions() -> list[str]:
    """What no result may be taken for."""
    return [
        _(
            "A result here approves nobody: who may judge is for the club’s own kennel club or registry to decide."
        ),
        _(
            "A photograph is evidence, not a measurement of the dog. A concern about a dog’s health belongs to a "
            "veterinary surgeon."
        ),
    ]
