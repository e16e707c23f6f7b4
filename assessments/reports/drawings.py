"""The pages' own drawings for print: the SVG of a fragment with the styles of paper and ink."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from django.template.loader import render_to_string

_END = "</svg>"


def drawing(template: str, context: Mapping[str, Any]) -> str:
    """What a fragment draws, as an SVG file of its own."""
    page = render_to_string(template, dict(context))
    begin, end = page.index("<svg ") + len("<svg"), page.index(_END)
    head, inside = page[begin:end].split(">", 1)
    return f'<svg xmlns="http://www.w3.org/2000/svg"{head}><style>{_styles()}</style>{inside}{_END}'


@lru_cache(maxsize=1)
def _styles() -> str:
    return (Path(__file__).parent / "drawings.css").read_text(encoding="utf-8")
