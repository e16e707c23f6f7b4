"""What is to be done once a day: the apps register it, `manage.py daily` does it.

An app has a module `daily`, imported by its `AppConfig.ready`:

    @every_day
    def remind_of_permissions() -> str:
        return "3 reminders sent."

A function can be run any number of times a day: what is done already it leaves alone. It says in one sentence
what it did. One that fails stops no other.
"""

from __future__ import annotations

from collections.abc import Callable

Job = Callable[[], str]
JOBS: dict[str, Job] = {}


def every_day(job: Job) -> Job:
    """Register a function to be run by `manage.py daily`."""
    JOBS[f"{job.__module__}.{job.__qualname__}"] = job
    return job
