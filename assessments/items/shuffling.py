"""The order in which options and exhibits are shown: drawn for each who looks, and drawn from nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random
from typing import TypeVar

from django.db.models import prefetch_related_objects

from assessments.models import Answer, Item, Panellist
from courses.models import Exhibit

Thing = TypeVar("Thing")


def shuffled(answer: Answer, things: Iterable[Thing]) -> list[Thing]:
    """The same order each time one answer is looked at. That of a preview, which is not saved, is one of many."""
    return _drawn(things, f"shown in answer {answer.pk}")


def _drawn(things: Iterable[Thing], lot: str) -> list[Thing]:
    drawn = list(things)
    Random(lot).shuffle(drawn)
    return drawn


def shown_exhibits(item: Item) -> list[Exhibit]:
    """All that an item of several shows, in its order; they and their pictures are then at hand for its pages."""
    pictures = ("item_exhibits__exhibit__renditions", "item_exhibits__exhibit__permissions")
    prefetch_related_objects([item], *pictures)
    return [row.exhibit for row in item.item_exhibits.all()]


def drawn_order(answer: Answer) -> list[int]:
    """The ids of these exhibits in the order drawn for one answer; that of the item plays no part in it."""
    return shuffled(answer, sorted(exhibit.pk for exhibit in shown_exhibits(answer.item)))


def order_for(panellist: Panellist) -> list[int]:
    """The same, drawn for one panellist."""
    exhibits = sorted(exhibit.pk for exhibit in shown_exhibits(panellist.panel.item))
    return _drawn(exhibits, f"shown to panellist {panellist.pk}")
