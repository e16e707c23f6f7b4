"""What an educator sees of a panel: each fault with who marked it and how it was weighed, and who marked what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assessments.items.mark_the_faults.panel_content import scale_of
from assessments.models import KeyPanel, Panellist
from courses.models import Clause, SeverityScale
from courses.models.choices import Zone


@dataclass(frozen=True)
class ShownGroup:
    """One fault as the panel saw it. `spread` counts the levels given, lightest first."""

    letter: str
    name: str
    number: str
    clause: Clause | None
    level: str
    whole_dog: bool
    marked: int
    of: int
    spread: list[tuple[str, int]]

    @property
    def at_odds(self) -> bool:
        """Whether they weighed it otherwise than one another."""
        return len(self.spread) > 1


@dataclass(frozen=True)
class ShownPanellist:
    """One marking as a row: what each fault was weighed as, empty where it was not marked."""

    seat: Panellist
    levels: list[str]
    sound: bool


def laid_out(panel: KeyPanel, finding: Mapping[str, Any]) -> dict[str, Any]:
    """The entries of the key, what some saw, the rows of the panel and of the zones, and what is drawn."""
    scale, groups, counted = scale_of(panel), finding["groups"], finding["counted"]
    seats = [seat for seat in panel.panellists.all() if seat.pk in counted]
    shown = _groups(groups, scale, len(counted))
    return {
        "scale": scale,
        "entries": [each for each, group in zip(shown, groups, strict=True) if group["in_key"]],
        "some_saw": [each for each, group in zip(shown, groups, strict=True) if not group["in_key"]],
        "letters": [group["letter"] for group in groups],
        "panellists": _rows(seats, groups, scale),
        "zones": _zones(finding["zones"], [counted.index(seat.pk) for seat in seats], scale),
        "bare_zones": sum(not any_level(row) for row in finding["zones"]),
        "drawn": [
            {
                "letter": group["letter"],
                "regions": group["regions"],
                "style": "key" if group["in_key"] else "some",
                "own": [part for row in group["marked"] for part in row["regions"]],
            }
            for group in groups
        ],
    }


def any_level(row: Mapping[str, Any]) -> bool:
    """Whether anybody marked a zone."""
    return any(level is not None for level in row["levels"])


def _groups(groups: Sequence[Mapping[str, Any]], scale: SeverityScale, counted: int) -> list[ShownGroup]:
    clauses = Clause.objects.in_bulk([group["clause"] for group in groups if group["clause"]])
    return [
        ShownGroup(
            letter=group["letter"],
            name=group["name"],
            number=group["number"],
            clause=clauses.get(group["clause"]),
            level=scale.label(group["level"]),
            whole_dog=group["whole_dog"],
            marked=len(group["marked"]),
            of=counted,
            spread=_spread([row["level"] for row in group["marked"]], scale),
        )
        for group in groups
    ]


def _spread(levels: Sequence[int], scale: SeverityScale) -> list[tuple[str, int]]:
    return [(scale.label(level), count) for level, count in sorted(Counter(levels).items())]


def _rows(
    seats: Sequence[Panellist], groups: Sequence[Mapping[str, Any]], scale: SeverityScale
) -> list[ShownPanellist]:
    given = [{row["panellist"]: row["level"] for row in group["marked"]} for group in groups]
    return [
        ShownPanellist(
            seat=seat,
            levels=[scale.label(levels.get(seat.pk)) for levels in given],
            sound=not any(seat.pk in levels for levels in given),
        )
        for seat in seats
    ]


def _zones(
    rows: Sequence[Mapping[str, Any]], order: Sequence[int], scale: SeverityScale
) -> list[tuple[str, list[str]]]:
    """Zones that somebody marked, each with what the panellists in this order marked there."""
    names = dict(Zone.choices)
    return [
        (str(names[row["zone"]]), [scale.label(row["levels"][place]) for place in order])
        for row in rows
        if any_level(row)
    ]
