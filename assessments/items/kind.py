"""What every item kind offers."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from assessments.items.panel import PanelMethod
from assessments.models import Answer, Item, Key, QuizRules


class AnswerRefused(ValueError):
    """An answer whose shape or limits are not those of its kind; the message may be shown."""


class KeyRefused(ValueError):
    """A key that cannot be kept. `wrong` says why: the entry's place from 0, or None, and words to show."""

    def __init__(self, wrong: list[tuple[int | None, str]]) -> None:
        super().__init__(" ".join(words for _place, words in wrong))
        self.wrong = wrong


@dataclass(frozen=True)
class Marked:
    """The result of scoring: fractions of 1 (None where nothing can be said) and what to show, as JSON."""

    score: float
    seeing: float | None
    naming: float | None
    weighing: float | None
    detail: dict[str, Any]


class ItemKind(ABC):
    """One way of asking. `panel` says how a panel draws up its keys; None where nobody needs to agree."""

    name: str
    label: str
    templates: str  # folder below templates/assessments/items with answer, marked, key and key_version
    panel: PanelMethod | None = None

    @abstractmethod
    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """The answer in its kept shape, from what the browser sent; AnswerRefused where it cannot be."""

    @abstractmethod
    def is_blank(self, content: dict[str, Any]) -> bool:
        """Whether nothing has been answered yet."""

    @abstractmethod
    def ask(self, answer: Answer) -> dict[str, Any]:
        """What the answer page needs, as JSON for the browser; nothing of the key is in it."""

    @abstractmethod
    def words(self) -> dict[str, str]:
        """What the answer page's script says, in the reader's language."""

    @abstractmethod
    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """What `save_draft` takes, from what the key page sent; KeyRefused where it cannot be."""

    @abstractmethod
    def draw_up(self, key: Key) -> dict[str, Any]:
        """What the key page needs of a key and to change it, as JSON for the browser."""

    @abstractmethod
    def show_key(self, key: Key) -> list[dict[str, Any]]:
        """A published key's entries for its read-only page, each with what its lines and drawing need."""

    @abstractmethod
    def key_words(self) -> dict[str, str]:
        """What the key page's script says, in the reader's language."""

    @abstractmethod
    def lacks(self, key: Key) -> list[str]:
        """What the key still needs before it can be used, in words; empty when it is complete."""

    @abstractmethod
    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """Score many answers to one item by one key and one set of rules, in order."""

    def levels_of(self, key: Key) -> set[int]:
        """The places on the severity ladder that a published key holds, from 0."""
        return {entry.level for entry in key.entries.all() if entry.level is not None}
