"""Reads about a trainee's own sittings."""

from __future__ import annotations

from django.db.models import Avg, Count, Exists, Max, OuterRef, Q, QuerySet, Subquery

from assessments.models import Answer, Quiz, SatBefore, Sitting
from shared.accounts.models import Membership


def own_sittings(trainee: Membership) -> QuerySet[Sitting]:
    """In practice, newest first, with how many answers count, how many are in, and their mean mark by the rules."""
    return (
        Sitting.objects.filter(trainee=trainee, quiz__purpose=Quiz.Purpose.PRACTICE)
        .select_related("quiz__edition__breed")
        .annotate(
            answers_count=Count("answers", filter=Q(answers__passed_over_at=None), distinct=True),
            handed_in_count=Count("answers", filter=~Q(answers__handed_in_at=None), distinct=True),
            marked_count=Count("answers", filter=Q(answers__marks__current=True), distinct=True),
            mean_score=Avg("answers__marks__score", filter=Q(answers__marks__current=True)),
        )
        .order_by("-begun_at", "-pk")
    )


def waiting_in(sitting: Sitting) -> QuerySet[Answer]:
    """What is still to be answered, in order."""
    return sitting.answers.filter(handed_in_at=None, passed_over_at=None)


def with_own_progress(quizzes: QuerySet[Quiz], trainee: Membership) -> QuerySet[Quiz]:
    """Quizzes with whether the trainee is in the middle of them, and their last finished sitting's mean."""
    mine = Sitting.objects.filter(quiz=OuterRef("pk"), trainee=trainee)
    finished = mine.exclude(finished_at=None).order_by("-finished_at")
    mean = (
        finished.annotate(mean=Avg("answers__marks__score", filter=Q(answers__marks__current=True)))
        .order_by("-finished_at")
        .values("mean")[:1]
    )
    return quizzes.annotate(
        begun=Exists(mine.filter(finished_at=None)),
        last_mean=Subquery(mean),
        last_finished=Subquery(finished.values("finished_at")[:1]),
    )


def last_number(quiz: Quiz, trainee: Membership) -> int:
    """Of the trainee's sittings of the quiz, 0 before any; those that are nobody's any more still count."""
    theirs = Sitting.objects.filter(quiz=quiz, trainee=trainee).aggregate(last=Max("number"))["last"] or 0
    before = (
        SatBefore.objects.filter(quiz=quiz, trainee=trainee).values_list("number", flat=True).first() or 0
    )
    return max(theirs, before)
