"""What a panel's markings amount to: found when it is closed, kept as JSON, proposed as a key.

    {"groups": [{"letter": str, "in_key": bool, "fault": id | None, "name": str, "clause": id | None,
                 "number": str, "zone": str, "level": int, "whole_dog": bool, "regions": [[[x, y], …], …],
                 "marked": [{"panellist": id, "level": int, "regions": […]}, …]}, …],
     "counted": [panellist id, …],
     "zones": [{"zone": str, "levels": [int | None, …]}, …]}

Groups of the key come first. `counted` are those whose markings count; `levels` has the highest that each of
them marked in the zone, in the same order: the figures from which the agreement is measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.mark_the_faults.key_content import canvas_of
from assessments.items.mark_the_faults.vocabulary import called
from assessments.items.panel import Finding
from assessments.models import Key, KeyEntry, KeyPanel
from assessments.rules import letter
from assessments.scoring.consensus import PanelGroup, build_consensus
from assessments.scoring.marks import KeyEntry as KeyEntryMarked
from assessments.snapshots import CALLED, Sought, panel_ladder, panel_markings
from courses.models import Clause, Exhibit, Fault, SeverityScale
from courses.models.choices import Zone
from courses.queries.severity import ladder_of
from shared.geometry.outlines import as_drawn

Content = Mapping[str, Any]


def found_by(panel: KeyPanel, markings: Mapping[int, Content], sought: Sought = "fault") -> Finding:
    """The consensus of the markings, with whatever was renamed since under its name of today."""
    rows = [row for content in markings.values() for row in content.get("entries", [])]
    faults = dict(Fault.objects.filter(pk__in=_ids(rows, "fault")).values_list("pk", CALLED[sought]))
    clauses = dict(Clause.objects.filter(pk__in=_ids(rows, "clause")).values_list("pk", "number"))
    taken = panel_markings(markings, faults, clauses)
    zones = compared_zones(panel, taken)
    consensus = build_consensus(taken, panel_ladder(panel), zones)
    ids = _Ids({name: pk for pk, name in faults.items()}, {number: pk for pk, number in clauses.items()})
    result = {
        "groups": [
            ids.group(place, group, panel.item.exhibit) for place, group in enumerate(consensus.groups)
        ],
        "counted": list(markings),
        "zones": [
            {"zone": zone, "levels": [_heaviest(taken[str(one)], zone) for one in markings]} for zone in zones
        ],
    }
    return Finding(result, consensus.agreement, consensus.fit)


def compared_zones(panel: KeyPanel, taken: Mapping[str, Iterable[KeyEntryMarked]]) -> list[str]:
    """Those that the view shows, and any other in which somebody marked a fault: ribs show from behind, too."""
    marked = {entry.zone for entries in taken.values() for entry in entries}
    return [zone for zone in Zone.values if zone in marked or zone in panel.zones]


class _Ids:
    """The rows behind the names by which the consensus calls faults and clauses."""

    def __init__(self, faults: Mapping[str, int], clauses: Mapping[str, int]) -> None:
        self.faults, self.clauses = faults, clauses

    def group(self, place: int, group: PanelGroup, exhibit: Exhibit) -> dict[str, Any]:
        """One group as it is kept."""
        entry, canvas = group.entry, canvas_of(exhibit)
        marked = zip(group.panellists, group.levels, group.outlines, strict=True)
        return {
            "letter": letter(place),
            "in_key": group.in_key,
            "fault": self.faults.get(entry.fault),
            "name": entry.fault,
            "clause": self.clauses.get(entry.clause or ""),
            "number": entry.clause or "",
            "zone": entry.zone,
            "level": entry.level,
            "whole_dog": entry.region is None,
            "regions": as_drawn(entry.region or (), canvas),
            "marked": [
                {
                    "panellist": int(one),
                    "level": level,
                    "regions": [list(map(list, part)) for part in own or ()],
                }
                for one, level, own in marked
            ],
        }


def proposed(
    panel: KeyPanel, finding: Content, standing: Key | None, sought: Sought = "fault"
) -> dict[str, Any]:
    """A draft's `sound` and `entries`. Names that the key before it accepts beside a fault are taken over.

    A level is that of the same name on the club's ladder of today; where none has that name, it is left for
    the educator to weigh. Where nothing is agreed on, the exhibit is sound; a key of virtues is then empty.
    """
    before = {row.fault_id: row.also for row in standing.entries.all()} if standing else {}
    today = ladder_of(panel.item.edition.breed.club)
    groups = in_key(finding)
    faults = Fault.objects.in_bulk([group["fault"] for group in groups if group["fault"]])
    clauses = Clause.objects.in_bulk([group["clause"] for group in groups if group["clause"]])
    entries = [
        {
            "fault": faults.get(group["fault"]),
            "clause": clauses.get(group["clause"]),
            "zone": group["zone"],
            "level": level_today(panel, group["level"], today),
            "whole_dog": group["whole_dog"],
            "regions": group["regions"],
            "also": before.get(group["fault"], []),
        }
        for group in groups
    ]
    return {"sound": not groups and sought == "fault", "entries": entries}


def departures_of(key: Key, sought: Sought = "fault") -> list[str]:
    """Where a key is not as its panel found it: fault by fault, then what the panel did not agree on."""
    panel = key.panel
    assert panel is not None
    today = ladder_of(key.item.edition.breed.club)
    left = [] if key.sound else list(key.entries.all())
    words: list[str] = []
    for group in in_key(panel.result):
        entry = next((row for row in left if row.fault_id == group["fault"]), None)
        if entry is None:
            words.append(_("the panel found “%(fault)s”, the key leaves it out.") % {"fault": group["name"]})
            continue
        left.remove(entry)
        words += _differences(panel, group, entry, today)
    return words + [_of_its_own(panel, row, sought) for row in left]


def level_today(panel: KeyPanel, level: int, today: SeverityScale) -> int | None:
    """The level of the club's ladder of today that is called as the panel's; None where none is."""
    names = [label.casefold() for label in today.labels]
    name = panel.ladder["labels"][level].casefold()
    return names.index(name) if name in names else None


def in_key(finding: Content) -> list[dict[str, Any]]:
    """The groups on which enough of the panel agree."""
    return [group for group in finding.get("groups", []) if group["in_key"]]


def _differences(panel: KeyPanel, group: Content, entry: KeyEntry, today: SeverityScale) -> Iterator[str]:
    fault = {"fault": group["name"]}
    level = level_today(panel, group["level"], today)
    if level is not None and entry.level is not None and level != entry.level:
        values = fault | {"key": today.label(entry.level), "panel": today.label(level)}
        yield _("the key weighs “%(fault)s” as %(key)s, the panel as %(panel)s.") % values
    if group["clause"] and entry.clause_id and entry.clause_id != group["clause"]:
        values = fault | {"key": entry.clause.number, "panel": group["number"]}
        yield _("the key puts “%(fault)s” under %(key)s, the panel under %(panel)s.") % values
    if (entry.whole_dog, entry.regions) != (group["whole_dog"], group["regions"]):
        yield _("the region of “%(fault)s” is not the panel’s.") % fault


def _of_its_own(panel: KeyPanel, entry: KeyEntry, sought: Sought) -> str:
    some = [group for group in panel.result["groups"] if not group["in_key"]]
    seen = next((len(group["marked"]) for group in some if group["fault"] == entry.fault_id), 0)
    name = called(entry.fault, sought) if entry.fault else _("not named yet")
    values = {"fault": name, "n": seen, "of": len(panel.result["counted"])}
    return _("the key has “%(fault)s”, marked by %(n)d of %(of)d on the panel.") % values


def _heaviest(entries: Iterable[Any], zone: str) -> int | None:
    return max((entry.level for entry in entries if entry.zone == zone), default=None)


def _ids(rows: Iterable[Content], part: str) -> set[int]:
    return {row[part] for row in rows if row[part] is not None}
