"""What lists of items say of each: its kind in words, and the exhibits that it shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import template

from assessments.items import kind_of
from assessments.models import Item
from assessments.rules import letter
from courses.models import Exhibit
from courses.queries.guide import Guide, guide

register = template.Library()


@register.filter
def kind_label(item: Item) -> str:
    """The name of its kind."""
    return str(kind_of(item).label)


@register.filter
def exhibits_of(item: Item) -> list[Exhibit]:
    """All that it shows, in their order; reads the prefetched rows."""
    several = [row.exhibit for row in item.item_exhibits.all()]
    return several or [each for each in [item.exhibit] if each is not None]


@register.simple_tag
def figure_guide(view: str) -> Guide | None:
    """The ideal figure of a view, on which it is shown where a point is to be found."""
    return guide(view)


@register.filter
def in_order(item: Item, order: Sequence[int]) -> list[Exhibit]:
    """The same in an order of their ids; one that the item does not show is passed over."""
    by_id = {exhibit.pk: exhibit for exhibit in exhibits_of(item)}
    return [by_id[pk] for pk in order if pk in by_id]


@register.filter
def item_letter(place: int) -> str:
    """What the exhibit at this place, from 0, is called while its number would say too much."""
    return letter(place).lower()


@register.filter
def at(values: Mapping[int, Any], name: int) -> Any:
    """What stands for this exhibit's id, or nothing."""
    return values.get(name)
