"""What other apps put on a page."""

from __future__ import annotations

from django import template

from shared.web.slots import Filling
from shared.web.slots import fillings as ask

register = template.Library()


@register.simple_tag(takes_context=True)
def fillings(context: template.Context, slot: str) -> list[Filling]:
    """What fills a slot of the page as a whole."""
    return ask(slot, context["request"], [None])[None]
