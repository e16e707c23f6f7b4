"""The kind itself: ties content, key and scoring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments.items.complete_the_clause.asking import CompletingForm
from assessments.items.complete_the_clause.key import (
    WORDS_LENGTH,
    drawn_up,
    gaps_of,
    key_words,
    pieces,
    read_key,
    shown,
)
from assessments.items.complete_the_clause.wording import around, bare, left_out
from assessments.items.keeping import keeping_words, kept_so_far
from assessments.items.kind import AnswerRefused, ItemKind, Marked, by_itself, plain_detail
from assessments.items.reading import answer_parts, unreadable_answer
from assessments.items.reading import words_of as text_of
from assessments.items.shuffling import shuffled
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.queries.quizzes import published_key
from assessments.scoring.gaps import gaps_in_words, plain, score_gaps


class CompleteTheClause(ItemKind):
    """The words left out of a clause. What stands there is on no answer page."""

    name = "complete-the-clause"
    label = _("Complete the clause")
    says = _("A clause with words left out, to be typed or chosen among some.")
    templates = "complete_the_clause"
    pinned = False
    exhibits = (0, 0)
    panelled = False
    asking_form = CompletingForm

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """{"gaps": [words, …]}, as many as there are gaps; only offered words where they are chosen."""
        given, asking = answer_parts(sent).get("gaps"), item.asking
        if not isinstance(given, list) or len(given) != len(asking["gaps"]):
            raise unreadable_answer()
        words = [text_of(each, WORDS_LENGTH) for each in given]
        if not asking["typed"] and not {each for each in words if each} <= set(_offered(asking)):
            raise AnswerRefused(_now("Words were chosen that are not offered."))
        return {"gaps": words}

    def is_blank(self, content: dict[str, Any]) -> bool:
        """Every gap open."""
        return not any(plain(words) for words in content.get("gaps", []))

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """What stands around the gaps; the words offered, if they are chosen, in an order drawn for this answer."""
        asking = answer.item.asking
        return {
            "around": around(asking["text"], asking["gaps"]),
            "offered": [] if asking["typed"] else shuffled(answer, _offered(asking)),
            **kept_so_far(answer, {"gaps": ["" for _gap in asking["gaps"]]}),
        }

    def words(self) -> dict[str, str]:
        """What keeping says, and the first thing to do."""
        return keeping_words() | {"blank": _now("Fill in a gap first.")}

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """See `assessments.items.complete_the_clause.key`."""
        return read_key(sent, item)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The clause with its gaps, and what is accepted so far."""
        return drawn_up(key)

    def show_key(self, key: Key) -> dict[str, Any]:
        """The clause with its gaps, and what each accepts."""
        return shown(key)

    def key_words(self) -> dict[str, str]:
        """See `key_words`."""
        return key_words()

    def lacks(self, key: Key) -> list[str]:
        """The clause itself says what is right, unless it is another now than when the item was copied or made."""
        item = key.item
        if published_key(item) or (item.clause and bare(item.clause.text) == item.asking["text"]):
            return []
        return [_now("The clause is worded otherwise in this edition. Ask otherwise, then come back.")]

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """See `assessments.scoring.gaps`. Words of the edition are no slips for one another."""
        gaps, typed = gaps_of(key), key.item.asking["typed"]
        texts = key.item.edition.clauses.values_list("text", flat=True) if typed else []
        known = {word for text in texts for word in plain(text).split()}
        for content in contents:
            given = content.get("gaps") or [""] * len(gaps)
            score = score_gaps(gaps, given, known=known, typed=typed)
            yield Marked(score.score, plain_detail(map(by_itself, score.lines), answered=score.answered))

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """See `gaps_in_words`."""
        return list(gaps_in_words())

    def marked_context(self, answer: Answer) -> dict[str, Any]:
        """The clause as it is, and as it was completed."""
        asking = answer.item.asking
        given = answer.content.get("gaps") or ["" for _gap in asking["gaps"]]
        right = left_out(asking["text"], asking["gaps"])
        return {"right": pieces(asking, right), "completed": pieces(asking, given)}

    def line(self, mark: Mark) -> dict[str, str]:
        """How many gaps there are, and how many are not full."""
        gaps = len(mark.detail["lines"])
        return super().line(mark) | {"key": ngettext("%(n)d gap", "%(n)d gaps", gaps) % {"n": gaps}}


def _offered(asking: dict[str, Any]) -> list[str]:
    return sorted({*left_out(asking["text"], asking["gaps"]), *asking["decoys"]})
