"""The club's panel marks every item for its key: each with an eye of their own, and what they agree on is the key.

What a panellist draws is the region as they see it, a little beside and a little larger or smaller than it is.
Where eyes differ, so does the key: how far they agree is measured, not written down anywhere.
"""

from __future__ import annotations

import math
import uuid
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from django.db.models import prefetch_related_objects

from assessments.actions.key_panels import (
    ask_panel,
    close_panel,
    draft_from_panel,
    hand_in_marking,
    save_marking,
)
from assessments.actions.keys import save_draft
from assessments.models import Item, Key, KeyEntry, KeyPanel, Panellist
from assessments.snapshots import height_at_withers
from courses.figure import PRESETS, Settings, zone_outlines
from courses.models import Exhibit, Fault
from courses.queries.zone_map import VISIBLE_ZONES
from media_demo.eyes import Eye, middle
from media_demo.loading import Member, Scenario
from media_demo.people import People
from shared.accounts.models import Membership
from shared.geometry.outlines import Canvas, as_drawn

# House figures of the simulation, without a source.
SIZE_SD = 0.08  # spread of a region's size as it is drawn, as a share of what it is
ROUND = 10  # corners of a region drawn where nothing is
RADIUS = 0.05  # of such a region, in heights at the withers
SERIOUS = 2  # the default ladder's heaviest level that does not disqualify


@dataclass(frozen=True)
class Panel:
    """Those who settle keys, with their eyes; `faults` are those that a drawing can show."""

    scenario: Scenario
    people: People
    faults: Sequence[Fault]

    @classmethod
    def of(cls, scenario: Scenario, people: People) -> Panel:
        """The members of the scenario's panel."""
        shown = Fault.objects.filter(breed=people.breed).exclude(figure="").select_related("clause")
        return cls(scenario, people, list(shown))

    @property
    def members(self) -> list[Member]:
        """In the order in which they joined."""
        return [member for member in self.scenario.members if member.panel]

    def settle(self, item: Item, place: tuple[str, int], draft: Key) -> Key:
        """Let the panel mark the item whose `draft` says what is there; the draft is then what they agree on.

        The educator puts back what the drawing shows and too few of them saw, and says so in the note.
        """
        there = _entries(draft)
        panel = self._mark(item, there, self._eyes(place))
        closed = close_panel(panel=panel, by=self._educator)
        return self._completed(draft_from_panel(panel=closed, by=self._educator), there)

    def begin_again(self, item: Item, draft: Key) -> KeyPanel:
        """A panel in which some have not handed in yet."""
        said = self.scenario.panel
        return self._mark(item, _entries(draft), {}, said.again, said.waiting)

    def _mark(
        self,
        item: Item,
        there: Sequence[KeyEntry],
        eyes: Mapping[str, str],
        word: str = "",
        waiting: Collection[str] = (),
    ) -> KeyPanel:
        by_seat = {self.people.by_email[member.email].pk: member for member in self.members}
        asked = [self.people.by_email[member.email] for member in self.members]
        panel = ask_panel(item=item, members=asked, by=self._educator, word=word)
        prefetch_related_objects([item.exhibit], "placements")
        for seat in panel.panellists.all():
            member = by_seat[seat.member_id]
            if member.email not in waiting:
                eye = self.scenario.eyes[eyes.get(member.email, member.eye)]
                self._hand_in(seat, self.marks_of(eye, item.exhibit, there, member.email))
        return panel

    def marks_of(
        self, eye: Eye, exhibit: Exhibit, there: Sequence[KeyEntry], luck: str
    ) -> list[dict[str, Any]]:
        """What this eye marks, as a browser sends it; the same again with the same luck."""
        return list(self._marked(eye, exhibit, there, Random(f"{luck} {exhibit.number}")))

    def _hand_in(self, seat: Panellist, entries: list[dict[str, Any]]) -> None:
        sent = {"sound": not entries, "note": "", "entries": entries}
        save_marking(panellist=seat, sent=sent, seen=0, identity=uuid.uuid4())
        hand_in_marking(panellist=seat)

    def _eyes(self, place: tuple[str, int]) -> Mapping[str, str]:
        """The other eyes with which some look at the item in this place of this quiz."""
        contested = self.scenario.panel.contested
        return next((each.eyes for each in contested if (each.quiz, each.item) == place), {})

    @property
    def _educator(self) -> Membership:
        return self.people.by_email[self.members[0].email]

    def _marked(
        self, eye: Eye, exhibit: Exhibit, there: Sequence[KeyEntry], chance: Random
    ) -> Iterator[dict[str, Any]]:
        """What this eye marks of what is there, and where nothing is."""
        height = height_at_withers(exhibit) or 0.6
        degrees = exhibit.drawing["faults"]
        for row in there:
            if chance.random() < eye.chance_of_seeing(row.zone, degrees[row.fault.figure]):
                fault = row.fault if chance.random() < eye.names else self._near(row.fault, exhibit, chance)
                level = _weigh(eye, row.level or 0, SERIOUS + 1, chance)
                yield _sent(
                    fault, level, [_redrawn(part, eye, height, exhibit, chance) for part in row.regions]
                )
        bare = sorted(VISIBLE_ZONES[exhibit.view] - {row.zone for row in there} - {"whole", "coat"})
        for zone in bare:
            if chance.random() < eye.false_alarm:
                yield from self._in_vain(eye, zone, exhibit, height, chance)

    def _near(self, fault: Fault, exhibit: Exhibit, chance: Random) -> Fault:
        near = [other for other in self._named(exhibit, fault.zone) if other != fault]
        return chance.choice(near) if near else fault

    def _named(self, exhibit: Exhibit, zone: str) -> list[Fault]:
        """What this view could show in a zone."""
        return [
            fault
            for fault in self.faults
            if fault.zone == zone and exhibit.view in PRESETS[fault.figure].views and fault.clause_id
        ]

    def _in_vain(
        self, eye: Eye, zone: str, exhibit: Exhibit, height: float, chance: Random
    ) -> Iterator[dict[str, Any]]:
        known = [fault for fault in self._named(exhibit, zone) if fault.level <= SERIOUS]
        outline = zone_outlines(exhibit.view, Settings.from_dict(exhibit.drawing["settings"])).get(zone)
        if known and outline:
            fault = chance.choice(known)
            where = _drawable([_round_about(middle(outline), RADIUS * height)], exhibit)
            yield _sent(fault, _weigh(eye, fault.level, SERIOUS, chance), where)

    def _completed(self, draft: Key, there: Sequence[KeyEntry]) -> Key:
        """Put back what is there and was not agreed on, leave out what is not; nothing where they agree."""
        agreed = {row.fault_id: row for row in draft.entries.all()}
        if set(agreed) == {row.fault_id for row in there}:
            return draft
        entries = [_fields(agreed.get(row.fault_id, row)) for row in there]
        note = self.scenario.panel.departs
        return save_draft(key=draft, sound=not there, note=note, entries=entries, by=self._educator.person)


def _entries(draft: Key) -> list[KeyEntry]:
    return list(draft.entries.select_related("fault", "clause"))


def _fields(row: KeyEntry) -> dict[str, Any]:
    names = ("fault_id", "clause_id", "zone", "level", "whole_dog", "regions", "also")
    return {name: getattr(row, name) for name in names}


def _sent(fault: Fault, level: int, regions: Sequence[Any]) -> dict[str, Any]:
    """What a browser sends of one fault."""
    return {
        "fault": fault.pk,
        "clause": fault.clause_id,
        "level": level,
        "whole_dog": not regions,
        "regions": regions,
    }


def _weigh(eye: Eye, level: int, highest: int, chance: Random) -> int:
    return min(highest, max(0, round(chance.gauss(level + eye.severity_bias, eye.severity_sd))))


def _redrawn(
    region: Sequence[Sequence[float]], eye: Eye, height: float, exhibit: Exhibit, chance: Random
) -> list[list[float]]:
    """The region as this hand draws it: a little beside, a little larger or smaller."""
    x, y = middle([(a, b) for a, b in region])
    spread = eye.aim_sd * height
    right, down, size = chance.gauss(0, spread), chance.gauss(0, spread), 1 + chance.gauss(0, SIZE_SD)
    drawn = [(x + right + (a - x) * size, y + down + (b - y) * size) for a, b in region]
    return _drawable([drawn], exhibit)[0]


def _drawable(outlines: Sequence[Sequence[tuple[float, float]]], exhibit: Exhibit) -> list[Any]:
    """Within the picture, with as many corners as a person would set."""
    canvas = Canvas(exhibit.width, exhibit.height, most=8, corners=120)
    kept = [
        tuple((min(max(x, 0.0), canvas.right), min(max(y, 0.0), canvas.foot)) for x, y in outline)
        for outline in outlines
    ]
    return as_drawn(kept, canvas)


def _round_about(place: tuple[float, float], radius: float) -> list[tuple[float, float]]:
    turns = [2 * math.pi * corner / ROUND for corner in range(ROUND)]
    return [(place[0] + radius * math.cos(turn), place[1] + radius * math.sin(turn)) for turn in turns]
