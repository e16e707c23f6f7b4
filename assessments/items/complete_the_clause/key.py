"""The key: {"also": [[{"words": …, "credit": 0…1}, …], …]}, for each gap what is accepted beside the clause's words."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.complete_the_clause.wording import around, left_out
from assessments.items.keeping import drafted_so_far, drafting_words
from assessments.items.reading import credit_of, key_parts, note_of, refused, rows_of, unreadable, words_of
from assessments.models import Item, Key
from assessments.scoring.gaps import Gap, plain
from shared.web.limits import WORDS_PER_GAP

WORDS_LENGTH = 80


def read_key(sent: object, item: Item) -> dict[str, Any]:
    """What `save_draft` takes; KeyRefused where words or a credit are missing. Each gap has its list."""
    parts = key_parts(sent)
    also = parts.get("also")
    gaps = left_out(item.asking["text"], item.asking["gaps"])
    if not isinstance(also, list) or len(also) != len(gaps):
        raise unreadable()
    content = {"also": [_read_gap(rows, words) for rows, words in zip(also, gaps, strict=True)]}
    return {"sound": False, "note": note_of(parts), "content": content}


def _read_gap(rows: object, words: str) -> list[dict[str, Any]]:
    kept = []
    for row in rows_of(rows, WORDS_PER_GAP):
        text = " ".join(words_of(row.get("words"), WORDS_LENGTH).split())
        credit = credit_of(row.get("credit"))
        if not plain(text) or credit is None:
            lacking = _("What is also accepted for “%(words)s” needs words and a credit from 0 to 1.")
            raise refused(lacking % {"words": words})
        kept.append({"words": text, "credit": credit})
    same = [plain(words), *(plain(row["words"]) for row in kept)]
    if len(set(same)) < len(same):
        raise refused(_("“%(words)s”: the same words are accepted twice.") % {"words": words})
    return kept


def drawn_up(key: Key) -> dict[str, Any]:
    """The clause with its gaps, and what is accepted so far."""
    asking = key.item.asking
    return {
        "gaps": left_out(asking["text"], asking["gaps"]),
        "most": WORDS_PER_GAP,
        **drafted_so_far(key, {"also": also_of(key), "note": key.note}),
    }


def also_of(key: Key) -> list[list[dict[str, Any]]]:
    """For each gap what is accepted besides; nothing in a key not begun."""
    return key.content.get("also") or [[] for _gap in key.item.asking["gaps"]]


def gaps_of(key: Key) -> list[Gap]:
    """The gaps as the scoring takes them."""
    words = left_out(key.item.asking["text"], key.item.asking["gaps"])
    return [
        Gap(right, {row["words"]: row["credit"] for row in also})
        for right, also in zip(words, also_of(key), strict=True)
    ]


def pieces(asking: dict[str, Any], words: list[str]) -> list[tuple[str, str | None]]:
    """The clause with these words in its gaps: pairs of what stands before a gap and what is in it."""
    return list(zip(around(asking["text"], asking["gaps"]), [*words, None], strict=True))


def shown(key: Key) -> dict[str, Any]:
    """The clause with its gaps, and each gap with what is accepted."""
    words = left_out(key.item.asking["text"], key.item.asking["gaps"])
    return {"pieces": pieces(key.item.asking, words), "gaps": list(zip(words, also_of(key), strict=True))}


def key_words() -> dict[str, str]:
    """What the key page's script says; {words} is filled in by it."""
    return drafting_words() | {
        "words": _("Other words for “{words}”"),
        "credit": _("Credit for them, from 0 to 1"),
        "unaccept": _("Remove these words for “{words}”"),
        "accept": _("Accept other words for “{words}”"),
    }
