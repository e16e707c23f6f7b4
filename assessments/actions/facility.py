"""How hard items are: what lags behind is worked out when somebody looks, and kept."""

from __future__ import annotations

from collections.abc import Collection

from django.db import transaction
from django.db.models import Avg, Count, F

from assessments.models import Facility, Item, Mark
from assessments.tasks import work_out_facilities
from shared.accounts.models import Club

# So many answers are counted while a page waits; items with more are left to the background.
AT_ONCE = 40_000
ROWS_AT_ONCE = 200


@transaction.atomic(savepoint=False)
def count_item_change(*, item: Item, marks: int) -> None:
    """Say that the item's facility lags so many marks behind; to be called in what changes them."""
    kept = Facility.objects.filter(item=item)
    if not kept.update(changes=F("changes") + marks):
        Facility.objects.bulk_create([Facility(item=item)], ignore_conflicts=True)
        kept.update(changes=F("changes") + marks)


def bring_facilities_up_to_date(*, club: Club) -> None:
    """Work out what lags behind of a club's items, as far as a page can wait; the rest is asked for."""
    behind = Facility.objects.filter(item__edition__breed__club=club).exclude(counted=F("changes"))
    now, later, room = [], [], AT_ONCE
    for pk, people, changes in behind.order_by("people", "pk").values_list("pk", "people", "changes"):
        room -= max(people, changes)
        (now if room >= 0 else later).append(pk)
    work_out(facilities=now)
    if later:
        work_out_facilities.enqueue(later)


def work_out(*, facilities: Collection[int]) -> int:
    """These rows anew from the marks of all first sittings; returns how many there were."""
    rows = list(Facility.objects.filter(pk__in=list(facilities)))
    found = {
        item: (people, share)
        for item, people, share in Mark.objects.filter(
            current=True, answer__item__in=[row.item_id for row in rows], answer__sitting__number=1
        )
        .order_by()
        .values_list("answer__item")
        .annotate(Count("answer__sitting__trainee", distinct=True), Avg("score"))
    }
    for row in rows:
        row.people, row.share = found.get(row.item_id, (0, None))
        row.counted = row.changes
    Facility.objects.bulk_update(rows, ["people", "share", "counted"], ROWS_AT_ONCE)
    return len(rows)
