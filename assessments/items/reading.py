"""What kinds read alike from what a browser sends."""

from __future__ import annotations

from math import inf
from typing import Any

from django.utils.translation import gettext as _

from assessments.items.kind import AnswerRefused, KeyRefused

NOTE_LENGTH = 2000


def answer_parts(sent: object) -> dict[str, Any]:
    """An answer as a mapping, or AnswerRefused."""
    if not isinstance(sent, dict):
        raise unreadable_answer()
    return sent


def unreadable_answer() -> AnswerRefused:
    """What to raise of an answer that no page of ours can have sent."""
    return AnswerRefused(_("The answer could not be read."))


def key_parts(sent: object) -> dict[str, Any]:
    """A key as a mapping, or KeyRefused."""
    if not isinstance(sent, dict):
        raise unreadable()
    return sent


def unreadable() -> KeyRefused:
    """The same of a key."""
    return refused(_("The key could not be read."))


def refused(words: str) -> KeyRefused:
    """What to raise where the whole of a key is wrong, not one of its entries."""
    return KeyRefused([(None, words)])


def rows_of(value: object, most: int) -> list[dict[str, Any]]:
    """A list of mappings and no more of them than a key may have, or KeyRefused."""
    if not isinstance(value, list) or len(value) > most or not all(isinstance(row, dict) for row in value):
        raise unreadable()
    return value


def note_of(sent: dict[str, Any]) -> str:
    """The note on a version."""
    return words_of(sent.get("note"), NOTE_LENGTH)


def words_of(value: object, most: int) -> str:
    """Text as it may be kept: a null byte is nothing that a database takes."""
    return value.replace("\0", "")[:most] if isinstance(value, str) else ""


def id_of(value: object) -> int | None:
    """The identity of a row, or None for what cannot be one."""
    if isinstance(value, bool) or not isinstance(value, int) or not 0 < value < 2**63:
        return None
    return value


def number_of(value: object) -> float | None:
    """A finite number, or None for what is none."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < inf:
        return None
    return value


def credit_of(value: object) -> float | None:
    """A share of the credit, or None for what is none."""
    credit = number_of(value)
    return None if credit is None or not 0 <= credit <= 1 else float(credit)
