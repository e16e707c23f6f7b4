"""When trainees sat, saved and handed in."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from random import Random

from assessments.actions.results import date_results
from assessments.models import Answer, Key, Mark, SavedStep, Sitting
from media_demo.dates.calendar import FIRST_ANSWERS, MINUTE, NEWEST, Calendar
from media_demo.dates.rows import set_times, write_times

FIRST = dt.datetime.min.replace(tzinfo=dt.UTC)


def date_sittings(calendar: Calendar) -> int:
    """Each trainee sits in the evening, every week or two; the newest sittings are of the last days."""
    club, chance = calendar.people.club, calendar.chance
    by_trainee: dict[int, list[Sitting]] = defaultdict(list)
    for sitting in Sitting.objects.filter(trainee__club=club).order_by("pk").prefetch_related("answers"):
        by_trainee[sitting.trainee_id].append(sitting)
    answers: list[Answer] = []
    for sittings in by_trainee.values():
        first, last = chance.uniform(FIRST_ANSWERS - 40, FIRST_ANSWERS), chance.uniform(NEWEST, 12)
        for place, sitting in enumerate(sittings):
            share = place / (len(sittings) - 1) if len(sittings) > 1 else 1
            before = first + (last - first) * share if sitting.finished_at else NEWEST
            answers += _sit(sitting, calendar.evening(before), chance)
    handed_in = {answer.pk: answer.handed_in_at for answer in answers}
    saved = {answer.pk: answer.saved_at for answer in answers}
    revised = dict(Key.objects.filter(version__gt=1).values_list("pk", "published_at"))
    marks = list(Mark.objects.filter(answer__in=answers).only("answer_id", "marked_at", "key_id"))
    marked = [max(handed_in[mark.answer_id], revised.get(mark.key_id, FIRST)) for mark in marks]
    steps = list(SavedStep.objects.filter(answer__in=answers))
    changed = (
        write_times([sitting for rows in by_trainee.values() for sitting in rows], "begun_at", "finished_at")
        + write_times(answers, "saved_at", "handed_in_at")
        + set_times(marks, marked, "marked_at")
        + set_times(steps, [saved[step.answer_id] for step in steps], "saved_at")
    )
    date_results(answers=Answer.objects.filter(sitting__trainee__club=club).exclude(handed_in_at=None))
    return changed


def _sit(sitting: Sitting, begun: dt.datetime, chance: Random) -> list[Answer]:
    """One answer after the other, each between one and four minutes."""
    sitting.begun_at = moment = begun
    given = [answer for answer in sitting.answers.all() if answer.saved_at]
    for answer in given:
        moment += chance.uniform(1, 4) * MINUTE
        answer.saved_at = moment
        if answer.handed_in_at:
            answer.handed_in_at = moment = moment + dt.timedelta(seconds=5)
    if sitting.finished_at:
        sitting.finished_at = moment
    return given
