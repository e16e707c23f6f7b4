"""Panels that draw up a key, and what their panellists mark."""

from __future__ import annotations

import uuid
from typing import Any

from assessments.actions.key_panels import ask_panel, hand_in_marking, save_marking
from assessments.models import Item, KeyPanel, Panellist
from courses.models import Fault
from shared.accounts.models import Membership


def marked(fault: Fault, *regions: Any, **fields: Any) -> dict[str, Any]:
    """One fault as a panellist's page sends it."""
    given = {"fault": fault.pk, "clause": fault.clause_id, "level": fault.level, "regions": list(regions)}
    return given | {"whole_dog": not regions} | fields


def make_key_panel(item: Item, by: Membership, *members: Membership, **fields: Any) -> KeyPanel:
    """An open panel of these members; of whoever asks if none is named."""
    return ask_panel(item=item, members=members or [by], by=by, **fields)


def make_marking(panel: KeyPanel, member: Membership, *entries: dict[str, Any]) -> Panellist:
    """What a panellist has marked and handed in; sound if there are no entries."""
    seat = panel.panellists.get(member=member)
    content = {"sound": not entries, "note": "", "entries": list(entries)}
    save_marking(panellist=seat, sent=content, seen=seat.revision, identity=uuid.uuid4())
    return hand_in_marking(panellist=seat)
