"""The kind itself. It is marked by a person: nothing here marks an answer when it is handed in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments.items.keeping import drafting_words, keeping_words
from assessments.items.kind import AnswerRefused, ItemKind, Marked
from assessments.items.reading import answer_parts, unreadable_answer
from assessments.items.write_a_critique.asking import CritiqueAsking, asked
from assessments.items.write_a_critique.key import (
    drawn_up,
    first_content,
    missing_parts,
    part_rows,
    read_key,
    rubric_rows,
)
from assessments.items.write_a_critique.marking import (
    RubricForm,
    lowest_in_words,
    marked_by,
    reached_in_words,
)
from assessments.items.write_a_critique.parts import RUBRIC, part_words, parts_asked, rubric_words
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.queries.quizzes import published_key
from shared.web.limits import CRITIQUE_PART


class WriteACritique(ItemKind):
    """Virtues and what falls short, of one exhibit or of a class that is placed; a mentor marks by a rubric."""

    name = "write-a-critique"
    label = _("Write a critique")
    says = _("Put into words what is right and what falls short; a mentor marks it by a rubric.")
    templates = "write_a_critique"
    exhibits = (1, 8)
    panelled = False
    by_hand = True
    asking_form = CritiqueAsking

    def first_key(self, key: Key) -> None:
        """The usual rubric."""
        key.content = first_content(key.item)
        key.save(update_fields=["content"])

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """The text of each part that is asked for, within its length."""
        parts = answer_parts(answer_parts(sent).get("parts"))
        texts = {name: parts.get(name) or "" for name in parts_asked(item)}
        if not all(isinstance(text, str) for text in texts.values()):
            raise unreadable_answer()
        for name, text in texts.items():
            if len(text) > CRITIQUE_PART:
                raise AnswerRefused(
                    _now("%(part)s: at most %(n)d characters.")
                    % {"part": part_words()[name][0], "n": CRITIQUE_PART}
                )
        return {"parts": {name: text.replace("\0", "") for name, text in texts.items()}}

    def without_words(self, kept: dict[str, Any]) -> dict[str, Any]:
        """No text in any part; of a marking the levels reached, and no mentor's word on them."""
        bare = dict(kept)
        if "parts" in kept:
            bare["parts"] = dict.fromkeys(kept["parts"], "")
        if "given" in kept:
            said = kept["given"]
            bare["given"] = said | {"words": dict.fromkeys(said["words"], ""), "overall": ""}
        return bare

    def is_blank(self, content: dict[str, Any]) -> bool:
        """Nothing is written in any part."""
        return not any(text.strip() for text in content.get("parts", {}).values())

    def what_is_missing(self, content: dict[str, Any]) -> str | None:
        """Every part says something, if only that there is nothing to say."""
        if self.is_blank(content):
            return _now("Write your critique first.")
        empty = [part_words()[name][0] for name, text in content["parts"].items() if not text.strip()]
        if not empty:
            return None
        return _now("Still empty: %(parts)s. If there is nothing to say, say so.") % {
            "parts": ", ".join(empty)
        }

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """See `asked`."""
        return asked(answer)

    def words(self) -> dict[str, str]:
        """Of keeping, and of the counter."""
        return keeping_words() | {
            "blank": _now("Write your critique first."),
            "left": _now("{n} of {most} characters left"),
        }

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """Rubric, points expected, model answer."""
        return read_key(sent, item)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The same for the page."""
        return drawn_up(key)

    def show_key(self, key: Key) -> dict[str, Any]:
        """The same to look at only."""
        return {"rubric": rubric_rows(key.content), "parts": part_rows(key.item, key.content)}

    def key_words(self) -> dict[str, str]:
        """Of keeping, and what is missing."""
        return drafting_words() | {
            "weight": _now("{part}: say how much it weighs."),
            "levels": _now("{part}: describe every level."),
            "model": _now("Write the model answer: {part}."),
        }

    def lacks(self, key: Key) -> list[str]:
        """See `missing_parts`."""
        return missing_parts(key)

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """Never: a critique is marked by a person, see `mark_given`."""
        raise TypeError("A critique is marked by a mentor.")

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """Who marks, by what, and what is read afterwards."""
        words = rubric_words()
        return [
            _now("A mentor reads it and marks it by a rubric; there is no mark before that."),
            *(f"{label}: {asks}" for label, asks in (words[name] for name in RUBRIC)),
            _now(
                "Each is given one of five described levels, from 0 to 4. The mark is their mean, each with the "
                "weight that the item’s key gives it. You read the levels reached, the mentor’s words and a model "
                "answer."
            ),
        ]

    def marking_form(self, key: Key, *data: Any, given: dict[str, Any] | None = None) -> forms.Form:
        """The rubric, with what was given before."""
        return RubricForm(*data, key=key, given=given)

    def mark_given(self, key: Key, given: dict[str, Any]) -> Marked:
        """The weighted mean of the levels reached."""
        return marked_by(key, given)

    def given_in_words(self, key: Key, given: dict[str, Any]) -> str:
        """Level by level, then the word on the whole."""
        rows = [
            _now("%(part)s %(n)d of %(of)d. %(word)s")
            % {"part": row["label"], "n": row["level"], "of": row["of"], "word": row["word"]}
            for row in reached_in_words(key, given)
        ]
        return "\n".join([*(row.strip() for row in rows), given["overall"]]).strip()

    def marked_context(self, answer: Answer) -> dict[str, Any]:
        """What was written, part by part; and once it is marked the levels reached, by the key that marked it."""
        mark = next(iter(answer.current_marks), None)
        key = mark.key if mark else published_key(answer.item)
        texts = answer.content.get("parts", {})
        written = [
            part | {"text": texts.get(part["name"], "")} for part in part_rows(answer.item, key.content)
        ]
        given = mark.detail["given"] if mark else None
        return {
            "written": written,
            "given": given,
            "reached": reached_in_words(key, given) if given else [],
            "several": len(answer.item.item_exhibits.all()) > 1,
        }

    def line(self, mark: Mark) -> dict[str, str]:
        """The part of the rubric that reached least."""
        return {
            "key": _now("critique"),
            "missed": lowest_in_words(mark.key, mark.detail["given"]),
            "called": "",
        }
