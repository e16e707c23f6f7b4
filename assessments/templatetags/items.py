"""What lists of items say of each: its kind in words, and the exhibits that it shows."""

from __future__ import annotations

from django import template

from assessments.items import kind_of
from assessments.models import Item
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
