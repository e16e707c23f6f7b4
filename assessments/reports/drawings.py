"""The pages' own drawings for print: the SVG of a fragment with the styles of paper and ink."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from django.template.loader import render_to_string

_SVG = re.compile(r"<svg(?P<head> [^>]*)>(?P<inside>.*?)</svg>", re.DOTALL)
_CLASS = re.compile(r'class="([\w-]+)')


def drawings(template: str, context: Mapping[str, Any]) -> dict[str, list[str]]:
    """What a fragment draws: SVG files of their own, by the first class of each, in order."""
    found: dict[str, list[str]] = {}
    for svg in _SVG.finditer(render_to_string(template, dict(context))):
        name = _CLASS.search(svg["head"])
        found.setdefault(name[1] if name else "", []).append(
            f'<svg xmlns="http://www.w3.org/2000/svg"{svg["head"]}><style>{_styles()}</style>{svg["inside"]}</svg>'
        )
    return found


@lru_cache(maxsize=1)
def _styles() -> str:
    return (Path(__file__).parent / "drawings.css").read_text(encoding="utf-8")
