"""The tables of the evidence as files: heads and rows, shares as fractions with four digits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django.utils.translation import gettext as _

from assessments.evidence.cut import ItemEstimates
from assessments.evidence.mentors import MentorRow
from assessments.evidence.mix import Mix
from assessments.evidence.paper import PaperFigures
from assessments.evidence.plots import band_counts
from assessments.evidence.room import Room
from assessments.evidence.shares import Row, Share
from assessments.evidence.words import flags_in_words

Table = tuple[list[str], list[list[Any]]]


def quizzes_table(lines: Iterable[dict[str, Any]]) -> Table:
    """Every quiz with its figures."""
    heads = [
        _("quiz"), _("people"), _("items"), _("mean"), _("reliability alpha"), _("standard error of a mark"),
        _("items to look at"),
    ]  # fmt: skip
    rows = []
    for line in lines:
        quiz, found = line["quiz"], line["figures"]
        told = [four(found.mean), four(found.alpha), four(found.sem), found.flagged] if found else [None] * 4
        rows.append([quiz.title, quiz.people or 0, quiz.items_count, *told])
    return heads, rows


def items_table(lines: Iterable[dict[str, Any]]) -> Table:
    """A quiz's items in order."""
    heads = [
        _("item"), _("exhibit"), _("faults"), _("answers"), _("facility"), _("discrimination"),
        _("upper less lower 27 %"), _("alpha without it"), _("look at"),
    ]  # fmt: skip
    rows = []
    for line in lines:
        found = line["figures"]
        exhibit = line["item"].exhibit
        first = [line["number"], exhibit.number if exhibit else None, line["faults"]]
        if found is None:
            rows.append([*first, 0, None, None, None, None, ""])
            continue
        shares = [found.facility, found.discrimination, found.upper_lower, found.alpha_without]
        rows.append([*first, found.presented, *map(four, shares), flags_in_words(found.flags)])
    return heads, rows


def marks_table(found: PaperFigures) -> Table:
    """People by the band of their mean mark."""
    counts = band_counts(found.marks)
    return [_("from"), _("below"), _("people")], [[10 * i, 10 * i + 10, n] for i, n in enumerate(counts)]


def room_table(room: Room, labels: Sequence[str]) -> Table:
    """What the room saw: the key's faults, then what was called where there is none."""
    heads = [
        _("in the key"), _("fault"), _("clause"), _("severity"), _("people"), _("saw it"), _("named it"),
        _("weighed it"), *(_("recognised, given %(level)s") % {"level": label} for label in labels),
        _("recognised, not weighed"), _("most often called instead"),
    ]  # fmt: skip
    rows = [
        [
            seen.letter, seen.entry.fault.name, seen.entry.clause.number, labels[seen.entry.level], seen.people,
            seen.saw, seen.named, seen.weighed, *(level.n for level in seen.levels), seen.unweighed,
            seen.otherwise[0][0] if seen.otherwise else "",
        ]
        for seen in room.entries
    ]  # fmt: skip
    empty = [None] * (len(labels) + 5)
    rows += [
        [_("not in the key"), alarm.name or _("without a name"), "", "", alarm.people, *empty]
        for alarm in room.alarms
    ]
    return heads, rows


def shares_table(rows: Iterable[Row], heads: Sequence[str], about: Any) -> Table:
    """Clauses or zones; `about` gives a row's first cells. Where too few answered the figures stay empty."""
    parts = [_("missed"), _("misnamed"), _("misweighed")]
    every = [*heads, _("faults asked")]
    for part in parts:
        every += [part, _("%(what)s of") % {"what": part}, _("from"), _("to")]
    told = [
        [*about(row), row.asked, *_cells(row.missed), *_cells(row.misnamed), *_cells(row.misweighed)]
        if row.told
        else [*about(row), *[None] * (1 + 4 * len(parts))]
        for row in rows
    ]
    return every, told


def cut_table(names: Sequence[str], items: Iterable[tuple[str, ItemEstimates]]) -> Table:
    """Panellists' estimates of each item, as fractions, under their names."""
    heads = [_("item"), *names, _("mean"), _("lowest"), _("highest"), _("standard deviation")]
    rows = [
        [name, *map(four, each.estimates), *map(four, (each.mean, each.low, each.high, each.sd))]
        for name, each in items
    ]
    return heads, rows


def mentors_table(rows: Iterable[MentorRow]) -> Table:
    """Mentors; figures only of those who looked at enough answers."""
    heads = [
        _("mentor"), _("answers returned"), _("adjusted"), _("mean size, points"), _("mean change, points"),
        _("from"), _("to"),
    ]  # fmt: skip
    found = []
    for row in rows:
        if not row.told:
            found.append([row.name, *[None] * 6])
            continue
        known = row.bias is not None and row.bias.enough
        change = (
            [four(value) for value in (row.bias.mean, row.bias.low, row.bias.high)] if known else [None] * 3
        )
        found.append([row.name, row.returned, row.adjusted, four(row.size), *change])
    return heads, found


def mix_table(mix: Mix, labels: Sequence[str]) -> Table:
    """Faults over the exhibits, and the sound ones."""
    heads = [_("fault"), _("zone"), *labels, _("exhibits"), _("share")]
    rows: list[list[Any]] = [
        [row.fault, row.zone, *row.levels, row.exhibits, four(row.share)] for row in mix.faults
    ]
    return heads, [
        *rows,
        [_("Sound dog"), "", *[None] * len(labels), mix.sound, four(mix.sound_share)],
    ]


def _cells(share: Share) -> list[Any]:
    return [share.n, share.of, *map(four, (share.estimate.low, share.estimate.high))]


def four(value: float | None) -> float | None:
    """Rounded to four digits."""
    return None if value is None else round(value, 4)
