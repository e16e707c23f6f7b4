"""The key: {"right": [option id, …], "why": {option id: words shown after marking}}."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far, drafting_words
from assessments.items.reading import key_parts, note_of, unreadable, words_of
from assessments.models import Item, Key
from assessments.scoring.choice import earned_by_choosing_all

WHY_LENGTH = 600


def read_key(sent: object, item: Item) -> dict[str, Any]:
    """What `save_draft` takes; KeyRefused where an option is named that is not asked."""
    parts = key_parts(sent)
    right, why = parts.get("right"), parts.get("why")
    known = [option["id"] for option in item.asking["options"]]
    if not isinstance(right, list) or not isinstance(why, dict) or not set(map(str, right)) <= set(known):
        raise unreadable()
    content = {
        "right": [option for option in known if option in right],
        "why": {option: words for option in known if (words := words_of(why.get(option), WHY_LENGTH))},
    }
    return {"sound": False, "note": note_of(parts), "content": content}


def drawn_up(key: Key) -> dict[str, Any]:
    """The options with what the key says of each."""
    content = {"right": [], "why": {}, **key.content, "note": key.note}
    return {"options": key.item.asking["options"], **drafted_so_far(key, content)}


def warned(key: Key) -> list[str]:
    """What may stand, but is better thought over: that choosing every option would earn something."""
    asking, right = key.item.asking, key.content.get("right", [])
    if not asking["several"] or not right:
        return []
    earned = earned_by_choosing_all(len(asking["options"]), len(right))
    words = _("More than half are right: choosing every option would earn %(n)d of 100.")
    return [words % {"n": round(100 * earned)}] if earned else []


def lacks(key: Key) -> list[str]:
    """In words: something must be right, and one only where one is asked for."""
    right = key.content.get("right", [])
    if not right:
        return [key_words()["none"]]
    if len(right) > 1 and not key.item.asking["several"]:
        return [key_words()["one"]]
    return []


def shown(key: Key) -> list[dict[str, Any]]:
    """Each option with whether it is right and why."""
    return [
        {
            **option,
            "right": option["id"] in key.content["right"],
            "why": key.content["why"].get(option["id"], ""),
        }
        for option in key.item.asking["options"]
    ]


def key_words() -> dict[str, str]:
    """What the key page's script says."""
    return drafting_words() | {
        "none": _("Say which option is right."),
        "one": _("Only one option can be right, since only one may be chosen."),
    }
