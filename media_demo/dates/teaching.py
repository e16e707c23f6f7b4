"""When the standard, its exhibits, course and quizzes were made; and when the course was read."""

from __future__ import annotations

import datetime as dt

from django.db.models import QuerySet

from assessments.models import Item, Key, Quiz, QuizRules, Sitting
from courses.models import Course, Edition, Exhibit, Module, Placement, Plate, Progress
from courses.models.choices import State
from media_demo.dates.calendar import DRAFT_LEFT, DRAWN, DRAWN_UNTIL, MINUTE, REVISED, TAUGHT_FROM, Calendar
from media_demo.dates.rows import set_times, write_times


def date_teaching(calendar: Calendar) -> int:
    """Editions on their day of issue; then exhibits, and what was made with them; of late what is in work."""
    club, breed = calendar.people.club, calendar.people.breed
    changed = 0
    for edition in Edition.objects.filter(breed=breed):
        noon = dt.datetime.combine(edition.issued_on, dt.time(12), calendar.now.tzinfo)
        edition.created_at = edition.released_at = calendar.not_later(noon, 60)
        changed += write_times([edition], "created_at", "released_at")
    exhibits = Exhibit.objects.filter(club=club).order_by("pk")
    changed += set_times(
        exhibits, _steps(calendar, DRAWN, DRAWN_UNTIL, exhibits.count()), "created_at", "published_at"
    )
    made = dict(Exhibit.objects.filter(club=club).values_list("pk", "created_at"))
    placements = list(Placement.objects.filter(exhibit__club=club))
    changed += set_times(placements, [made[row.exhibit_id] for row in placements], "placed_at")
    ready = {
        Plate.objects.filter(edition__breed=breed, state=State.PUBLISHED): ("published_at", "changed_at"),
        Module.objects.filter(course__edition__breed=breed): ("published_at", "changed_at"),
        Course.objects.filter(edition__breed=breed): ("published_at",),
        Item.objects.filter(edition__breed=breed): ("created_at",),
        Key.objects.filter(item__edition__breed=breed, version=1): ("published_at", "saved_at"),
        QuizRules.objects.filter(quiz__edition__breed=breed): ("made_at",),
        Quiz.objects.filter(edition__breed=breed): ("opened_at",),
    }
    later = list(Key.objects.filter(item__edition__breed=breed, version__gt=1))
    changed += set_times(later, [calendar.evening(REVISED) for _ in later], "published_at", "saved_at")
    drafts = list(Plate.objects.filter(edition__breed=breed, state=State.DRAFT))
    changed += set_times(drafts, [calendar.evening(DRAFT_LEFT) for _ in drafts], "changed_at")
    for rows, names in ready.items():
        ordered: QuerySet = rows.order_by("pk")
        steps = _steps(calendar, DRAWN_UNTIL - 1, TAUGHT_FROM, ordered.count())
        changed += set_times(ordered, steps, *names)
    return changed


def _steps(calendar: Calendar, first: float, last: float, count: int) -> list[dt.datetime]:
    """So many working hours between two days, in order."""
    days = [first + (last - first) * place / max(1, count) for place in range(count)]
    return [calendar.day(day, 9 + 8 * (place % 9) / 9) for place, day in enumerate(days)]


def date_reading(calendar: Calendar) -> int:
    """A module is read in the days before its quiz is answered."""
    club = calendar.people.club
    sat = {
        (sitting.trainee.person_id, sitting.quiz.place.module_id): sitting.begun_at
        for sitting in Sitting.objects.filter(trainee__club=club, quiz__place__isnull=False)
        .select_related("trainee", "quiz__place")
        .order_by("-begun_at")
    }
    rows = list(Progress.objects.filter(module__course__edition__breed__club=club))
    for row in rows:
        read = sat.get((row.person_id, row.module_id), calendar.evening(2)) - 30 * MINUTE
        row.begun_at, row.last_at = read - 20 * MINUTE, read
        row.finished_at = row.finished_at and read
    return write_times(rows, "begun_at", "last_at", "finished_at")
