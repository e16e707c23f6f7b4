"""The parts of a critique and of the rubric by which a mentor marks it.

An answer is {"parts": {name: text}}; which parts are asked depends on how many exhibits are shown. A key is

    {"rubric": {part: {"weight": 0.1 … 10, "levels": [five descriptions]}}, "expected": {name: text},
     "model": {name: text}}

with the points that a good critique makes, a line each, and one way of writing it.
"""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.models import Item
from assessments.scoring.rubric import RubricPart

OF_ONE = ("virtues", "short")
OF_SEVERAL = ("virtues", "short", "reason", "grants")
RUBRIC = ("accuracy", "completeness", "weighing", "language")
TOP = 4


def parts_asked(item: Item) -> tuple[str, ...]:
    """The names of the parts that an item asks for, in order."""
    return OF_SEVERAL if len(item.item_exhibits.all()) > 1 else OF_ONE


def part_words() -> dict[str, tuple[str, str]]:
    """What each part is called, and what belongs in it."""
    return {
        "virtues": (_("Virtues"), _("What is as the standard asks, the most telling first.")),
        "short": (_("What falls short of the standard"), _("Each with how much it matters.")),
        "reason": (_("The reason for the placing"), _("Why each stands above the next.")),
        "grants": (_("What the lower exhibit does better"), _("Grant it, and say why it did not decide.")),
    }


def rubric_words() -> dict[str, tuple[str, str]]:
    """What each part of the rubric is called, and what it looks at."""
    return {
        "accuracy": (_("Accuracy"), _("Is what is said true of these exhibits and of the standard?")),
        "completeness": (_("Completeness"), _("Is what matters there?")),
        "weighing": (_("Weighing"), _("Does it matter here as much as it does in the standard?")),
        "language": (_("Language"), _("Plain words that an exhibitor understands and can use?")),
    }


def usual_rubric() -> dict[str, dict[str, Any]]:
    """With which a new key begins; the educator changes words and weights."""
    return {
        "accuracy": {
            "weight": 3,
            "levels": [
                _("Most of what is said is not there."),
                _("As much is wrong as is right."),
                _("Right in the main, with an error that matters."),
                _("Right, with a slip that does not matter."),
                _("All that is said can be seen and stands in the standard."),
            ],
        },
        "completeness": {
            "weight": 3,
            "levels": [
                _("Nothing that matters is named."),
                _("One point of several is named."),
                _("About half of the points are named."),
                _("A lesser point is left out."),
                _("Everything that matters is named."),
            ],
        },
        "weighing": {
            "weight": 3,
            "levels": [
                _("Nothing is weighed, or the weights are upside down."),
                _("Faults are listed without regard to how much they matter."),
                _("The gravest point is weighed rightly, the rest is not."),
                _("Weighed rightly, the words for it are vague."),
                _("Each point has the weight that the standard gives it, virtues too."),
            ],
        },
        "language": {
            "weight": 1,
            "levels": [
                _("Cannot be understood."),
                _("Understood only by who sees the dog."),
                _("Understood, with jargon or hurtful words."),
                _("Plain and civil, longer than it need be."),
                _("Plain, civil and short; of use to the exhibitor."),
            ],
        },
    }


def rubric_of(content: dict[str, Any]) -> list[RubricPart]:
    """The rubric of a published key, as the scoring takes it."""
    words = rubric_words()
    return [
        RubricPart(words[name][0], float(kept["weight"]), tuple(kept["levels"]))
        for name, kept in ((name, content["rubric"][name]) for name in RUBRIC)
    ]
