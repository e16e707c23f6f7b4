"""The only bridge from rows to the pure packages: rows in, frozen dataclasses out.

To the scoring a fault is its name and a clause its number, so that its sentences can be read by people; both
sides of a comparison are taken from the same rows at the same moment.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import asdict, replace
from typing import Any, Literal

from assessments.models import Key, KeyPanel, QuizRules
from assessments.rules import letter
from assessments.scoring import rules_in_words as scoring_in_words
from assessments.scoring.fault_marks import (
    VIRTUE_RULES,
    FaultKey,
    FaultMark,
    FaultMarkScore,
    KeyEntry,
    MarkingRules,
)
from assessments.scoring.points import height_of
from assessments.scoring.severity import SeverityLadder
from courses.models import Exhibit, Fault
from courses.queries.measures import finished

# Where the anatomical points are known, reach follows the dog and not the framing of the picture.
REACH_IN_HEIGHTS = 0.08

Sought = Literal["fault", "virtue"]
# By which column of the club's list the scoring calls what is sought: a virtue is the opposite of its fault.
CALLED: dict[Sought, str] = {"fault": "name", "virtue": "virtue"}


def ladder(rules: QuizRules, sought: Sought = "fault") -> SeverityLadder:
    """The severity ladder that came with these rules. No virtue disqualifies."""
    found = _ladder(rules.ladder)
    return found if sought == "fault" else replace(found, disqualifying=False)


def panel_ladder(panel: KeyPanel) -> SeverityLadder:
    """The severity ladder by which a panel weighs, as it was when the panel was asked."""
    return _ladder(panel.ladder)


def _ladder(kept: Mapping[str, Any]) -> SeverityLadder:
    return SeverityLadder(tuple(kept["labels"]), tuple(kept["weights"]), kept.get("disqualifying", True))


def marking_rules(rules: QuizRules, exhibit: Exhibit | None, sought: Sought = "fault") -> MarkingRules:
    """The rules, with the reach of a pin in heights at the withers where the exhibit's points tell it.

    Virtues have shares of their own and are not weighed; the rest is the quiz's.
    """
    kept = dict(rules.rules)
    by_height = kept.pop("reach_in_heights", True)
    height = height_at_withers(exhibit) if exhibit and by_height else None
    if height:
        kept["tolerance"] = REACH_IN_HEIGHTS * height
    found = MarkingRules(**kept)
    if sought == "fault":
        return found
    shares = {part: getattr(VIRTUE_RULES, part) for part in ("see", "name", "weigh", "sought")}
    return replace(found, **shares)


def reach_in_words(rules: QuizRules) -> str:
    """How far a pin reaches, for the rules as a trainee reads them; empty where it is the rules' own."""
    if not rules.rules.get("reach_in_heights", True):
        return ""
    return (
        f"{REACH_IN_HEIGHTS:.0%} of the dog’s height at the withers, or {rules.rules['tolerance']:.0%} of the "
        "picture’s longer side where the height is not known"
    ).replace("%", " %")


def rules_in_words(rules: QuizRules, sought: Sought = "fault") -> list[str]:
    """The rules as sentences for those who answer."""
    counted, on = marking_rules(rules, None, sought), ladder(rules, sought)
    return list(scoring_in_words(counted, on, reach_in_words(rules)))


def height_at_withers(exhibit: Exhibit) -> float | None:
    """In units of the picture's longer side, as `height_of` says; None where no finished points tell it."""
    for placement in finished(exhibit.placements.all()):
        points = placement.points
        grounds = {tuple(points[name][:2]) for name in ("ground_front", "ground_rear") if points.get(name)}
        if points.get("withers") and grounds:
            return height_of(points["withers"][:2], sorted(grounds))
    return None


def fault_key(key: Key, sought: Sought = "fault") -> FaultKey:
    """A published key; one without entries is a sound exhibit."""
    rows = key.entries.all()
    also = Fault.objects.filter(pk__in={other["fault"] for row in rows for other in row.also})
    names = dict(also.values_list("pk", CALLED[sought]))
    return FaultKey(tuple(_entry(row, CALLED[sought], names) for row in rows))


def bare_entries(rows: Iterable[Any]) -> list[KeyEntry]:
    """The faults of a published key without the other names that it accepts; fault and clause are at hand."""
    return [_entry(row, CALLED["fault"], {}) for row in rows]


def panel_markings(
    markings: Mapping[int, dict[str, Any]], faults: Mapping[int, str], clauses: Mapping[int, str]
) -> dict[str, list[KeyEntry]]:
    """Each panellist's entries, by the panellist's id as a word; none of a marking that finds the exhibit sound.

    Faults and clauses are called what they are called now, by `faults` and `clauses`; whatever was taken off
    the club's list or the edition since, by the name that was kept.
    """
    return {
        str(panellist): [
            KeyEntry(
                region=None if row["whole_dog"] else [[(x, y) for x, y in part] for part in row["regions"]],
                fault=faults.get(row["fault"], row["name"]),
                clause=clauses.get(row["clause"], row["number"]) or None,
                zone=row["zone"],
                level=row["level"],
            )
            for row in ([] if content.get("sound") else content.get("entries", []))
        ]
        for panellist, content in markings.items()
    }


def _entry(row: Any, called: str, names: Mapping[int, str]) -> KeyEntry:
    regions = [tuple((x, y) for x, y in polygon) for polygon in row.regions]
    return KeyEntry(
        region=None if row.whole_dog else (regions[0] if len(regions) == 1 else tuple(regions)),
        fault=getattr(row.fault, called),
        clause=row.clause.number,
        zone=row.zone,
        level=row.level,
        also={names[a["fault"]]: a["credit"] for a in row.also if a["fault"] in names},
    )


def shown_key(key: Key, sought: Sought = "fault") -> list[dict[str, Any]]:
    """What a marked answer shows of each entry, kept with the mark."""
    return [
        {
            "letter": letter(i),
            "fault": getattr(row.fault, CALLED[sought]),
            "fault_id": row.fault_id,
            "clause": row.clause.number,
            "clause_id": row.clause_id,
            "zone": row.zone,
            "level": row.level,
            "whole_dog": row.whole_dog,
            "regions": row.regions,
        }
        for i, row in enumerate(key.entries.all())
    ]


class FaultNames:
    """The faults or virtues that kept marks name, read once, to turn the marks into scored and shown ones."""

    def __init__(self, breed_id: int, named: Collection[int], sought: Sought = "fault") -> None:
        rows = Fault.objects.filter(breed_id=breed_id, pk__in=named)
        columns = rows.values_list("pk", CALLED[sought], "clause__number", "zone")
        self._by_id = {pk: (name, clause, zone) for pk, name, clause, zone in columns}

    def mark(self, kept: dict[str, Any]) -> FaultMark:
        """A pin as the scoring takes it; its clause is that of the fault it names."""
        name, clause, _zone = self._by_id.get(kept["fault"], (None, None, None))
        return FaultMark(x=kept["x"], y=kept["y"], fault=name, level=kept["level"], clause=clause)

    def shown(self, kept: dict[str, Any]) -> dict[str, Any]:
        """A pin with the words that a page shows."""
        name, clause, zone = self._by_id.get(kept["fault"], (None, None, None))
        return {**kept, "name": name, "clause": clause, "zone": zone}


def detail(score: FaultMarkScore) -> dict[str, Any]:
    """What a marked answer shows of its score, as JSON, kept with the mark."""
    return {
        "answered": score.answered,
        "matches": [asdict(match) for match in score.matches],
        "missed": list(score.missed),
        "false_alarms": list(score.false_alarms),
        "repeats": [list(repeat) if isinstance(repeat, tuple) else repeat for repeat in score.repeats],
        "capped": bool(score.capped),
        "cap_reason": score.cap_reason,
        "lines": [vars(line) for line in score.lines],
    }
