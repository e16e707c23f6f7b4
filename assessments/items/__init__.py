"""Item kinds: one folder each, registered here.

A kind knows the shape of its answers and keys, what a key still lacks, how an answer is scored and which
templates show it. Everything else (sittings, saving, marks, re-marking, reviews) asks `kind_of(item)`.
"""

from __future__ import annotations

from assessments.items.asking import AskingForm
from assessments.items.choose.kind import Choose
from assessments.items.complete_the_clause.kind import CompleteTheClause
from assessments.items.kind import AnswerRefused, ItemKind, KeyRefused, Marked
from assessments.items.mark_the_faults.kind import MarkTheFaults
from assessments.items.mark_the_virtues.kind import MarkTheVirtues
from assessments.items.place_a_class.kind import PlaceAClass
from assessments.items.place_the_points.kind import PlaceThePoints
from assessments.items.weigh_the_fault.kind import WeighTheFault
from assessments.items.which_of_the_pair.kind import WhichOfThePair
from assessments.items.write_a_critique.kind import WriteACritique
from assessments.models import Item

KINDS: dict[str, ItemKind] = {
    kind.name: kind
    for kind in [
        MarkTheFaults(),
        MarkTheVirtues(),
        WeighTheFault(),
        PlaceThePoints(),
        WhichOfThePair(),
        PlaceAClass(),
        CompleteTheClause(),
        Choose(),
        WriteACritique(),
    ]
}


def kind_of(item: Item) -> ItemKind:
    """The kind of an item."""
    return KINDS[item.kind]


__all__ = ["KINDS", "AnswerRefused", "AskingForm", "ItemKind", "KeyRefused", "Marked", "kind_of"]
