"""The key of a critique: the rubric, the points expected, and a model answer."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far
from assessments.items.kind import KeyRefused
from assessments.items.reading import key_parts, note_of, number_of, words_of
from assessments.items.write_a_critique.parts import (
    RUBRIC,
    TOP,
    part_words,
    parts_asked,
    rubric_words,
    usual_rubric,
)
from assessments.models import Item, Key
from shared.web.limits import CRITIQUE_PART, RUBRIC_LEVEL

HEAVIEST = 10.0


def first_content(item: Item) -> dict[str, Any]:
    """The usual rubric; points and model answer are still to be written."""
    empty = dict.fromkeys(parts_asked(item), "")
    return {"rubric": usual_rubric(), "expected": dict(empty), "model": dict(empty)}


def read_key(sent: object, item: Item) -> dict[str, Any]:
    """What `save_draft` takes; KeyRefused where it cannot be read. What is still empty may be kept."""
    parts = key_parts(sent)
    rubric = key_parts(parts.get("rubric"))
    wrong: list[tuple[int | None, str]] = []
    names = parts_asked(item)
    content = {
        "rubric": {
            name: _read_part(place, name, rubric.get(name), wrong) for place, name in enumerate(RUBRIC)
        },
        "expected": _read_texts(parts.get("expected"), names),
        "model": _read_texts(parts.get("model"), names),
    }
    if wrong:
        raise KeyRefused(wrong)
    return {"sound": False, "note": note_of(parts), "content": content}


def _read_part(place: int, name: str, sent: object, wrong: list[tuple[int | None, str]]) -> dict[str, Any]:
    given = sent if isinstance(sent, dict) else {}
    weight, levels = given.get("weight"), given.get("levels")
    label = rubric_words()[name][0]
    if weight is not None and not 0 < (number_of(weight) or 0) <= HEAVIEST:
        wrong.append((place, _("%(part)s: the weight lies above 0 and up to 10.") % {"part": label}))
    if not isinstance(levels, list) or len(levels) != TOP + 1:
        wrong.append((place, _("%(part)s: its levels could not be read.") % {"part": label}))
        levels = []
    return {"weight": weight, "levels": [words_of(level, RUBRIC_LEVEL) for level in levels]}


def _read_texts(sent: object, names: tuple[str, ...]) -> dict[str, str]:
    given = sent if isinstance(sent, dict) else {}
    return {name: words_of(given.get(name), CRITIQUE_PART) for name in names}


def missing_parts(key: Key) -> list[str]:
    """What is still to be written, in words."""
    content, words = key.content, rubric_words()
    missing = []
    for name in RUBRIC:
        part = content.get("rubric", {}).get(name, {})
        if not part.get("weight"):
            missing.append(_("%(part)s: say how much it weighs.") % {"part": words[name][0]})
        if not all(level.strip() for level in part.get("levels", [])) or not part.get("levels"):
            missing.append(_("%(part)s: describe every level.") % {"part": words[name][0]})
    for name in parts_asked(key.item):
        if not content.get("model", {}).get(name, "").strip():
            missing.append(_("Write the model answer: %(part)s.") % {"part": part_words()[name][0]})
    return missing


def drawn_up(key: Key) -> dict[str, Any]:
    """All that the key page and its script need."""
    content = key.content or first_content(key.item)
    return {
        **drafted_so_far(key, content | {"note": key.note}),
        "rubric": rubric_rows(content),
        "parts": part_rows(key.item, content),
        "most": CRITIQUE_PART,
        "most_level": RUBRIC_LEVEL,
    }


def rubric_rows(content: dict[str, Any]) -> list[dict[str, Any]]:
    """The rubric's parts as pages show them."""
    words = rubric_words()
    return [
        {"name": name, "label": words[name][0], "asks": words[name][1], **content["rubric"][name]}
        for name in RUBRIC
    ]


def part_rows(item: Item, content: dict[str, Any]) -> list[dict[str, Any]]:
    """The critique's parts with the points expected, a line each, and the model answer."""
    words = part_words()
    return [
        {
            "name": name,
            "label": words[name][0],
            "hint": words[name][1],
            "expected": content["expected"].get(name, ""),
            "points": [
                line.strip() for line in content["expected"].get(name, "").splitlines() if line.strip()
            ],
            "model": content["model"].get(name, ""),
        }
        for name in parts_asked(item)
    ]
