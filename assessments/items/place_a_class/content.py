"""The shape of an answer:

    {"placing": [exhibit id, best first, …], "findings": {exhibit id: {"faults": [fault id, …], "nothing": bool}}}

The placing may be unfinished while one is at work. Identities are text where they are names of a JSON object.
"""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.kind import AnswerRefused
from assessments.items.place_a_class.asking import asks_findings
from assessments.items.reading import answer_parts, id_of, unreadable_answer
from assessments.models import Item
from courses.models import Fault
from shared.web.limits import FAULTS_PER_KEY

EMPTY: dict[str, Any] = {"placing": [], "findings": {}}


def exhibits_of(item: Item) -> list[int]:
    """The exhibits of the class by their ids, in the item's order."""
    return [row.exhibit_id for row in item.item_exhibits.all()]


def read_content(sent: object, item: Item) -> dict[str, Any]:
    """The answer in its kept shape; AnswerRefused where it cannot be."""
    parts = answer_parts(sent)
    placing, findings = parts.get("placing"), parts.get("findings")
    shown = exhibits_of(item)
    if not isinstance(placing, list) or not isinstance(findings, dict):
        raise unreadable_answer()
    placed = [id_of(exhibit) for exhibit in placing]
    if not set(placed) <= set(shown) or len(set(placed)) < len(placed):
        raise AnswerRefused(_("Each exhibit of the class has one place."))
    if not asks_findings(item):
        return {"placing": placed, "findings": {}}
    read = {str(exhibit): _findings(findings[str(exhibit)]) for exhibit in shown if str(exhibit) in findings}
    _check_faults(read, item)
    return {"placing": placed, "findings": read}


def _findings(sent: object) -> dict[str, Any]:
    faults = sent.get("faults") if isinstance(sent, dict) else None
    if not isinstance(sent, dict) or not isinstance(faults, list) or len(faults) > FAULTS_PER_KEY:
        raise AnswerRefused(_("The findings could not be read."))
    return {
        "faults": [id_of(fault) for fault in faults],
        "nothing": sent.get("nothing") is True and not faults,
    }


def _check_faults(read: dict[str, dict[str, Any]], item: Item) -> None:
    for found in read.values():
        if len(set(found["faults"])) < len(found["faults"]):
            raise AnswerRefused(_("A fault is named once for each exhibit."))
    named = {fault for found in read.values() for fault in found["faults"]}
    if named and Fault.objects.filter(breed=item.edition.breed_id, pk__in=named - {None}).count() < len(
        named
    ):
        raise AnswerRefused(_("A fault that is not on the club’s list was named."))


def written(content: dict[str, Any]) -> list[str]:
    """The exhibits on which something was found, or nothing, by their ids."""
    return [
        exhibit
        for exhibit, found in content.get("findings", {}).items()
        if found["faults"] or found["nothing"]
    ]
