"""Reads about key panels: who sits on them, who has handed in, what they amount to, who saw what when."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, Protocol, TypeVar

from django.db.models import Count, Exists, F, OuterRef, Prefetch, Q, QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.models import Item, KeyPanel, KeyPanelEvent, Panellist, Quiz
from courses.queries.permission import may_be_shown
from shared.accounts.models import Club, Membership
from shared.accounts.permissions import ROLES, Ability

EVENTS_SHOWN = 200
PANELS_SHOWN = 20
Found = TypeVar("Found", covariant=True)


class Finds(Protocol[Found]):
    """What turns markings into what a panel agrees on; see `assessments.items.panel.PanelMethod`."""

    def find(self, panel: KeyPanel, markings: Mapping[int, dict[str, Any]]) -> Found: ...


def possible_panellists(club: Club) -> QuerySet[Membership]:
    """Present members whose roles let them mark for a key, by name."""
    able = Q()
    for role in ROLES[Ability.MARK_AS_PANELLIST]:
        able |= Q(**{role: True})
    members = Membership.objects.filter(able, club=club, left_at=None)
    return members.select_related("person").order_by("person__name", "pk")


def items_with_panels(quiz: Quiz) -> QuerySet[Item]:
    """A quiz's items in order, with `panels_count`, how many panels have marked each, and `panel_open`."""
    at_work = KeyPanel.objects.filter(item=OuterRef("pk"), closed_at=None)
    done = Count("key_panels", filter=Q(key_panels__closed_at__isnull=False, key_panels__called_off=False))
    return (
        Item.objects.filter(quiz_items__quiz=quiz)
        .select_related("exhibit", "clause")
        .prefetch_related("exhibit__permissions", "keys")
        .annotate(panels_count=done, panel_open=Exists(at_work))
        .order_by("quiz_items__position", "pk")
    )


def panels_of(club: Club) -> QuerySet[KeyPanel]:
    """All key panels of the club, each with its panellists by name, its item and the item's exhibit."""
    seats = Panellist.objects.select_related("member__person").order_by("member__person__name", "pk")
    return (
        KeyPanel.objects.filter(item__edition__breed__club=club)
        .select_related("item__exhibit", "item__edition__breed__club")
        .defer("item__exhibit__drawing")
        .prefetch_related(
            Prefetch("panellists", seats), "item__exhibit__renditions", "item__exhibit__permissions"
        )
    )


def with_counts(panels: QuerySet[KeyPanel]) -> QuerySet[KeyPanel]:
    """With `asked` and `handed_in`, how many were asked and have handed in."""
    done = Count("panellists", filter=~Q(panellists__handed_in_at=None), distinct=True)
    return panels.annotate(asked=Count("panellists", distinct=True), handed_in=done)


def all_handed_in(club: Club) -> QuerySet[KeyPanel]:
    """Open panels of the club in which nobody is waited for any more, the oldest first."""
    waited_for = Panellist.objects.filter(panel=OuterRef("pk"), handed_in_at=None)
    return panels_of(club).filter(~Exists(waited_for), closed_at=None).order_by("opened_at", "pk")


def own_seats(member: Membership) -> QuerySet[Panellist]:
    """The panels on which a member sits, those for which they have not handed in first, then the newest."""
    return (
        Panellist.objects.filter(member=member, panel__item__edition__breed__club=member.club_id)
        .select_related("panel__item__exhibit", "panel__item__edition__breed__club", "member__person")
        .defer("panel__item__exhibit__drawing", "panel__result")
        .prefetch_related("panel__item__exhibit__renditions", "panel__item__exhibit__permissions")
        .order_by(F("handed_in_at").desc(nulls_first=True), "-invited_at", "-pk")
    )


def seats_at_work(member: Membership) -> QuerySet[Panellist]:
    """Those whose marking is still waited for, the most urgent first."""
    seats = own_seats(member).filter(handed_in_at=None, panel__closed_at=None)
    return seats.order_by(F("panel__wanted_by").asc(nulls_last=True), "invited_at", "pk")


def may_be_looked_at(panel: KeyPanel) -> bool:
    """Whether the panel's markings may be seen: it is closed, or nobody is waited for."""
    if panel.called_off:
        return False
    return not panel.open or not panel.panellists.filter(handed_in_at=None).exists()


def has_looked(panel: KeyPanel, member: Membership) -> bool:
    """Whether a member has seen the panel's markings."""
    return panel.events.filter(what=KeyPanelEvent.What.LOOKED, by=member).exists()


def people_who_looked(items: Collection[Item]) -> QuerySet[KeyPanelEvent, int]:
    """Persons, by their ids, who have seen the markings of a panel on one of these items."""
    looks = KeyPanelEvent.objects.filter(panel__item__in=items, what=KeyPanelEvent.What.LOOKED)
    return looks.order_by().values_list("by__person", flat=True).distinct()


def finding_of(panel: KeyPanel, method: Finds[Found]) -> Found:
    """What the markings that were handed in amount to now."""
    handed_in = panel.panellists.exclude(handed_in_at=None).order_by("pk")
    return method.find(panel, {seat.pk: seat.content for seat in handed_in})


def record_of(panel: KeyPanel) -> QuerySet[KeyPanelEvent]:
    """What happened on a panel, in order."""
    return panel.events.select_related("by__person", "of__person")[:EVENTS_SHOWN]


def reasons_against(item: Item) -> list[str]:
    """What stands against asking a panel about an item, in words; panellists see its exhibit as trainees do."""
    against = []
    if item.state == Item.State.RETIRED:
        against.append(_("Bring the item back first; it is retired."))
    if not may_be_shown(item.exhibit, timezone.localdate()):
        against.append(
            _("Publish the exhibit, with its owner’s permission: panellists must be able to see it.")
        )
    return against
