"""Reads about the people a mentor mentors."""

from __future__ import annotations

from django.db.models import Avg, Count, Max, Q, QuerySet

from assessments.models import Quiz
from assessments.queries.mentorships import mentees_of
from shared.accounts.models import Membership


def trainees_of(mentor: Membership) -> QuerySet[Membership]:
    """The mentor's present trainees in practice: answers handed in, still waiting, mean mark, last day."""
    practice = Q(sittings__quiz__purpose=Quiz.Purpose.PRACTICE)
    handed_in = practice & ~Q(sittings__answers__handed_in_at=None)
    waiting = handed_in & (Q(sittings__answers__review=None) | Q(sittings__answers__review__returned_at=None))
    return mentees_of(mentor).annotate(
        handed_in=Count("sittings__answers", filter=handed_in, distinct=True),
        waiting=Count("sittings__answers", filter=waiting, distinct=True),
        mean_score=Avg(
            "sittings__answers__marks__score", filter=practice & Q(sittings__answers__marks__current=True)
        ),
        last_at=Max("sittings__answers__handed_in_at", filter=practice),
    )
