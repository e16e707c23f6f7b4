"""`{{ agreement|alpha }}`: an agreement to three decimals, never shown at a limit that it misses."""

from __future__ import annotations

import math

from django import template

register = template.Library()


@register.filter
def alpha(agreement: float | None) -> str:
    """Rounded down: 0.7996 is 0.799, since it falls short of 0.800."""
    return "" if agreement is None else f"{math.floor(agreement * 1000 + 1e-6) / 1000:.3f}".replace("-", "−")
