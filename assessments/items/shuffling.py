"""The order in which options and exhibits are shown: drawn for each answer, and drawn from nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random
from typing import TypeVar

from django.db.models import prefetch_related_objects

from assessments.models import Answer, Item
from courses.models import Exhibit

Thing = TypeVar("Thing")


def shuffled(answer: Answer, things: Iterable[Thing]) -> list[Thing]:
    """The same order each time one answer is looked at. That of a preview, which is not saved, is one of many."""
    drawn = list(things)
    Random(f"shown in answer {answer.pk}").shuffle(drawn)
    return drawn


def shown_exhibits(item: Item) -> list[Exhibit]:
    """All that an item of several shows, in its order; they and their pictures are then at hand for its pages."""
    pictures = ("item_exhibits__exhibit__renditions", "item_exhibits__exhibit__permissions")
    prefetch_related_objects([item], *pictures)
    return [row.exhibit for row in item.item_exhibits.all()]


def drawn_order(answer: Answer) -> list[int]:
    """The ids of these exhibits in the order drawn for one answer; that of the item plays no part in it."""
    return shuffled(answer, sorted(exhibit.pk for exhibit in shown_exhibits(answer.item)))
