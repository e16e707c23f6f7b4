"""The large club's panels: mentors who marked its exhibits for their keys, and answers that two of them marked."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from decimal import Decimal
from random import Random
from typing import Any

from django.db import transaction
from django.utils import timezone

from assessments.items import kind_of
from assessments.models import Item, KeyPanel, Panellist, Review, SecondMarking
from assessments.rules import shown_points
from courses.queries.severity import ladder_of
from shared.accounts.models import Club, Membership

PANELLISTS, MARKED_TWICE = 4, 400
SEEN, AS_KEY = 0.9, 0.8


@transaction.atomic
def make_panels(club: Club, chance: Random) -> int:
    """One closed panel for each item, of the club's first mentors; returns how many markings they handed in."""
    members = list(club.memberships.filter(mentor=True).order_by("pk")[:PANELLISTS])
    ladder = ladder_of(club)
    kept = {"labels": list(ladder.labels), "weights": list(ladder.weights)}
    items = Item.objects.filter(edition__breed__club=club).prefetch_related(
        "exhibit", "keys__entries__fault", "keys__entries__clause"
    )
    return sum(_panel(item, members, kept, chance) for item in items)


def _panel(item: Item, members: Sequence[Membership], ladder: dict[str, Any], chance: Random) -> int:
    method = kind_of(item).panel
    assert method is not None
    now = timezone.now() - datetime.timedelta(days=chance.uniform(1, 300))
    zones = method.zones(item)
    panel = KeyPanel.objects.create(item=item, number=1, ladder=ladder, zones=zones, opened_at=now)
    seats = Panellist.objects.bulk_create(
        Panellist(panel=panel, member=member, content=_marked(item, chance), handed_in_at=now)
        for member in members
    )
    finding = method.find(panel, {seat.pk: seat.content for seat in seats})
    panel.result, panel.agreement, panel.fit = finding.result, finding.agreement, finding.fit
    panel.closed_at = now
    panel.save()
    return len(seats)


def _marked(item: Item, chance: Random) -> dict[str, Any]:
    """Most of the key's faults, most of them as heavy."""
    entries = [
        {
            "fault": row.fault_id,
            "name": row.fault.name,
            "clause": row.clause_id,
            "number": row.clause.number,
            "zone": row.zone,
            "level": row.level if chance.random() < AS_KEY else min(3, row.level + 1),
            "whole_dog": False,
            "regions": row.regions,
        }
        for row in item.keys.all()[0].entries.all()
        if chance.random() < SEEN
    ]
    return {"sound": not entries, "note": "", "entries": entries}


@transaction.atomic
def mark_twice(club: Club, chance: Random) -> int:
    """Some returned answers were marked by another mentor too; returns how many."""
    mentors = list(club.memberships.filter(mentor=True).order_by("pk")[:PANELLISTS])
    reviews = Review.objects.filter(mentor__club=club).exclude(returned_at=None).order_by("pk")
    now = timezone.now()
    rows = []
    for review in reviews.select_related("answer")[:MARKED_TWICE]:
        second = next((mentor for mentor in mentors if mentor.pk != review.mentor_id), None)
        if second is not None:
            first = shown_points(review.answer.marks.get(current=True))
            points = min(Decimal(100), max(Decimal(0), first + chance.randrange(-8, 9)))
            rows.append(
                SecondMarking(
                    answer=review.answer, asked_by_id=review.mentor_id, why="By lot.",
                    first_id=review.mentor_id, first_points=first, first_at=now,
                    second=second, second_points=points, second_at=now,
                )
            )  # fmt: skip
    return len(SecondMarking.objects.bulk_create(rows))
