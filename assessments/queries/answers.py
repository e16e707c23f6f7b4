"""Reads about sittings, answers and marks."""

from __future__ import annotations

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet

from assessments.models import Adjustment, Answer, Comment, Mark, Query, Quiz, SecondMarking
from shared.accounts.models import Membership

# An answer to a paper is on no page of practice, however it was come by.
PRACTICE = Q(sitting__quiz__purpose=Quiz.Purpose.PRACTICE)


def answers_with_marks() -> QuerySet[Answer]:
    """Answers with all that their marked page and the review show, in a fixed number of queries."""
    return Answer.objects.select_related(
        "item__exhibit",
        "item__clause",
        "item__edition__breed",
        "sitting__quiz",
        "sitting__trainee__person",
        "review",
        "query",
    ).prefetch_related(
        Prefetch(
            "marks", Mark.objects.filter(current=True).select_related("key", "rules"), to_attr="current_marks"
        ),
        Prefetch(
            "adjustments",
            Adjustment.objects.filter(taken_back_at=None).select_related("made_by__person"),
            to_attr="standing_adjustments",
        ),
        Prefetch(
            "comments",
            Comment.objects.filter(removed_at=None, second=None).select_related("author__person"),
            to_attr="standing_comments",
        ),
        "item__exhibit__renditions",
        "item__exhibit__permissions",
    )


def waiting_for(mentor: Membership) -> QuerySet[Answer]:
    """Handed-in answers of the mentor's trainees that nobody has returned, queries first, then by age."""
    return (
        answers_with_marks()
        .filter(
            sitting__trainee__mentors_of__mentor=mentor,
            sitting__trainee__mentors_of__ended_at=None,
            sitting__trainee__left_at=None,
        )
        .filter(PRACTICE)
        .exclude(handed_in_at=None)
        .exclude(_blind_to(mentor))
        .filter(Q(review=None) | Q(review__returned_at=None))
        .annotate(asks=Exists(Query.objects.filter(answer=OuterRef("pk"), settled_at=None)))
        .order_by("-asks", "handed_in_at", "pk")
    )


def reviewable_by(mentor: Membership) -> QuerySet[Answer]:
    """Every handed-in answer that the mentor may look at; those to papers are looked at by number.

    One that they are asked to mark a second time is looked at there alone, until they have given their mark.
    `marked_twice` says whether a second marking was asked for.
    """
    twice = SecondMarking.objects.filter(answer=OuterRef("pk"), withdrawn_at=None)
    return (
        answers_with_marks()
        .filter(sitting__trainee__mentors_of__mentor=mentor, sitting__trainee__mentors_of__ended_at=None)
        .filter(PRACTICE)
        .exclude(handed_in_at=None)
        .exclude(_blind_to(mentor))
        .annotate(marked_twice=Exists(twice))
    )


def _blind_to(mentor: Membership) -> Exists:
    asked = SecondMarking.objects.filter(second=mentor, second_at=None, withdrawn_at=None)
    return Exists(asked.filter(answer=OuterRef("pk")))


def own_answers(trainee: Membership) -> QuerySet[Answer]:
    """A trainee's answers in practice, with what saving and handing in ask for."""
    return (
        Answer.objects.filter(PRACTICE, sitting__trainee=trainee)
        .select_related("item__exhibit", "item__edition__breed__club", "sitting__quiz")
        .defer("item__exhibit__drawing")
    )


def last_identity(answer: Answer) -> str | None:
    """The identity of the newest acknowledged save, by which a device knows its own again."""
    newest = answer.saved_steps.order_by("-pk").values_list("identity", flat=True).first()
    return str(newest) if newest else None
