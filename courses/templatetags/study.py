"""Words and shapes of the reading pages."""

from __future__ import annotations

from django import template
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from courses.models import Place
from courses.queries.study import named
from shared.prose.markdown import render_note

register = template.Library()
register.filter("named", named)


@register.filter
def note(text: str) -> SafeString:
    """A club's note or text, from Markdown."""
    return mark_safe(render_note(text))  # noqa: S308, made safe there


@register.filter
def way_on(place: Place) -> str:
    """What the button to the next place says."""
    if place.plate:
        return _("Go on to plate %(n)d") % {"n": place.plate.number}
    if place.kind == Place.Kind.QUIZ:
        return _("Go on to the quiz")
    return _("Go on: %(title)s") % {"title": place.title}


@register.filter
def way_in(place: Place) -> str:
    """What the button that takes a reader back in says."""
    if place.plate:
        return _("Go on at plate %(n)d") % {"n": place.plate.number}
    return _("Go on at “%(title)s”") % {"title": place.title}
