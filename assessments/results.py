"""A kept mark as a page shows it: the ledger with figures that add up, the three parts, what to look at next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from assessments.models import Answer, Mark
from assessments.rules import shown_points, standing_points
from assessments.scoring import Line, set_out
from assessments.scoring.ledger import LedgerRow
from courses.models import Clause


@dataclass(frozen=True)
class Group:
    """The rows of the ledger that belong to one pin, one entry of the key, or both."""

    pin: int | None
    letter: str
    title: str
    rows: tuple[LedgerRow, ...]


@dataclass(frozen=True)
class Part:
    """See, name or weigh as a percentage; `share` is None for a sound exhibit."""

    word: str
    share: float | None

    @property
    def per_cent(self) -> int | None:
        """Rounded for the screen."""
        return None if self.share is None else round(self.share * 100)


@dataclass(frozen=True)
class Result:
    """All that a marked answer shows beside its picture."""

    mark: Mark
    groups: list[Group]
    of: Decimal
    points: Decimal
    parts: list[Part]
    adjustment: Any
    standing: Decimal
    next_entry: dict[str, Any] | None

    @property
    def pinned(self) -> bool:
        """Whether its lines belong to pins and to entries of the key; of other kinds they stand alone."""
        return bool(self.mark.detail["entries"] or self.mark.detail["marks"] or self.mark.key.sound)


def result_of(answer: Answer) -> Result:
    """From an answer of `answers_with_marks`."""
    mark = answer.current_marks[0]
    labels = mark.rules.ladder["labels"]
    ledger = set_out([Line(**line) for line in mark.detail["lines"]])
    adjustment = next(iter(answer.standing_adjustments), None)
    matched = {match["entry"]: match["mark"] for match in mark.detail["matches"]}
    groups = [_group(group, mark.detail, matched, labels) for group in ledger.groups]
    return Result(
        mark=mark,
        groups=groups,
        of=ledger.of,
        points=shown_points(mark),
        parts=_parts(mark),
        adjustment=adjustment,
        standing=standing_points(mark, adjustment),
        next_entry=_worst_entry(mark),
    )


def _parts(mark: Mark) -> list[Part]:
    """The three parts; virtues have no weight of their own to be said."""
    parts = [Part(_("See"), mark.seeing), Part(_("Name"), mark.naming), Part(_("Weigh"), mark.weighing)]
    return parts[:2] if mark.detail.get("sought") == "virtue" else parts


def _group(group: Any, detail: dict[str, Any], matched: dict[int, int], labels: list[str]) -> Group:
    if group.entry is not None:
        entry = detail["entries"][group.entry]
        words = _("%(fault)s, %(clause)s. Key: %(level)s.")
        if detail.get("sought") == "virtue":
            words = _("%(fault)s, %(clause)s. Counts as %(level)s.")
        title = words % {
            "fault": entry["fault"],
            "clause": entry["clause"],
            "level": labels[entry["level"]],
        }
        pin = matched.get(group.entry)
        return Group(None if pin is None else pin + 1, entry["letter"], title, group.rows)
    if group.mark is not None:
        name = detail["marks"][group.mark]["name"] or _("A pin without a name")
        return Group(group.mark + 1, "", _("%(name)s. Not in the key.") % {"name": name}, group.rows)
    return Group(None, "", _("The whole answer"), group.rows)


def _worst_entry(mark: Mark) -> dict[str, Any] | None:
    """The key's entry that lost most, if one lost anything."""
    lost: dict[int, float] = {}
    for line in mark.detail["lines"]:
        if line["entry"] is not None and line["available"] is not None:
            lost[line["entry"]] = lost.get(line["entry"], 0.0) + line["available"] - line["points"]
    if not lost or max(lost.values()) < 0.005:
        return None
    return mark.detail["entries"][max(lost, key=lost.__getitem__)]


def next_clause(result: Result) -> Clause | None:
    """The clause to read again after this answer."""
    entry = result.next_entry
    return (
        Clause.objects.select_related("edition__breed").filter(pk=entry["clause_id"]).first()
        if entry
        else None
    )


def line_of(answer: Answer) -> dict[str, Any]:
    """One line of a list of answers. One that waits for a person's mark has no points yet."""
    if not answer.current_marks:
        return {"answer": answer, "mark": None, "points": None, "adjusted": False}
    mark = answer.current_marks[0]
    adjustment = next(iter(answer.standing_adjustments), None)
    return {
        "answer": answer,
        "mark": mark,
        "points": standing_points(mark, adjustment),
        "adjusted": adjustment is not None,
        "faults": len(mark.detail["entries"]),
        "missed": len(mark.detail["missed"]),
        "false_alarms": len(mark.detail["false_alarms"]),
    }


def mean_points(answers: Iterable[Answer]) -> Decimal | None:
    """The mean of the marks that count, out of 100, to one decimal."""
    lines = [line_of(answer) for answer in answers]
    points = [line["points"] for line in lines if line["points"] is not None]
    return round(sum(points) / len(points), 1) if points else None
