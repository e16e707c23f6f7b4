"""When mentors looked at answers, queries were settled and trainees had news of it."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping

from assessments.models import Adjustment, Comment, Mark, Notice, Query, Review
from media_demo.dates.calendar import DAY, MINUTE, NEWS_DAYS, REVISED, Calendar
from media_demo.dates.rows import set_times, write_times


def date_reviews(calendar: Calendar) -> int:
    """A mentor looks at a sitting's answers in one go, a few days later; queries take another day or two."""
    club, chance = calendar.people.club, calendar.chance
    reviews = list(
        Review.objects.filter(answer__sitting__trainee__club=club)
        .select_related("answer__sitting")
        .order_by("answer__sitting__begun_at", "answer__position")
    )
    wait: dict[int, float] = defaultdict(lambda: chance.uniform(0.7, 3.5))
    opened: dict[int, dt.datetime] = {}
    for review in reviews:
        answer = review.answer
        looked_at = answer.handed_in_at + wait[answer.sitting_id] * DAY
        review.opened_at = opened[answer.pk] = calendar.not_later(looked_at, 600 - 5 * answer.position)
        if review.returned_at:
            review.returned_at = review.opened_at + 4 * MINUTE
    changed = write_times(reviews, "opened_at", "returned_at")
    by_hand = list(Mark.objects.filter(answer__in=opened, detail__has_key="given"))
    changed += set_times(by_hand, [opened[mark.answer_id] + 3 * MINUTE for mark in by_hand], "marked_at")
    queries = list(Query.objects.filter(answer__in=opened))
    asked = {row.answer_id: calendar.not_later(opened[row.answer_id] + DAY, 300) for row in queries}
    for query in queries:
        query.asked_at = asked[query.answer_id]
        query.settled_at = query.settled_at and calendar.not_later(query.asked_at + DAY, 120)
    changed += write_times(queries, "asked_at", "settled_at")
    settled = {query.answer_id: query.settled_at for query in queries if query.settled_at}
    late = [review for review in reviews if review.answer_id in settled and review.returned_at]
    changed += set_times(late, [settled[review.answer_id] for review in late], "returned_at")
    return changed + _said(opened, settled) + _news(calendar)


def _said(opened: Mapping[int, dt.datetime], settled: Mapping[int, dt.datetime]) -> int:
    """What a mentor said while looking at an answer; the last of it where a query was answered."""
    changed = 0
    for model in (Comment, Adjustment, Notice):
        rows = list(model.objects.filter(answer__in=opened).order_by("pk"))
        last = {row.answer_id: row.pk for row in rows}
        moments = [
            settled[row.answer_id]
            if row.answer_id in settled and last[row.answer_id] == row.pk
            else opened[row.answer_id] + 3 * MINUTE
            for row in rows
        ]
        changed += set_times(rows, moments, "made_at")
    return changed


def _news(calendar: Calendar) -> int:
    """Notices of marks that changed are as new as the key that changed them; older ones have been seen."""
    notices = Notice.objects.filter(member__club=calendar.people.club)
    revised = list(notices.filter(by=None))
    changed = set_times(revised, [calendar.evening(REVISED) for _ in revised], "made_at")
    seen = list(notices.filter(made_at__lt=calendar.day(NEWS_DAYS)))
    for notice in seen:
        notice.seen_at = notice.made_at + DAY
    return changed + write_times(seen, "seen_at")
