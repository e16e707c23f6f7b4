"""How a trainee stands by the mentoring sessions that were held, as the club counts them.

Sessions with one or two trainees count each; of those in a group one counts, the newest. Of the counted ones
the newest so many as the club asks for say how many ended *ready*; all counted ones say over how many months
they are spread.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Held:
    """One session as it went for one trainee."""

    on: datetime.date
    group: bool
    ready: bool


@dataclass(frozen=True)
class Asked:
    """What the club asks for: so many sessions, so many of them ready, over so many months."""

    sessions: int
    ready: int
    months: int


@dataclass(frozen=True)
class Standing:
    """`held` in all, `counted` of them, `ready` among the newest asked for, `months` whole months spread over."""

    asked: Asked
    held: int
    counted: int
    ready: int
    months: int

    @property
    def enough(self) -> bool:
        """Whether everything that the club asks for is there."""
        return (
            self.counted >= self.asked.sessions
            and self.ready >= self.asked.ready
            and self.months >= self.asked.months
        )


def standing(sessions: Iterable[Held], asked: Asked) -> Standing:
    """Count the sessions held with one trainee."""
    held = sorted(sessions, key=lambda each: each.on)
    newest_group = max((place for place, each in enumerate(held) if each.group), default=None)
    counted = [each for place, each in enumerate(held) if not each.group or place == newest_group]
    last = counted[-asked.sessions :]
    months = whole_months(counted[0].on, counted[-1].on) if counted else 0
    return Standing(asked, len(held), len(counted), sum(each.ready for each in last), months)


def whole_months(first: datetime.date, last: datetime.date) -> int:
    """Whole months from one day to a later one: 15 January to 14 March is one."""
    months = 12 * (last.year - first.year) + last.month - first.month
    return months - 1 if last.day < first.day else months
