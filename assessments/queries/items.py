"""Reads about one item: its quizzes, the versions of its key, how it was answered."""

from __future__ import annotations

from datetime import date

from django.db.models import Avg, Count, Exists, OuterRef, Q, QuerySet

from assessments.models import Item, ItemExhibit, Key, Quiz, Sitting
from courses.models import Exhibit
from courses.queries.permission import shown

VERSIONS_SHOWN = 30


def withheld_items(on: date) -> QuerySet[Item]:
    """Items of which a picture may not be shown on the day."""
    hidden = Exhibit.objects.exclude(shown(on))
    among = ItemExhibit.objects.filter(item=OuterRef("pk"), exhibit__in=hidden)
    return Item.objects.filter(Q(exhibit__in=hidden) | Exists(among))


def askable_items(on: date) -> QuerySet[Item]:
    """Items in use all of whose pictures may be shown on the day."""
    return Item.objects.filter(state=Item.State.IN_USE).exclude(pk__in=withheld_items(on).values("pk"))


def is_withheld(item: Item, on: date) -> bool:
    """Whether a picture of the item may not be shown on the day."""
    pictures = Exhibit.objects.filter(Q(pk=item.exhibit_id) | Q(item_exhibits__item=item))
    return pictures.exclude(shown(on)).exists()


def withheld_in(sitting: Sitting, on: date) -> set[int]:
    """Those of a sitting's items of which a picture may not be shown on the day."""
    return set(withheld_items(on).filter(answers__sitting=sitting).values_list("pk", flat=True))


def uses_of(item: Item) -> QuerySet[Quiz]:
    """The quizzes and papers that hold it."""
    return item.quizzes.select_related("paper").order_by("title", "pk")


def versions_of(item: Item) -> QuerySet[Key]:
    """Its published keys, newest first, each with its number of faults and of marks given by it."""
    return (
        item.keys.exclude(published_at=None)
        .select_related("made_by")
        .annotate(
            faults_count=Count("entries", distinct=True),
            marks_count=Count("marks", filter=Q(marks__current=True), distinct=True),
        )
        .order_by("-version")[:VERSIONS_SHOWN]
    )


def answers_of(item: Item) -> dict[str, float | None]:
    """How many answers are handed in and how many are begun, from how many people, and their mean score."""
    handed_in = ~Q(answers__handed_in_at=None)
    return Item.objects.filter(pk=item.pk).aggregate(
        handed_in=Count("answers", filter=handed_in, distinct=True),
        begun=Count("answers", filter=~handed_in & ~Q(answers=None), distinct=True),
        people=Count("answers__sitting__trainee", filter=handed_in, distinct=True),
        mean=Avg("answers__marks__score", filter=Q(answers__marks__current=True)),
    )
