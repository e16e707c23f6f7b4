"""Filters of the evidence: figures with their decimals, flags and names in words."""

from __future__ import annotations

from collections.abc import Iterable

from django import template
from django.utils.translation import gettext as _

from assessments.evidence.words import flags_in_words
from assessments.statistics.item_analysis import Flag
from assessments.statistics.progress import Estimate

register = template.Library()


@register.filter
def decimals(value: float | None, places: int = 2) -> str:
    """So many decimals with a true minus sign; "not known" for None."""
    if value is None:
        return _("not known")
    text = f"{value:.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text.replace("-", "−")


@register.filter
def signed_decimals(value: float) -> str:
    """Two decimals with their sign, "0.00" without one."""
    text = f"{value:+.2f}"
    return text[1:] if float(text) == 0 else text.replace("-", "−")


@register.filter
def in_hundredths(share: float | None) -> str:
    """A fraction of the mark as points of 100, to one decimal."""
    return decimals(None if share is None else share * 100, 1)


@register.filter
def flags(given: Iterable[Flag]) -> str:
    """What an educator should look at, in words."""
    return flags_in_words(given)


@register.filter
def share(n: int, of: int | None) -> str:
    """ "62 %", nothing of none."""
    return f"{round(100 * n / of)} %" if of else ""


@register.filter
def interval(found: Estimate) -> str:
    """ "37–66 %", the interval of a share."""
    return f"{round(100 * found.low)}–{round(100 * found.high)} %"


@register.filter
def told(levels: Iterable[int], labels: Iterable[str]) -> str:
    """ "3 Moderate, 1 Serious": how often each severity, those that are there."""
    return ", ".join(f"{n} {label}" for n, label in zip(levels, labels, strict=False) if n)


@register.filter
def length_of(n: int, of: int | None) -> float:
    """A bar of so many of a hundred."""
    return round(100 * n / of, 1) if of else 0
