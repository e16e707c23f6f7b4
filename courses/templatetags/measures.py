"""Measures on a page: the small plot that sets one or two values against the range a clause asks.

{% load measures %}
{% interval each.clause each.taken %}                  one dog
{% interval each.clause each.correct each.incorrect %} two dogs, the second open and broken
{{ "within"|verdict_word }}
"""

from __future__ import annotations

from dataclasses import dataclass

from django import template
from django.utils.translation import gettext as _

from courses.measures.measures import Measurement
from courses.models import Clause

register = template.Library()
PAD = 0.08  # of the plot, free at either end


@dataclass(frozen=True)
class Whisker:
    """Places in per cent of the plot's width, the height in px."""

    low: str
    value: str
    high: str
    y: int


@register.inclusion_tag("courses/measures/_interval.html")
def interval(
    clause: Clause | None, first: Measurement, second: Measurement | None = None
) -> dict[str, object]:
    """A hatched range with its limits, and a whisker for each measurement."""
    taken = [each for each in (first, second) if each is not None]
    ends = [end for each in taken for end in (each.low, each.high)]
    if clause is not None:
        ends += [clause.low, clause.high]
    least, most = min(ends), max(ends)
    width = (most - least) or 1.0

    def at(number: float) -> float:
        return 100 * (PAD + (1 - 2 * PAD) * (number - least) / width)

    heights = (23,) if len(taken) == 1 else (12, 31)
    whiskers = [
        Whisker(f"{at(each.low):.2f}%", f"{at(each.value):.2f}%", f"{at(each.high):.2f}%", y)
        for each, y in zip(taken, heights, strict=True)
    ]
    asked = None
    if clause is not None:
        low, high = at(clause.low), at(clause.high)
        asked = {"low": f"{low:.2f}%", "high": f"{high:.2f}%", "width": f"{high - low:.2f}%"}
    return {"whiskers": whiskers, "asked": asked, "ident": f"{first.name}-{clause.pk if clause else 0}"}


@register.filter
def verdict_word(verdict: str) -> str:
    """The verdict in the reader's language."""
    return {"within": _("within"), "outside": _("outside"), "cannot tell": _("cannot tell")}.get(verdict, "")
