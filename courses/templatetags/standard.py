"""The standard's own voice: a clause is set the same way wherever it stands; and the severity ladder.

    {% load standard %}
    {% clause clause %}                  number in the margin, words of degree in small capitals
    {% clause clause small=True %}       in the size of controls, the number in a column of its own
    {% clause clause anchor=True %}      with the address #c-5.1 on the page
    {{ clause.text|wording }}            the words alone, within a line
    {{ clause.severity|level:scale }}    "Serious"
    {{ clause|range_of }}                "Layback of shoulder blade 30–40°"
    {% ladder "level" scale chosen %}    radio buttons named "level", one for each level of the scale

The club's own words of degree are marked where the page has `readings` (`readings_of(breed)`) in its
context, or where the clause came with `select_related("edition__breed")`.
"""

from __future__ import annotations

from functools import lru_cache

from django import template
from django.template import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from courses.models import Clause, Edition, SeverityScale
from courses.queries.severity import Reading, Readings, reading_of, readings_of
from courses.queries.standard import range_told
from shared.prose.markdown import render_clause

register = template.Library()

RULE_MOST = 12  # height in px of the rule under the heaviest level; the others follow their weights
RULE_LEAST = 1.5


@register.simple_tag(takes_context=True)
def clause(context: Context, clause: Clause, *, small: bool = False, anchor: bool = False) -> SafeString:
    """A clause as a block: its number, then its wording."""
    return format_html(
        '<div class="clause{}"{}><span class="clause-number">{}</span>{}</div>',
        " clause-small" if small else "",
        format_html(' id="c-{}"', clause.number) if anchor else "",
        clause.number,
        _html(clause.text, _readings(context, clause), False),
    )


@register.filter
def wording(text: str, readings: Readings = ()) -> SafeString:
    """The wording of a clause within a line, words of degree marked."""
    return _html(text, readings or (), True)


@register.filter
def level(value: int | None, scale: SeverityScale) -> str:
    """What a level of the ladder is called."""
    return scale.label(value)


@register.simple_tag(takes_context=True)
def reading(context: Context, text: str) -> Reading | None:
    """How the club reads a wording, on a page with `readings` and `scale`: {% reading clause.text as read %}"""
    return reading_of(text, context["readings"], context["scale"])


@register.filter
def range_of(clause: Clause) -> str:
    """What a clause measures: "Layback of shoulder blade 30–40°", or nothing."""
    return range_told(clause)


@register.filter
def steps(scale: SeverityScale) -> list[dict[str, object]]:
    """The levels of a ladder, lightest first, each with its rule: `rule` px thick, `top` px down of 12."""
    heaviest = max(scale.weights)
    found = []
    for value, (label, weight) in enumerate(zip(scale.labels, scale.weights, strict=True)):
        rule = round(max(RULE_LEAST, RULE_MOST * weight / heaviest), 1)
        top = round(RULE_MOST - rule, 1)
        found.append({"value": str(value), "label": label, "weight": weight, "rule": rule, "top": top})
    return found


@register.inclusion_tag("courses/standard/_ladder.html")
def ladder(
    name: str,
    scale: SeverityScale,
    chosen: object = None,
    *,
    none: str = "",
    labelled_by: str = "",
    described_by: str = "",
    ident: str = "",
) -> dict[str, object]:
    """A row of radio buttons, a rule under each as thick as its weight; `none` names a first one without."""
    cells = steps(scale)
    if none:
        cells.insert(0, {"value": "none", "label": none, "rule": 0})
    return {
        "name": name,
        "cells": cells,
        "chosen": "" if chosen is None else str(chosen),
        "labelled_by": labelled_by,
        "described_by": described_by,
        "ident": ident or name,
    }


def _readings(context: Context, clause: Clause) -> Readings:
    """the page's readings, else those of the breed if it is at hand: setting a clause costs no query."""
    if "readings" in context:
        return context["readings"]
    if Clause._meta.get_field("edition").is_cached(clause):
        edition = clause.edition
        if Edition._meta.get_field("breed").is_cached(edition):
            return readings_of(edition.breed)
    return ()


@lru_cache(maxsize=4096)
def _html(text: str, readings: Readings, inline: bool) -> SafeString:
    return mark_safe(render_clause(text, inline=inline, readings=dict(readings)))  # noqa: S308, made safe there
