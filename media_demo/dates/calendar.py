"""Days and times of day in the club's own zone, counted back from now."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass, field
from random import Random

from media_demo.people import People

DAY = dt.timedelta(days=1)
MINUTE = dt.timedelta(minutes=1)
# Days before today.
FOUNDED = 300
DRAWN, DRAWN_UNTIL = 275, 205
TAUGHT_FROM = 185
FIRST_ANSWERS = 170
PANEL_ASKED = 20
PANEL_DAYS = 9  # from the invitation to the key
# What is older has been seen by whom it was for.
NEWS_DAYS = 10
ASKED_TWICE = 4  # a second marking, a session to come
DRAFT_LEFT = 3
REVISED = 2
# Of the evening two days ago it is certain, at any hour, that a mentor has had time since.
NEWEST = 2


@dataclass
class Calendar:
    """Times of day in the club's own zone, on days counted back from today."""

    people: People
    now: dt.datetime
    chance: Random = field(default_factory=lambda: Random("calendar"))

    def day(self, before: float, hour: float = 10.0) -> dt.datetime:
        """So many days ago, at an hour of the club's day."""
        zone = zoneinfo.ZoneInfo(self.people.club.time_zone)
        local = (self.now - before * DAY).astimezone(zone)
        start = local.replace(hour=0, minute=0, second=0, microsecond=0)
        return start + dt.timedelta(hours=hour)

    def evening(self, before: float) -> dt.datetime:
        """Some time after supper."""
        return self.day(before, self.chance.uniform(18.5, 20.5))

    def not_later(self, moment: dt.datetime, minutes_ago: float) -> dt.datetime:
        """The moment, or a while before now if that is earlier."""
        return min(moment, self.now - minutes_ago * MINUTE)
