"""A template and its data to a PDF."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import typst

from shared.printing.characters import fonts, printable

# Templates import one another from here, the folder that holds the apps.
ROOT = Path(__file__).resolve().parents[2]
STANDARDS: list[typst.PDFStandard] = ["a-2a", "ua-1"]


@dataclass(frozen=True)
class Document:
    """What a template is given.

    `language` is a tag such as "en-gb", `made_at` the date that the file carries, `foot` stands on every page.
    `pages` is how a page is numbered, "{n} of {of}". `data` is plain: dicts, lists, texts, numbers, None.
    `drawings` are SVG, by the names that the template calls them.
    """

    title: str
    author: str
    language: str
    made_at: datetime.datetime
    foot: str
    pages: str
    data: Mapping[str, Any]
    drawings: Mapping[str, str] = field(default_factory=dict)


def print_pdf(template: str, document: Document) -> bytes:
    """Compile a template, named from the folder that holds the apps; typst.TypstError if it is wrong."""
    language, _hyphen, region = document.language.partition("-")
    given = {
        "title": printable(document.title, breaks=False),
        "author": printable(document.author, breaks=False),
        "language": language,
        "region": region.upper() if len(region) == 2 else None,
        "foot": printable(document.foot),
        "pages": printable(document.pages),
        "data": _printable(document.data),
        "drawings": {name: printable(svg, breaks=False) for name, svg in document.drawings.items()},
    }
    pdf = typst.compile(
        ROOT / template,
        root=ROOT,
        font_paths=fonts(),
        sys_inputs={"given": json.dumps(given)},
        pdf_standards=STANDARDS,
        timestamp=int(document.made_at.timestamp()),
    )
    return bytes(pdf)


def _printable(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, Mapping):
        return {name: _printable(each) for name, each in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(each) for each in value]
    return value
