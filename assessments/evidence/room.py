"""One item as the room saw it: each fault of the key, what else was called, and every pin."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from assessments.evidence.shares import RECOGNISED
from assessments.models import EntryResult, KeyEntry
from assessments.rules import letter

Outcome = EntryResult.Outcome
ALARMS_SHOWN = 12
LINES_SHOWN = 40


@dataclass(frozen=True)
class Weighed:
    """How many gave one level of the ladder to a fault."""

    label: str
    n: int
    is_key: bool


@dataclass
class EntrySeen:
    """One fault of the key: how many of `people` saw it, named it as the key, and weighed it so too.

    `otherwise` is what else it was called, most often first, "" for without a name; `levels` what it was given
    by those who recognised it, `unweighed` how many of them gave nothing.
    """

    entry: KeyEntry
    letter: str
    people: int
    saw: int = 0
    named: int = 0
    weighed: int = 0
    otherwise: list[tuple[str, int]] = field(default_factory=list)
    levels: list[Weighed] = field(default_factory=list)
    unweighed: int = 0


@dataclass(frozen=True)
class Alarm:
    """Something called where the key has nothing: by how many people, and what severity they gave on average."""

    name: str
    zone: str
    people: int


@dataclass(frozen=True)
class Room:
    """All of it. `clean` people called nothing that is not there; `pins` are [x, y, place or None]."""

    people: int
    clean: int
    entries: list[EntrySeen]
    alarms: list[Alarm]
    pins: list[list[Any]]


def room_of(
    people: int,
    key: Sequence[KeyEntry],
    labels: Sequence[str],
    results: Iterable[dict[str, Any]],
    alarms: Iterable[dict[str, Any]],
) -> Room:
    """From counted rows of first sittings; rows that another key than this gave are left out."""
    by_place: dict[int, list[dict[str, Any]]] = {place: [] for place in range(len(key))}
    for row in results:
        if row["place"] < len(key) and row["fault_id"] == key[row["place"]].fault_id:
            by_place[row["place"]].append(row)
    called = list(alarms)
    return Room(
        people=people,
        clean=people - len({row["answer_id"] for row in called}),
        entries=[_entry_seen(place, key[place], people, rows, labels) for place, rows in by_place.items()],
        alarms=_alarms(called),
        pins=[*_pins(by_place), *([row["x"], row["y"], None] for row in called if row["x"] is not None)],
    )


def _entry_seen(
    place: int, entry: KeyEntry, people: int, rows: list[dict[str, Any]], labels: Sequence[str]
) -> EntrySeen:
    outcomes = Counter(row["outcome"] for row in rows)
    recognised = [row for row in rows if row["outcome"] in RECOGNISED]
    named_otherwise = Counter(
        row["given_fault__name"] or ""
        for row in rows
        if row["outcome"] in (Outcome.OTHERWISE, Outcome.PARTLY, Outcome.PARTLY_OFF)
    )
    given = Counter(row["given_level"] for row in recognised)
    return EntrySeen(
        entry=entry,
        letter=letter(place),
        people=people,
        saw=len(rows) - outcomes[Outcome.MISSED],
        named=outcomes[Outcome.OFF] + outcomes[Outcome.AS_KEY],
        weighed=outcomes[Outcome.AS_KEY],
        otherwise=named_otherwise.most_common(),
        levels=[Weighed(label, given[level], level == entry.level) for level, label in enumerate(labels)],
        unweighed=given[None],
    )


def _alarms(rows: Iterable[dict[str, Any]]) -> list[Alarm]:
    who: dict[tuple[str, str], set[int]] = {}
    for row in rows:
        who.setdefault((row["fault__name"] or "", row["zone"]), set()).add(row["answer_id"])
    found = [Alarm(name, zone, len(answers)) for (name, zone), answers in who.items()]
    return sorted(found, key=lambda alarm: (-alarm.people, alarm.name))[:ALARMS_SHOWN]


def _pins(by_place: dict[int, list[dict[str, Any]]]) -> Iterable[list[Any]]:
    for place, rows in by_place.items():
        for row in rows:
            if row["x"] is not None:
                yield [row["x"], row["y"], place]


@dataclass(frozen=True)
class Said:
    """One line of the explanation as the room earned it: how many people, and what each won or lost by it."""

    text: str
    people: int
    points: float


def said_by_room(answers: Iterable[Sequence[dict[str, Any]]]) -> list[Said]:
    """The lines of many marks of one item, those of most people first; they say what was chosen or written."""
    found = Counter((line["text"], round(line["points"], 6)) for lines in answers for line in lines)
    return [Said(text, people, points) for (text, points), people in found.most_common(LINES_SHOWN)]
