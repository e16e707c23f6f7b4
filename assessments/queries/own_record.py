"""Reads for the record that a trainee takes along: all of it, a batch of sittings at a time."""

from __future__ import annotations

from collections.abc import Iterator

from django.db.models import Prefetch, QuerySet

from assessments.models import Adjustment, Answer, Candidate, Comment, Mark, Quiz, Sitting
from assessments.queries.papers import candidatures_of
from courses.models import Clause, Exhibit, Fault
from shared.accounts.models import Membership

SITTINGS_AT_ONCE = 20


def sittings_in_batches(trainee: Membership) -> Iterator[list[Sitting]]:
    """Sittings in practice, the oldest first, each with its `handed_in` answers as their pages show them."""
    mine = Sitting.objects.filter(trainee=trainee, quiz__purpose=Quiz.Purpose.PRACTICE)
    found = list(mine.order_by("begun_at", "pk").values_list("pk", flat=True))
    for begin in range(0, len(found), SITTINGS_AT_ONCE):
        batch = mine.filter(pk__in=found[begin : begin + SITTINGS_AT_ONCE]).select_related(
            "quiz__edition__breed"
        )
        yield list(batch.prefetch_related(_handed_in()).order_by("begun_at", "pk"))


def _handed_in() -> Prefetch:
    marks = Mark.objects.filter(current=True).select_related("key", "rules")
    adjustments = Adjustment.objects.filter(taken_back_at=None).select_related("made_by__person")
    comments = Comment.objects.filter(removed_at=None, second=None).select_related("author__person")
    answers = (
        Answer.objects.exclude(handed_in_at=None, passed_over_at=None)
        .select_related("item__exhibit", "query")
        .defer("item__exhibit__drawing")
        .prefetch_related(
            Prefetch("marks", marks, to_attr="current_marks"),
            Prefetch("adjustments", adjustments, to_attr="standing_adjustments"),
            Prefetch("comments", comments, to_attr="standing_comments"),
        )
        .order_by("position", "pk")
    )
    return Prefetch("answers", answers, to_attr="handed_in")


def released_papers(trainee: Membership) -> list[Candidate]:
    """Papers whose result the trainee was told, the newest first; of no other is anything here."""
    return [
        candidate
        for candidate in candidatures_of(trainee).exclude(paper__released_at=None)
        if getattr(candidate, "sitting", None) is not None and candidate.sitting.released
    ]


def names_of_faults(ids: set[int]) -> dict[int, str]:
    """By their ids."""
    return dict(Fault.objects.filter(pk__in=ids).values_list("pk", "name"))


def numbers_of_clauses(ids: set[int]) -> dict[int, str]:
    """By their ids."""
    return dict(Clause.objects.filter(pk__in=ids).values_list("pk", "number"))


def numbers_of_exhibits(ids: set[int]) -> dict[int, int]:
    """By their ids."""
    return dict(Exhibit.objects.filter(pk__in=ids).values_list("pk", "number"))


def former_trainees(secretary: Membership) -> QuerySet[Membership]:
    """Members who have left the secretary's club and were trainees of it."""
    gone = Membership.objects.filter(club=secretary.club, trainee=True, nameless=False).exclude(left_at=None)
    return gone.exclude(pk=secretary.pk).select_related("person", "club")
