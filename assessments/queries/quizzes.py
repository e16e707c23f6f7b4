"""Reads about quizzes, items and keys."""

from __future__ import annotations

from django.db.models import Count, Prefetch, QuerySet

from assessments.models import Item, Key, KeyEntry, Quiz
from shared.accounts.models import Club

ENTRIES = Prefetch("entries", KeyEntry.objects.select_related("fault", "clause"))


def quizzes_of(club: Club) -> QuerySet[Quiz]:
    """All quizzes of the club, with the number of their items."""
    return (
        Quiz.objects.filter(edition__breed__club=club)
        .select_related("edition__breed", "place__module")
        .annotate(items_count=Count("quiz_items"))
    )


def items_of(club: Club) -> QuerySet[Item]:
    """All items of the club, with exhibit and keys at hand."""
    return (
        Item.objects.filter(edition__breed__club=club)
        .select_related("exhibit", "edition__breed")
        .prefetch_related(
            Prefetch("keys", Key.objects.prefetch_related(ENTRIES)),
            "exhibit__renditions",
            "exhibit__permissions",
        )
    )


def published_key(item: Item) -> Key | None:
    """The key in use: the newest published version."""
    return next((key for key in item.keys.all() if key.published_at), None)


def draft_key(item: Item) -> Key | None:
    """The version that the educator is at work on, if there is one."""
    return next((key for key in item.keys.all() if not key.published_at), None)
