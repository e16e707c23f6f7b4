"""What every kind's pages keep alike: where an answer stands, and the words that say how keeping it goes."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.models import Answer, Key, Panellist
from assessments.queries.answers import last_identity


def kept_so_far(answer: Answer, empty: dict[str, Any]) -> dict[str, Any]:
    """Where an answer stands, as every answer page's script takes it up; `empty` is one not begun."""
    return {
        "content": answer.content or empty,
        "revision": answer.revision,
        "last": last_identity(answer) if answer.pk else None,
    }


def drafted_so_far(draft: Key | Panellist, content: dict[str, Any]) -> dict[str, Any]:
    """The same of a draft key and of a panellist's marking, for `keying.js`."""
    return {"content": content, "revision": draft.revision, "last": draft.last_save}


def _kept_words() -> dict[str, str]:
    """What both scripts say where the server does not keep it; {at} is filled in by them."""
    return {
        "offline": _(
            "No connection. Kept on this device since {at}; it is sent when the connection is back. You may go on."
        ),
        "signedOut": _(
            "You are signed out. Sign in again in another tab; what you did is kept on this device."
        ),
        "kept": _("What you did is kept on this page."),
    }


def keeping_words() -> dict[str, str]:
    """What `answering.js` says while an answer is kept, in the reader's language; {at} is filled in by it."""
    return _kept_words() | {
        "saved": _("Saved at {at}"),
        "handedIn": _("This answer is handed in."),
        "blank": _("Answer first."),
    }


def drafting_words() -> dict[str, str]:
    """What `keying.js` says while a draft key is kept, in the reader's language."""
    return _kept_words() | {
        "saved": _("Draft saved at {at}"),
        "saving": _("Saving"),
        "gone": _("This draft is no longer open: it was published or discarded in another window."),
    }


def marking_words() -> dict[str, str]:
    """What it says otherwise of a panellist's marking."""
    return {"saved": _("Saved at {at}"), "gone": _("Go back to the day’s page, and look again.")}
