"""The shape of an answer: {"marks": [{x, y, fault, level, note}, …], "nothing_found": bool}.

x and y are in units of the picture's longer side, both null for the whole dog. Pins that were dropped before
"nothing found" was said stay in the content, set aside, and do not count.
"""

from __future__ import annotations

import math
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.kind import AnswerRefused
from assessments.items.mark_the_faults.vocabulary import faults_of
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
    if not isinstance(sent, dict) or not isinstance(sent.get("marks"), list):
        raise AnswerRefused(_("The answer could not be read."))
    if len(sent["marks"]) > PINS_PER_ANSWER:
        raise AnswerRefused(_("An answer holds at most %(n)d pins.") % {"n": PINS_PER_ANSWER})
    marks = [_read_mark(mark, exhibit, levels) for mark in sent["marks"]]
    named = {mark["fault"] for mark in marks if mark["fault"] is not None}
    if named and faults_of(breed_id, sought).filter(pk__in=named).count() != len(named):
        raise AnswerRefused(_("A fault that is not on the club’s list was named."))
    return {"marks": marks, "nothing_found": bool(sent.get("nothing_found"))}


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
        "note": str(sent.get("note") or "").replace("\0", "")[:NOTE_LENGTH],
    }


def _read_spot(sent: dict[str, Any], exhibit: Exhibit) -> dict[str, float | None]:
    x, y = sent.get("x"), sent.get("y")
    if x is None and y is None:
        return {"x": None, "y": None}
    longer = max(exhibit.width, exhibit.height) or 1
    for value, side in ((x, exhibit.width), (y, exhibit.height)):
        if not _number(value) or not -1e-9 <= value <= side / longer + 1e-6:
            raise AnswerRefused(_("A pin lies outside the picture."))
    return {"x": round(float(x), 5), "y": round(float(y), 5)}


def _number(value: object) -> bool:
    if isinstance(value, float):
        return math.isfinite(value)
    return isinstance(value, int) and not isinstance(value, bool)


def _whole_or_none(value: object, highest: int) -> int | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= highest:
        raise AnswerRefused(_("A pin’s name or severity could not be read."))
    return value
