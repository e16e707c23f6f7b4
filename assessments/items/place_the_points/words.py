"""Words that the scripts of the answer page and the key page say; what stands in braces is filled in by them."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.items.keeping import drafting_words, keeping_words
from assessments.items.place_the_points.key import missing_words
from courses.queries.guide import placing_words


def page_words() -> dict[str, str]:
    """Of the answer page, in the reader's language."""
    return (
        placing_words()
        | keeping_words()
        | {"blank": _("Place every point first, or say that it is not visible.")}
    )


def key_words() -> dict[str, str]:
    """Of the key page."""
    missing = {
        f"missing_{part}": words.replace("%(point)s", "{point}") for part, words in missing_words().items()
    }
    return placing_words() | drafting_words() | missing | {"taken": _("Taken. Look at each point.")}
