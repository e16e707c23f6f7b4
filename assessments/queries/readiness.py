"""Quizzes on the educator's desk: what is in them, what they still lack, how many of their exhibits are sound."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.db.models import Count, Prefetch, Q, QuerySet
from django.utils import timezone
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from assessments.models import Item, Key, Quiz, QuizItem
from assessments.queries.quizzes import draft_key, published_key, quizzes_of, standing_keys
from courses.models.choices import State
from courses.queries.permission import may_be_shown
from shared.accounts.models import Club


@dataclass(frozen=True)
class Row:
    """An item in its place, with the state of its key and what it still lacks."""

    quiz_item: QuizItem
    lacks: list[str]

    @property
    def item(self) -> Item:
        """What is asked."""
        return self.quiz_item.item

    @cached_property
    def in_use(self) -> Key | None:
        """The key that answers are marked by."""
        return published_key(self.item)

    @cached_property
    def draft(self) -> Key | None:
        """The version in work."""
        return draft_key(self.item)

    @property
    def faults(self) -> list[str]:
        """What the key in use names."""
        return [str(entry.fault) for entry in self.in_use.entries.all()] if self.in_use else []

    @property
    def sound(self) -> bool:
        """Whether the key, in use or else in work, says that there is nothing to find."""
        key = self.in_use or self.draft
        return key is not None and key.sound


@dataclass(frozen=True)
class DeskQuiz:
    """A quiz with its rows in order."""

    quiz: Quiz
    rows: list[Row]

    @property
    def lacks(self) -> list[str]:
        """What it needs before it can be opened, in words."""
        if not self.rows:
            return [_("Add at least one item.")]
        return [
            _("%(item)s: %(what)s") % {"item": row.item.name, "what": words}
            for row in self.rows
            for words in row.lacks
        ]

    @property
    def marks_faults(self) -> int:
        """How many of its items ask to mark faults, of which some should be sound."""
        return sum(row.item.kind == "mark-the-faults" for row in self.rows)

    @property
    def sound(self) -> int:
        """How many of its exhibits are sound."""
        return sum(row.sound for row in self.rows)


def lacking(quiz: Quiz) -> list[str]:
    """What a quiz needs before it can be opened, in words."""
    return on_the_desk(quiz).lacks


def on_the_desk(quiz: Quiz) -> DeskQuiz:
    """One quiz with its rows."""
    return _desk_quiz(quiz, _rows().filter(quiz=quiz))


def desk_of(club: Club, most: int) -> list[tuple[str, list[DeskQuiz]]]:
    """The club's quizzes by state: those being made first, then the open and the closed ones."""
    quizzes = list(
        quizzes_of(club)
        .annotate(
            sittings_count=Count("sittings", distinct=True),
            under_way=Count("sittings", filter=Q(sittings__finished_at=None), distinct=True),
        )
        .prefetch_related("rules_versions", Prefetch("quiz_items", _rows()))
        .order_by("title", "pk")[:most]
    )
    desk = [_desk_quiz(quiz, quiz.quiz_items.all()) for quiz in quizzes]
    by_state = [(state, [each for each in desk if each.quiz.state == state]) for state in Quiz.State]
    return [(str(state.label), those) for state, those in by_state if those]


def item_lacks(item: Item, levels: int) -> list[str]:
    """What an item needs before it can be asked in a quiz whose ladder has so many levels, in words.

    Reads the item's standing keys with their entries, its exhibit, and the owners' words on that.
    """
    return [*_key_lacks(item, levels), *_exhibit_lacks(item)]


def _key_lacks(item: Item, levels: int) -> Iterator[str]:
    if item.state == Item.State.RETIRED:
        yield _("bring the item back or take it out; it is retired.")
    key = published_key(item)
    if key is None:
        yield _("publish its key.")
    elif any(entry.level is not None and entry.level >= levels for entry in key.entries.all()):
        yield _("its key uses a level that this quiz’s ladder lacks.")


def _exhibit_lacks(item: Item) -> Iterator[str]:
    several = [row.exhibit for row in item.item_exhibits.all()]
    for exhibit in several or [each for each in [item.exhibit] if each is not None]:
        values = {"n": exhibit.number}
        if exhibit.state != State.PUBLISHED:
            yield _("publish exhibit %(n)d.") % values if several else _("publish the exhibit.")
        elif not may_be_shown(exhibit, timezone.localdate()):
            yield (
                _("record the permission of exhibit %(n)d’s owner; none holds now.") % values
                if several
                else _("record its owner’s permission; none holds now.")
            )


def _rows() -> QuerySet[QuizItem]:
    """Rows of quizzes in order with all that is asked of them here."""
    return QuizItem.objects.select_related("item__exhibit", "item__edition", "item__clause").prefetch_related(
        Prefetch("item__keys", standing_keys()),
        "item__exhibit__renditions",
        "item__exhibit__permissions",
        "item__item_exhibits__exhibit__permissions",
    )


def _desk_quiz(quiz: Quiz, rows: Iterable[QuizItem]) -> DeskQuiz:
    levels = len(quiz.rules_versions.all()[0].ladder["labels"])
    return DeskQuiz(quiz, [Row(each, item_lacks(each.item, levels)) for each in rows])
