"""Filters for ledgers and ladders: true minus signs, one decimal, ink by weight."""

from __future__ import annotations

from decimal import Decimal

from django import template

from assessments.rules import points_of

register = template.Library()
THICKEST = 12.0


@register.filter
def rule_height(weight: float) -> float:
    """The rule under a severity, 1.5 pixels for each unit of weight, 12 at most."""
    return min(THICKEST, 1.5 * float(weight))


@register.filter
def rule_top(weight: float) -> float:
    """Where that rule begins, so that it stands on the bottom line."""
    return THICKEST - rule_height(weight)


@register.filter
def points(value: Decimal | float | None) -> str:
    """One decimal with a true minus sign; nothing for None."""
    return "" if value is None else f"{value:.1f}".replace("-", "−")


@register.filter
def signed(value: Decimal | float) -> str:
    """One decimal with its sign, "0.0" without one."""
    text = f"{value:+.1f}"
    return text[1:] if float(text) == 0 else text.replace("-", "−")


@register.filter
def per_cent(share: float | None) -> str:
    """A fraction as a whole percentage; figure and sign stay on one line."""
    return "" if share is None else f"{round(share * 100)}\N{NO-BREAK SPACE}%"


@register.filter
def of_hundred(share: float) -> str:
    """A share of 1 as points of 100, to one decimal."""
    return points(share * 100)


@register.filter
def hundredths(share: float) -> str:
    """A fraction as points of 100 to one decimal, as a mark is shown."""
    return points(points_of(share))
