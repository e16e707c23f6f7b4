"""What every kind's pages keep alike: where an answer stands, and the words that say how keeping it goes."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.models import Answer
from assessments.queries.answers import last_identity


def kept_so_far(answer: Answer, empty: dict[str, Any]) -> dict[str, Any]:
    """Where an answer stands, as every answer page's script takes it up; `empty` is one not begun."""
    return {
        "content": answer.content or empty,
        "revision": answer.revision,
        "last": last_identity(answer) if answer.pk else None,
    }


def keeping_words() -> dict[str, str]:
    """What `answering.js` says while an answer is kept, in the reader's language; {at} is filled in by it."""
    return {
        "saved": _("Saved at {at}"),
        "offline": _(
            "No connection. Kept on this device since {at}; it is sent when the connection is back. You may go on."
        ),
        "signedOut": _(
            "You are signed out. Sign in again in another tab; what you did is kept on this device."
        ),
        "kept": _("What you did is kept on this page."),
        "handedIn": _("This answer is handed in."),
        "blank": _("Answer first."),
    }


def drafting_words() -> dict[str, str]:
    """What `keying.js` says while a draft key is kept, in the reader's language."""
    return {
        "saved": _("Draft saved at {at}"),
        "saving": _("Saving"),
        "offline": _(
            "No connection. Kept on this device since {at}; it is sent when the connection is back. "
            "You may go on."
        ),
        "signedOut": _(
            "You are signed out. Sign in again in another tab; what you did is kept on this device."
        ),
        "kept": _("What you did is kept on this page."),
        "gone": _("This draft is no longer open: it was published or discarded in another window."),
    }
