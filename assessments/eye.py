"""What somebody's marks say of their eye: kept marks in, figures of `assessments.statistics` out.

Every figure says when it rests on too little. Figures are of the marks by the rules: a mentor's adjustment
changes a mark that counts, not what was seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from assessments.models import Mark
from assessments.statistics.agreement import Bias, Kappa, severity_bias, weighted_kappa
from assessments.statistics.detection import (
    Detection,
    LookedAt,
    count_zones,
    sensitivity_and_bias,
    zone_of_mark,
)
from assessments.statistics.progress import Estimate, PartScore, estimate, estimates
from courses.models.choices import Zone
from courses.queries.zone_map import VISIBLE_ZONES

PARTS = ("see", "name", "weigh")


@dataclass(frozen=True)
class ZoneRow:
    """One zone: an estimate for each part, and how many faults of the zone were asked."""

    zone: str
    label: str
    see: Estimate
    name: Estimate
    weigh: Estimate
    asked: int


@dataclass(frozen=True)
class Eye:
    """All figures of one person. None where nothing can be computed at all."""

    answers: int
    rows: list[ZoneRow]
    detection: Detection | None
    bias: Bias | None
    kappa: Kappa | None
    pairs: list[tuple[int, int]]
    labels: list[str]

    @property
    def weakest(self) -> ZoneRow | None:
        """The zone that is surely known and least well seen, to look at next."""
        known = [row for row in self.rows if row.see.enough and row.see.mean < 0.9]
        return min(known, key=lambda row: row.see.mean, default=None)


def eye_of(marks: Sequence[Mark]) -> Eye:
    """From current marks, oldest first, with `answer.item.exhibit` and `rules` at hand.

    A mark whose detail says `sees` false tells nothing of seeing and naming: of virtues, or of a fault that was
    shown, whose weighing it has in `weighed`.
    """
    details = [mark.detail for mark in marks]
    labels = marks[-1].rules.ladder["labels"] if marks else []
    pairs = list(_weighed_pairs(details, len(labels)))
    return Eye(
        answers=len(marks),
        rows=_zone_rows(details),
        detection=_detection([mark for mark in marks if sees(mark.detail)]),
        bias=severity_bias(*zip(*pairs, strict=True)) if len(pairs) >= 2 else None,
        kappa=weighted_kappa(*zip(*pairs, strict=True), levels=len(labels)) if len(pairs) >= 2 else None,
        pairs=pairs,
        labels=labels,
    )


def sees(detail: dict[str, Any]) -> bool:
    """Whether a mark tells what was seen, named and weighed of faults that had to be found."""
    return bool(detail.get("sees", True))


def _zone_rows(details: Iterable[dict[str, Any]]) -> list[ZoneRow]:
    scores = [score for detail in details for score in part_scores(detail)]
    found = estimates(scores)
    nothing = estimate([])
    asked: dict[str, int] = {}
    for score in scores:
        asked[score.zone] = asked.get(score.zone, 0) + (score.part == "see")
    return [
        ZoneRow(
            zone.value,
            str(zone.label),
            *(found.get((zone.value, part), nothing) for part in PARTS),
            asked.get(zone.value, 0),
        )
        for zone in Zone
    ]


def part_scores(detail: dict[str, Any]) -> Iterator[PartScore]:
    """For each fault of a key how far it was seen, named and weighed; 0 where it was missed."""
    for shown in detail.get("weighed", []):
        yield PartScore(shown["zone"], "weigh", shown["credit"])
    if not sees(detail):
        return
    matches = {match["entry"]: match for match in detail["matches"]}
    for number, entry in enumerate(detail["entries"]):
        match = matches.get(number)
        seen = match["location"] if match else 0.0
        yield PartScore(entry["zone"], "see", seen)
        yield PartScore(entry["zone"], "name", seen * match["name"] if match else 0.0)
        yield PartScore(entry["zone"], "weigh", seen * match["weigh"] if match else 0.0)


def _detection(marks: Iterable[Mark]) -> Detection | None:
    counts = count_zones(looked_at(mark) for mark in marks)
    try:
        return sensitivity_and_bias(
            counts.hits, counts.misses, counts.false_alarms, counts.correct_rejections
        )
    except ValueError:  # nothing faulty or nothing sound has been looked at yet
        return None


def looked_at(mark: Mark) -> LookedAt:
    """One exhibit as it was marked, in zones."""
    detail = mark.detail
    matched = {match["mark"]: detail["entries"][match["entry"]]["zone"] for match in detail["matches"]}
    return LookedAt(
        visible=VISIBLE_ZONES[mark.answer.item.exhibit.view],
        faulty=frozenset(entry["zone"] for entry in detail["entries"]),
        marked=tuple(
            zone_of_mark(matched.get(number), pin.get("zone"), None)
            for number, pin in enumerate(detail["marks"])
        ),
    )


def _weighed_pairs(details: Iterable[dict[str, Any]], levels: int) -> Iterator[tuple[int, int]]:
    """(given, key) for every fault that was recognised, or shown, and weighed, on the present ladder."""
    for detail in details:
        for given, key in _pairs(detail):
            if given is not None and max(given, key) < levels:
                yield given, key


def _pairs(detail: dict[str, Any]) -> Iterator[tuple[int | None, int]]:
    for shown in detail.get("weighed", []):
        yield shown["given"], shown["key"]
    for match in detail["matches"] if sees(detail) else []:
        if match["name"] > 0:
            yield detail["marks"][match["mark"]]["level"], detail["entries"][match["entry"]]["level"]
