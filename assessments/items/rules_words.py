"""What a quiz asks and by which rules it is marked, in words, for every kind of item in it."""

from __future__ import annotations

from dataclasses import dataclass

from assessments.items import KINDS
from assessments.models import Quiz, QuizRules


@dataclass(frozen=True)
class KindInWords:
    """A kind's name, the sentence that says what is asked, and its rules of marking."""

    label: str
    says: str
    rules: list[str]


def kinds_in_words(quiz: Quiz, rules: QuizRules) -> list[KindInWords]:
    """Each kind that the quiz asks; a quiz without items tells how marked faults are scored."""
    asked = set(quiz.items.order_by().values_list("kind", flat=True).distinct()) or {"mark-the-faults"}
    kinds = [kind for kind in KINDS.values() if kind.name in asked]
    return [KindInWords(str(kind.label), str(kind.says), kind.rules_in_words(rules)) for kind in kinds]
