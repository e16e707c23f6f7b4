"""Reads of what mentors and educators marked for keys, each alone, and of marks that two of them gave."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db.models import DecimalField, Exists, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce, Greatest, TruncDate

from assessments.evidence.agreement import Marking, MarksTwice, PanelRatings
from assessments.models import Key, KeyEntry, KeyPanel, MentoringRules, Panellist, SecondMarking
from assessments.queries.evidence import Within, keys_in_use
from assessments.scoring.beside_key import BesideKey, beside_key
from assessments.snapshots import bare_entries, panel_markings
from shared.accounts.models import Club, Membership

# Of a key's fault all that a comparison needs; keys, clauses and faults are long.
ENTRY = ("level", "zone", "regions", "whole_dog", "also", "fault__name", "clause__number", "key__item")
# Panels and marks given twice that the figures are of, the newest.
PANELS_READ = 200
MARKS_READ = 5_000
NAMES = ("first__person__name", "second__person__name")


def judging(club: Club) -> QuerySet[Membership]:
    """Members of whom the evidence may tell by name: mentors and educators, those who have left too."""
    able = Q(mentor=True) | Q(educator=True)
    return Membership.objects.filter(able, club=club).select_related("person").order_by("person__name", "pk")


def markings_done(club: Club, within: Within) -> QuerySet[Panellist]:
    """Markings of faults that panels have done with: of each member the first of an item, the newest panels first.

    Whoever marks an item a second time may know its key.
    """
    done = Q(panel__called_off=False, panel__closed_at__isnull=False, handed_in_at__isnull=False)
    earlier = KeyPanel.objects.filter(
        item=OuterRef("panel__item"),
        number__lt=OuterRef("panel__number"),
        called_off=False,
        panellists__member=OuterRef("member"),
        panellists__handed_in_at__isnull=False,
    )
    seats = Panellist.objects.filter(done, member__in=judging(club).order_by().values("pk")).filter(
        panel__item__edition__breed__club=club, panel__item__kind="mark-the-faults"
    )
    if within.quiz:
        seats = seats.filter(panel__item__quizzes=within.quiz)
    if within.since:
        seats = seats.filter(handed_in_at__date__gte=within.since)
    if within.until:
        seats = seats.filter(handed_in_at__date__lte=within.until)
    return seats.exclude(Exists(earlier)).order_by("-panel__closed_at", "-panel", "pk")


@dataclass(frozen=True)
class Compared:
    """The markings of the newest panels beside the keys in use, the panels' own ratings, and who marked."""

    markings: list[Marking]
    panels: list[PanelRatings]
    names: dict[int, str]


def compared(club: Club, within: Within, labels: Sequence[str]) -> Compared:
    """All that is counted of them; `labels` are the levels of the club's ladder of today."""
    seats = markings_done(club, within)
    newest = KeyPanel.objects.filter(pk__in=seats.order_by().values("panel")).order_by("-closed_at", "-pk")
    read = with_keyed(newest).only("item", "ladder", "result")[:PANELS_READ]
    panels = {panel.pk: panel for panel in read}
    own = ("panel", "content", "member__person__name")
    counted = list(seats.filter(panel__in=list(panels)).select_related("member__person").only(*own))
    markings = [
        Marking(seat.member_id, beside, _today(beside.levels, panels[seat.panel_id], labels))
        for seat, beside in beside_keys(counted, panels)
    ]
    members: dict[int, dict[int, int]] = {}
    for seat in counted:
        members.setdefault(seat.panel_id, {})[seat.pk] = seat.member_id
    ratings = [_ratings(panel, members.get(pk, {}), labels) for pk, panel in panels.items()]
    return Compared(markings, ratings, {seat.member_id: str(seat.member.person) for seat in counted})


def with_keyed(panels: QuerySet[KeyPanel]) -> QuerySet[KeyPanel]:
    """With `keyed`, whether the panel's item has a key in use."""
    published = Key.objects.filter(item=OuterRef("item")).exclude(published_at=None)
    return panels.annotate(keyed=Exists(published))


def beside_keys(
    seats: Iterable[Panellist], panels: Mapping[int, KeyPanel]
) -> list[tuple[Panellist, BesideKey]]:
    """Each marking beside the key in use of its item, where there is one; `panels` say whether they are `keyed`."""
    keys = _keys({panel.item_id for panel in panels.values()})
    # A fault that was renamed since is called in a marking as the keys call it now.
    names = {row.fault_id: row.fault.name for entries in keys.values() for row in entries}
    counted = [seat for seat in seats if panels[seat.panel_id].keyed]
    marked = panel_markings({seat.pk: seat.content for seat in counted}, names, {})
    entries = {item: bare_entries(rows) for item, rows in keys.items()}
    return [
        (seat, beside_key(entries.get(panels[seat.panel_id].item_id, []), marked[str(seat.pk)]))
        for seat in counted
    ]


def _keys(items: Collection[int]) -> dict[int, list[KeyEntry]]:
    """The faults of the keys in use by item; of a sound exhibit there are none."""
    rows = KeyEntry.objects.filter(key__in=keys_in_use().filter(item__in=items).order_by().values("pk"))
    found: dict[int, list[KeyEntry]] = {}
    for row in rows.select_related("fault", "clause", "key").only(*ENTRY):
        found.setdefault(row.key.item_id, []).append(row)
    return found


def _levels_today(panel: KeyPanel, labels: Sequence[str]) -> list[int | None]:
    """For each level of the panel's ladder the level of today that is called so; None where none is."""
    today = {label.casefold(): level for level, label in enumerate(labels)}
    return [today.get(label.casefold()) for label in panel.ladder["labels"]]


def _today(pairs: Iterable[tuple[int, int]], panel: KeyPanel, labels: Sequence[str]) -> list[tuple[int, int]]:
    levels = _levels_today(panel, labels)
    mapped = ((levels[given], key) for given, key in pairs)
    return [(given, key) for given, key in mapped if given is not None and key < len(labels)]


def _ratings(panel: KeyPanel, members: Mapping[int, int], labels: Sequence[str]) -> PanelRatings:
    """What the panel was found to have said when it was closed, of those whose markings count."""
    levels = _levels_today(panel, labels)
    faults = [
        {members[row["panellist"]]: row["level"] for row in group["marked"] if row["panellist"] in members}
        for group in panel.result["groups"]
    ]
    zones = [
        {
            members[seat]: level
            for seat, level in zip(panel.result["counted"], zone["levels"], strict=True)
            if seat in members
        }
        for zone in panel.result["zones"]
    ]
    return PanelRatings(
        faults=[_known({member: levels[level] for member, level in found.items()}) for found in faults],
        zones=[
            _known({member: 0 if level is None else _next(levels[level]) for member, level in rated.items()})
            for rated in zones
        ],
    )


def _next(level: int | None) -> int | None:
    return None if level is None else level + 1


def _known(ratings: Mapping[int, int | None]) -> dict[int, int]:
    return {member: rating for member, rating in ratings.items() if rating is not None}


def marks_given_twice(club: Club, within: Within) -> QuerySet[SecondMarking]:
    """Of which both marks are there, the newest first."""
    able = judging(club).order_by().values("pk")
    found = (
        SecondMarking.objects.filter(answer__sitting__trainee__club=club, withdrawn_at=None)
        .filter(first__in=able, second__in=able, first_points__isnull=False, second_points__isnull=False)
        .annotate(given_at=Greatest("first_at", "second_at"))
    )
    if within.quiz:
        found = found.filter(answer__sitting__quiz=within.quiz)
    if within.since:
        found = found.filter(given_at__date__gte=within.since)
    if within.until:
        found = found.filter(given_at__date__lte=within.until)
    return found.order_by("-given_at", "-pk")


def marks_twice(club: Club, within: Within) -> tuple[list[MarksTwice], dict[int, str]]:
    """The same as numbers, and who gave them. Near is what the club called so when both were there."""
    usual = MentoringRules(club=club).near
    rules = MentoringRules.objects.filter(club=club, effective_from__lte=OuterRef("given_on"))
    rows = (
        marks_given_twice(club, within)
        .annotate(given_on=TruncDate("given_at"))
        .annotate(near=Coalesce(Subquery(rules.values("near")[:1]), Value(usual, DecimalField())))
        .values_list(
            "first",
            "second",
            "first_points",
            "second_points",
            "near",
            "first__person__name",
            "second__person__name",
        )
    )[:MARKS_READ]
    marks, names = [], {}
    for first, second, one, other, near, first_name, second_name in rows:
        marks.append(MarksTwice(first, second, float(one), float(other), float(near)))
        names |= {first: first_name, second: second_name}
    return marks, names


def markings_behind(
    club: Club, within: Within, member: Membership, other: Membership | None
) -> QuerySet[Panellist]:
    """A member's markings that are counted; with `other` only of panels on which both are."""
    seats = markings_done(club, within)
    found = seats.filter(member=member)
    if other:
        found = found.filter(panel__in=seats.filter(member=other).order_by().values("panel"))
    return found.select_related("panel__item__exhibit").defer(
        "panel__result", "panel__item__exhibit__drawing"
    )


def marks_behind(
    markings: QuerySet[SecondMarking], member: Membership, other: Membership | None
) -> QuerySet[SecondMarking]:
    """Of these those in which the member gave one of the two marks; with `other`, they the other."""
    own = Q(first=member) | Q(second=member)
    if other:
        own = Q(first=member, second=other) | Q(first=other, second=member)
    return markings.filter(own).select_related("first__person", "second__person", "answer__sitting__quiz")
