"""How far from the key the room placed each point."""

from __future__ import annotations

from collections.abc import Iterable
from statistics import fmean, median
from typing import Any

from django.utils.translation import gettext as _

from assessments.evidence.room import Said


def distances_in_room(details: Iterable[dict[str, Any]]) -> list[Said]:
    """One row for each point, in the key's order: the middle distance of those who placed it, what it won."""
    rows: dict[str, list[dict[str, Any]]] = {}
    for detail in details:
        for point in detail["points"]:
            rows.setdefault(point["label"], []).append(point | {"of": len(detail["points"])})
    return [
        Said(_in_words(label, points), len(points), fmean(each["credit"] / each["of"] for each in points))
        for label, points in rows.items()
    ]


def _in_words(label: str, points: list[dict[str, Any]]) -> str:
    distances = [each["distance"] for each in points if each["distance"] is not None]
    hidden = sum(1 for each in points if each["said"] and each["given"] is None)
    words = [label]
    if distances:
        words.append(_("half of them within %(n).1f %% of the height") % {"n": 100 * median(distances)})
    if hidden:
        words.append(_("%(n)d said that it is not visible") % {"n": hidden})
    return f"{words[0]}: {', '.join(words[1:])}" if words[1:] else label
