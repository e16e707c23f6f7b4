"""What surrounds an item while it is answered: of a practice quiz, or of an examination paper.

An item kind's `answer.html` has the item itself and includes the rest by what the sheet names, so that the same
page serves both: `{% include sheet.crumbs %}`, `sheet.side` in the heading, `sheet.foot` below the answer, and
`data-save="{{ sheet.save }}"`, the address to which answers are kept.
"""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import reverse

from assessments.models import Answer


@dataclass(frozen=True)
class Sheet:
    """Templates around the item, and where its answer is kept."""

    save: str
    crumbs: str = "assessments/answer/_crumbs.html"
    side: str = "assessments/answer/_side.html"
    foot: str = "assessments/answer/_foot.html"


def practice_sheet(request: HttpRequest, answer: Answer) -> Sheet:
    """Each answer is handed in by itself."""
    return Sheet(save=reverse("answer-save", args=[request.club.slug, answer.pk]))
