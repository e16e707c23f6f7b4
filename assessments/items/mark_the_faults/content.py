"""The shape of an answer: {"marks": [{x, y, fault, level, note}, …], "nothing_found": bool}.

x and y are in units of the picture's longer side, both null for the whole dog. Pins that were dropped before
"nothing found" was said stay in the content, set aside, and do not count.
"""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.kind import AnswerRefused
from assessments.items.mark_the_faults.vocabulary import faults_of
from assessments.items.reading import answer_parts, number_of, unreadable_answer, words_of
from assessments.snapshots import Sought
from courses.models import Exhibit
from shared.web.limits import PINS_PER_ANSWER

NOTE_LENGTH = 300


def read_marks(
    sent: object, exhibit: Exhibit, breed_id: int, levels: int, sought: Sought = "fault"
) -> dict[str, Any]:
    """The content that is kept, checked against the exhibit's size, the club's list and the ladder.

    `levels` is 0 where nothing is weighed.
    """
    parts = answer_parts(sent)
    pins = parts.get("marks")
    if not isinstance(pins, list):
        raise unreadable_answer()
    if len(pins) > PINS_PER_ANSWER:
        raise AnswerRefused(_("An answer holds at most %(n)d pins.") % {"n": PINS_PER_ANSWER})
    marks = [_read_mark(mark, exhibit, levels) for mark in pins]
    named = {mark["fault"] for mark in marks if mark["fault"] is not None}
    if named and faults_of(breed_id, sought).filter(pk__in=named).count() != len(named):
        raise AnswerRefused(_("A fault that is not on the club’s list was named."))
    return {"marks": marks, "nothing_found": bool(parts.get("nothing_found"))}


def counted_marks(content: dict[str, Any]) -> list[dict[str, Any]]:
    """The marks that are scored: none once "nothing found" is said."""
    return [] if content.get("nothing_found") else list(content.get("marks", []))


def _read_mark(sent: object, exhibit: Exhibit, levels: int) -> dict[str, Any]:
    if not isinstance(sent, dict):
        raise AnswerRefused(_("A pin could not be read."))
    return {
        **_read_spot(sent, exhibit),
        "fault": _whole_or_none(sent.get("fault"), 2**62),
        "level": _whole_or_none(sent.get("level"), levels - 1),
        "note": words_of(sent.get("note"), NOTE_LENGTH),
    }


def _read_spot(sent: dict[str, Any], exhibit: Exhibit) -> dict[str, float | None]:
    x, y = sent.get("x"), sent.get("y")
    if x is None and y is None:
        return {"x": None, "y": None}
    longer = max(exhibit.width, exhibit.height) or 1
    for sent_at, side in ((x, exhibit.width), (y, exhibit.height)):
        value = number_of(sent_at)
        if value is None or not -1e-9 <= value <= side / longer + 1e-6:
            raise AnswerRefused(_("A pin lies outside the picture."))
    return {"x": round(float(x), 5), "y": round(float(y), 5)}


def _whole_or_none(value: object, highest: int) -> int | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= highest:
        raise AnswerRefused(_("A pin’s name or severity could not be read."))
    return value
