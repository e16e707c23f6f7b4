"""What every item kind offers."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.forms import Form
from django.utils.translation import gettext as _

from assessments.evidence.room import Said, said_by_room
from assessments.items.asking import AskingForm
from assessments.items.panel import PanelMethod
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.scoring.explanation import Line


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
    detail: dict[str, Any]
    seeing: float | None = None
    naming: float | None = None
    weighing: float | None = None


def plain_detail(lines: Iterable[Line], **more: Any) -> dict[str, Any]:
    """The detail of a mark that rests on no pins: its lines, and nothing where pins and entries would be."""
    empty: dict[str, Any] = {"answered": True, "capped": False, "entries": [], "marks": [], "matches": []}
    nothing: dict[str, Any] = {"missed": [], "false_alarms": [], "repeats": []}
    return {**empty, **nothing, "lines": [vars(line) for line in lines], **more}


def without_notes(kept: Any) -> Any:
    """The same with every "note" in it left empty."""
    if isinstance(kept, list):
        return [without_notes(each) for each in kept]
    if isinstance(kept, dict):
        return {name: "" if name == "note" else without_notes(each) for name, each in kept.items()}
    return kept


def by_itself(line: Line) -> Line:
    """The line without the entry and the pin that it would point at on a picture."""
    return replace(line, entry=None, mark=None)


def lost_points(line: dict[str, Any]) -> bool:
    """Whether a line of a mark's detail has less than there was to be had."""
    return (line.get("available") or 0) > line["points"] + 1e-9


class ItemKind(ABC):
    """One way of asking.

    `says` tells in a sentence what is asked, for whoever chooses a kind. `exhibits` is how many an item shows,
    at least and at most. `panelled` says whether an examination may ask it only by a key that a panel holds fit.
    `panel` says how a panel draws up its keys; None where nobody needs to agree.
    `pinned` kinds rest on pins and the entries of their key, which the evidence of an item shows on its picture.
    `by_hand` kinds get no mark when an answer is handed in: it waits for a mentor.
    """

    name: str
    label: str
    says: str
    templates: str  # folder below templates/assessments/items; the contributor's guide names its pages
    exhibits: tuple[int, int] = (1, 1)
    panel: PanelMethod | None = None
    panelled: bool = True
    pinned: bool = True
    by_hand: bool = False
    asking_form: type[AskingForm] = AskingForm

    def named(self, item: Item) -> str:
        """What a heading calls the item: the kind, and by what educators know it."""
        return _("%(what)s: %(item)s") % {"what": self.label, "item": item.name}

    def first_key(self, key: Key) -> None:
        """Propose the first draft of a new item's key; the key may be changed and given entries."""
        return None

    def what_is_missing(self, content: dict[str, Any]) -> str | None:
        """Why an answer cannot be handed in yet, in words."""
        return self.words()["blank"] if self.is_blank(content) else None

    def marked_context(self, answer: Answer) -> dict[str, Any]:
        """What the pages of a handed-in answer show beside its result."""
        return {}

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """How its answers are marked, as sentences that trainees read beforehand."""
        return []

    def warned(self, key: Key) -> list[str]:
        """What a draft key may well have but is better thought over, in words."""
        return []

    def said_in_room(self, details: Iterable[dict[str, Any]]) -> list[Said]:
        """What many said, from the details of their marks, where the evidence has no pins to show."""
        return said_by_room(detail["lines"] for detail in details)

    def line(self, mark: Mark) -> dict[str, str]:
        """One line of a sitting's list: what the key holds, what the answer lacked, what it called in vain."""
        return {"key": "", "missed": str(sum(map(lost_points, mark.detail["lines"]))), "called": ""}

    def without_words(self, kept: dict[str, Any]) -> dict[str, Any]:
        """An answer's content or a mark's detail once it is nobody's: without prose of the trainee or about them."""
        return without_notes(kept)

    @abstractmethod
    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """The answer in its kept shape, from what the browser sent; AnswerRefused where it cannot be."""

    @abstractmethod
    def is_blank(self, content: dict[str, Any]) -> bool:
        """Whether nothing has been answered yet."""

    @abstractmethod
    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """What the answer page needs, as JSON for the browser; nothing of the key is in it.

        It has at least `content`, `revision` and `last`, see `kept_so_far`. The answer of a preview is not
        saved: it has an item and a position, and nothing else.
        """

    @abstractmethod
    def words(self) -> dict[str, str]:
        """What the answer page's script says, in the reader's language; "blank" of an answer not begun."""

    @abstractmethod
    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """What `save_draft` takes, from what the key page sent; KeyRefused where it cannot be."""

    @abstractmethod
    def draw_up(self, key: Key) -> dict[str, Any]:
        """What the key page needs of a key and to change it, as JSON for the browser."""

    @abstractmethod
    def show_key(self, key: Key) -> Any:
        """A published key for its read-only page, as its template shows it."""

    @abstractmethod
    def key_words(self) -> dict[str, str]:
        """What the key page's script says, in the reader's language."""

    @abstractmethod
    def lacks(self, key: Key) -> list[str]:
        """What the key still needs before it can be used, in words; empty when it is complete."""

    @abstractmethod
    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """Score many answers to one item by one key and one set of rules, in order."""

    def fit_of(self, key: Key) -> str:
        """What a draft is fit for by what it rests on without a panel of its own; "" where nothing says so."""
        return ""

    def levels_of(self, key: Key) -> set[int]:
        """The places on the severity ladder that a published key holds, from 0."""
        return {entry.level for entry in key.entries.all() if entry.level is not None}

    def marking_form(self, key: Key, *data: Any, given: dict[str, Any] | None = None) -> Form | None:
        """The form in which a mentor marks an answer of a kind marked by hand; its `given()` is kept."""
        return None

    def mark_given(self, key: Key, given: dict[str, Any]) -> Marked:
        """The mark that a mentor's form filled in gives by a key; the detail holds it as "given"."""
        raise TypeError(f"{self.name} is not marked by hand.")

    def given_in_words(self, key: Key, given: dict[str, Any]) -> str:
        """The same said in words, for whoever compares two mentors' marks."""
        return ""
