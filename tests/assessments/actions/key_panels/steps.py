"""What the tests of panels do again and again, and what they read."""

import uuid

from assessments.actions.key_panels import close_panel, save_marking
from assessments.models import KeyPanelEvent

What = KeyPanelEvent.What
WIDER = [[0.28, 0.38], [0.42, 0.38], [0.42, 0.57], [0.28, 0.57]]


def seat(panel, member):
    return panel.panellists.get(member=member)


def save(panellist, *entries, sound=False, seen=None, identity=None):
    sent = {"sound": sound, "note": "", "entries": list(entries)}
    seen = panellist.revision if seen is None else seen
    return save_marking(panellist=panellist, sent=sent, seen=seen, identity=identity or uuid.uuid4())


def events(panel, what):
    return list(panel.events.filter(what=what).values_list("by__person__name", "of__person__name"))


def closed(panel, cast):
    return close_panel(panel=panel, by=cast.educator)


def kept(draft):
    """The fields of a draft's only entry."""
    row = draft.entries.get()
    return {
        name: getattr(row, name)
        for name in ("fault", "clause", "zone", "level", "whole_dog", "regions", "also")
    }
