"""A panel's way to a key: asked, marking each for themselves, closed, made the draft key."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Collection

from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.keys import discard_draft, save_draft, start_draft
from assessments.items import kind_of
from assessments.items.panel import PanelMethod
from assessments.models import Item, Key, KeyPanel, KeyPanelEvent, Panellist
from assessments.queries.key_panels import (
    finding_of,
    has_looked,
    may_be_looked_at,
    possible_panellists,
    reasons_against,
)
from assessments.queries.quizzes import draft_key, published_key
from assessments.rules import NotReady, Refused
from courses.queries.severity import ladder_of
from shared.accounts.models import Membership
from shared.web.limits import PANELLISTS_PER_PANEL

What = KeyPanelEvent.What


class MarkingOvertaken(Exception):
    """A later save has been made in another window; `panellist` is what is kept."""

    def __init__(self, panellist: Panellist) -> None:
        super().__init__(_("Your marking was changed in another window."))
        self.panellist = panellist


@transaction.atomic
def ask_panel(
    *,
    item: Item,
    members: Collection[Membership],
    by: Membership,
    word: str = "",
    wanted_by: datetime.date | None = None,
) -> KeyPanel:
    """Ask members to mark an item, each for themselves. The club's ladder of today goes with the panel.

    Refused while another panel is open. Raises NotReady with what the item still lacks before it can be marked.
    """
    Item.objects.select_for_update().get(pk=item.pk)
    method = panel_method(item)
    against = reasons_against(item)
    if against:
        raise NotReady(against)
    if item.key_panels.filter(closed_at=None).exists():
        raise Refused(_("A panel is at work on this item already."))
    scale = ladder_of(by.club)
    last = item.key_panels.aggregate(last=Max("number"))["last"] or 0
    panel = KeyPanel.objects.create(
        item=item,
        number=last + 1,
        word=word,
        wanted_by=wanted_by,
        ladder={"labels": scale.labels, "weights": scale.weights, "disqualifying": scale.disqualifying},
        zones=method.zones(item),
    )
    _invite(panel, members, by)
    return panel


@transaction.atomic
def ask_about_all(
    *,
    items: Collection[Item],
    members: Collection[Membership],
    by: Membership,
    word: str = "",
    wanted_by: datetime.date | None = None,
) -> list[KeyPanel]:
    """Ask the same members about several items, all or none."""
    if not items:
        raise Refused(_("Choose at least one item."))
    return [ask_panel(item=item, members=members, by=by, word=word, wanted_by=wanted_by) for item in items]


@transaction.atomic
def ask_more(*, panel: KeyPanel, members: Collection[Membership], by: Membership) -> None:
    """Ask further members while the panel is open. Whoever is asked already stays as they are."""
    held = _hold(panel)
    asked = set(held.panellists.values_list("member", flat=True))
    _invite(held, [member for member in members if member.pk not in asked], by)


def _invite(panel: KeyPanel, members: Collection[Membership], by: Membership) -> None:
    able = set(possible_panellists(by.club).values_list("pk", flat=True))
    if not members:
        raise Refused(_("Choose at least one member."))
    if not able.issuperset(member.pk for member in members):
        raise Refused(_("Only members who may mark for a key can be asked."))
    looked = panel.events.filter(what=What.LOOKED, by__in=[member.pk for member in members])
    if looked.exists():
        raise Refused(_("Whoever has looked at the panel’s markings cannot mark for it."))
    if panel.panellists.count() + len(members) > PANELLISTS_PER_PANEL:
        raise Refused(_("A panel has at most %(n)d members.") % {"n": PANELLISTS_PER_PANEL})
    Panellist.objects.bulk_create(Panellist(panel=panel, member=member) for member in members)
    KeyPanelEvent.objects.bulk_create(
        KeyPanelEvent(panel=panel, what=What.INVITED, by=by, of=member) for member in members
    )


@transaction.atomic
def open_marking(*, panellist: Panellist) -> None:
    """Record that a panellist has seen the exhibit for the first time."""
    if not panellist.panel.open:
        return
    _note_once(panellist.panel, What.OPENED, panellist.member)


@transaction.atomic
def save_marking(*, panellist: Panellist, sent: object, seen: int, identity: uuid.UUID) -> Panellist:
    """Keep a marking if nobody saved after the revision that this page has seen.

    The newest identity again changes nothing. Raises MarkingOvertaken with what is kept if another window saved
    in between, Refused once it is handed in or the panel is closed, KeyRefused if it cannot be read.
    """
    held = _held_seat(panellist)
    if identity == held.last_save:
        return held
    _refuse_unless_at_work(held)
    content = panel_method(held.panel.item).read(held.panel, sent)
    if seen != held.revision:
        raise MarkingOvertaken(held)
    held.content, held.saved_at = content, timezone.now()
    held.revision, held.last_save = held.revision + 1, identity
    held.save(update_fields=["content", "saved_at", "revision", "last_save"])
    return held


@transaction.atomic
def hand_in_marking(*, panellist: Panellist, seen: int | None = None) -> Panellist:
    """Hand a marking in, once: a second press finds it handed in and changes nothing.

    Raises NotReady with what is missing, MarkingOvertaken if another window saved since, and Refused once the
    panel is closed.
    """
    held = _held_seat(panellist)
    if held.handed_in_at:
        return held
    _refuse_unless_at_work(held)
    if seen is not None and seen != held.revision:
        raise MarkingOvertaken(held)
    missing = panel_method(held.panel.item).lacks(held.content)
    if missing:
        raise NotReady(missing)
    held.handed_in_at = timezone.now()
    held.save(update_fields=["handed_in_at"])
    _note(held.panel, What.HANDED_IN, held.member)
    return held


@transaction.atomic
def take_back_marking(*, panellist: Panellist) -> Panellist:
    """Go on with a marking that was handed in, until the panel is closed.

    Refused to whoever has looked at the others' markings: theirs would not be their own any more.
    """
    held = _held_seat(panellist)
    if held.handed_in_at is None:
        return held
    if not held.panel.open:
        raise Refused(_("The panel is closed: what was handed in stays."))
    if has_looked(held.panel, held.member):
        raise Refused(_("You have looked at the panel’s markings: what you handed in stays."))
    held.handed_in_at = None
    held.save(update_fields=["handed_in_at"])
    _note(held.panel, What.TAKEN_BACK, held.member)
    return held


@transaction.atomic
def close_panel(*, panel: KeyPanel, by: Membership) -> KeyPanel:
    """Take no more markings, and keep what those that were handed in amount to."""
    held = _hold(panel)
    if not held.panellists.exclude(handed_in_at=None).exists():
        raise Refused(_("Nobody has handed in yet. Wait, or call the panel off."))
    finding = finding_of(held, panel_method(held.item))
    held.closed_at = timezone.now()
    held.result, held.agreement, held.fit = finding.result, finding.agreement, finding.fit
    held.save(update_fields=["closed_at", "result", "agreement", "fit"])
    _note(held, What.CLOSED, by)
    return held


@transaction.atomic
def call_off_panel(*, panel: KeyPanel, by: Membership) -> KeyPanel:
    """End a panel in which nobody has handed in."""
    held = _hold(panel)
    if held.panellists.exclude(handed_in_at=None).exists():
        raise Refused(_("A marking is handed in: close the panel instead, so that it counts."))
    held.closed_at, held.called_off = timezone.now(), True
    held.save(update_fields=["closed_at", "called_off"])
    _note(held, What.CALLED_OFF, by)
    return held


@transaction.atomic
def look_at_markings(*, panel: KeyPanel, by: Membership) -> None:
    """Record who saw the panel's markings: each member once a day of the club. Refused before they may be seen."""
    if not may_be_looked_at(panel):
        raise Refused(_("Markings are seen when all have handed in, or the panel is closed."))
    day = timezone.localdate()
    seen = panel.events.filter(what=What.LOOKED, by=by).values_list("at", flat=True)
    if day not in {timezone.localdate(at) for at in seen}:
        _note(panel, What.LOOKED, by)


@transaction.atomic
def draft_from_panel(*, panel: KeyPanel, by: Membership) -> Key:
    """Make what a closed panel agrees on the draft of the item's key.

    A draft in work is discarded where a key is in use, and can be taken back; else it is replaced. Made again
    from the same panel, it stays as it is. Names that the key before accepts are taken over.
    """
    held = KeyPanel.objects.get(pk=panel.pk)
    if held.open or held.called_off:
        raise Refused(_("Close the panel first."))
    item = (
        Item.objects.select_related("edition__breed__club")
        .prefetch_related("keys__entries")
        .get(pk=held.item_id)
    )
    held.item = item
    in_work = draft_key(item)
    if in_work is not None and in_work.panel_id == held.pk:
        return in_work
    content = panel_method(item).propose(held, held.result, in_work or published_key(item))
    if in_work is not None and published_key(item) is not None:
        discard_draft(item=item)
    draft = start_draft(item=item, by=by.person)
    save_draft(key=draft, note="", by=by.person, **content)
    draft.panel, draft.agreement, draft.fit = held, held.agreement, held.fit
    draft.save(update_fields=["panel", "agreement", "fit"])
    _note(held, What.DRAFTED, by)
    return Key.objects.get(pk=draft.pk)


def panel_method(item: Item) -> PanelMethod:
    """How a panel marks the item; Refused for a kind whose keys need no panel."""
    method = kind_of(item).panel
    if method is None:
        raise Refused(_("The key of an item of this kind is not drawn up by a panel."))
    return method


def _hold(panel: KeyPanel) -> KeyPanel:
    """The panel's row, locked until the transaction ends; Refused once it is closed."""
    held = (
        KeyPanel.objects.select_for_update(of=("self",))
        .select_related("item__exhibit", "item__edition__breed__club")
        .defer("item__exhibit__drawing")
        .get(pk=panel.pk)
    )
    if not held.open:
        raise Refused(_("The panel is closed."))
    return held


def _held_seat(panellist: Panellist) -> Panellist:
    """The panellist's row and the panel's, locked until the transaction ends."""
    return (
        Panellist.objects.select_for_update(of=("self", "panel"))
        .select_related("panel__item__exhibit", "panel__item__edition", "member")
        .defer("panel__item__exhibit__drawing", "panel__result")
        .get(pk=panellist.pk)
    )


def _refuse_unless_at_work(panellist: Panellist) -> None:
    if not panellist.panel.open:
        raise Refused(_("The panel is closed."))
    if panellist.handed_in_at:
        raise Refused(_("Your marking is handed in."))


def _note(panel: KeyPanel, what: KeyPanelEvent.What, by: Membership) -> None:
    KeyPanelEvent.objects.create(panel=panel, what=what, by=by)


def _note_once(panel: KeyPanel, what: KeyPanelEvent.What, by: Membership) -> None:
    if not panel.events.filter(what=what, by=by).exists():
        _note(panel, what, by)
