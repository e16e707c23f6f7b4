"""The one place where the demo's times are set: what was built in a minute is spread over the past months.

Actions take the time at which they happen from the clock. Here, and only here, times are rewritten afterwards,
and nothing but times: every row keeps what an action made of it.
"""

from __future__ import annotations

import datetime as dt

from media_demo.dates.calendar import Calendar
from media_demo.dates.key_panels import date_key_panels
from media_demo.dates.members import date_members
from media_demo.dates.mentoring import date_mentoring
from media_demo.dates.reviews import date_reviews
from media_demo.dates.sittings import date_sittings
from media_demo.dates.teaching import date_reading, date_teaching
from media_demo.loading import Scenario
from media_demo.people import People


def spread_out(scenario: Scenario, people: People, now: dt.datetime) -> int:
    """Give every row of the demo a believable time; returns how many rows were given one."""
    calendar = Calendar(people, now)
    return (
        date_members(scenario, calendar)
        + date_teaching(calendar)
        + date_key_panels(calendar)
        + date_sittings(calendar)
        + date_reviews(calendar)
        + date_reading(calendar)
        + date_mentoring(scenario, calendar)
    )
