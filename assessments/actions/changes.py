"""What happened to marks, put on record as it happens."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from assessments.models import Adjustment, Answer, Mark, MarkChange, Sitting
from assessments.rules import shown_points, standing_points
from shared.accounts.models import Membership

Kind = MarkChange.Kind


@transaction.atomic(savepoint=False)
def record_change(
    *,
    kind: MarkChange.Kind,
    answer: Answer | None = None,
    sitting: Sitting | None = None,
    by: Membership | None = None,
    before: Decimal | None = None,
    after: Decimal | None = None,
    words: str = "",
) -> MarkChange:
    """One row, of an answer or of a whole sitting; points are out of 100 to one decimal."""
    return MarkChange.objects.create(
        kind=kind, answer=answer, sitting=sitting, by=by, before=before, after=after, words=words
    )


@transaction.atomic(savepoint=False)
def marked(*, marks: Iterable[Mark]) -> None:
    """First marks by the rules, `key` and `rules` at hand, in one write."""
    MarkChange.objects.bulk_create(
        MarkChange(answer=mark.answer, kind=Kind.MARKED, after=shown_points(mark), words=_by_what(mark))
        for mark in marks
    )


@transaction.atomic(savepoint=False)
def marked_anew(*, old: Mark, new: Mark, adjustment: Adjustment | None) -> None:
    """A mark by another key or other rules; an adjustment that fell with the old one is named."""
    words = _by_what(new)
    if adjustment is not None:
        words += " " + _("The adjustment of %(points)s does not carry over.") % {
            "points": f"{adjustment.points:+.1f}".replace("-", "−")
        }
    record_change(
        kind=Kind.MARKED_ANEW,
        answer=new.answer,
        before=standing_points(old, adjustment),
        after=shown_points(new),
        words=words,
    )


def _by_what(mark: Mark) -> str:
    words = _("Key version %(key)d, rules version %(rules)d.")
    return words % {"key": mark.key.version, "rules": mark.rules.version}
