"""The kind itself: ties content, key and scoring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments.items.keeping import keeping_words, kept_so_far
from assessments.items.kind import AnswerRefused, ItemKind, Marked, lost_points, plain_detail
from assessments.items.reading import answer_parts, id_of, unreadable_answer
from assessments.items.shuffling import drawn_order
from assessments.items.which_of_the_pair.asking import PairForm
from assessments.items.which_of_the_pair.key import (
    clause_choices,
    drawn_up,
    key_words,
    lacks,
    propose,
    read_key,
    shown,
)
from assessments.items.which_of_the_pair.panel import PairPanel
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.scoring.pair import PairKey, pair_in_words, score_pair
from courses.models import Clause


class WhichOfThePair(ItemKind):
    """Which of two exhibits is the better, and by which clause. Their sides are drawn for each answer."""

    name = "which-of-the-pair"
    label = _("Which of the pair")
    says = _("Two exhibits in the same view: which is the better, and by which clause?")
    templates = "which_of_the_pair"
    pinned = False
    exhibits = (2, 2)
    asking_form = PairForm
    panel = PairPanel()

    def first_key(self, key: Key) -> None:
        """See `propose`."""
        propose(key)

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """{"exhibit": id, "clause": id} of the pair and of the edition; either may be None."""
        parts = answer_parts(sent)
        if not {"exhibit", "clause"} <= parts.keys():
            raise unreadable_answer()
        exhibit, clause = id_of(parts.get("exhibit")), id_of(parts.get("clause"))
        if exhibit is not None and exhibit not in {row.exhibit_id for row in item.item_exhibits.all()}:
            raise AnswerRefused(_now("An exhibit was chosen that is not shown."))
        if clause is not None and not Clause.objects.filter(edition=item.edition_id, pk=clause).exists():
            raise AnswerRefused(_now("A clause was chosen that is not of this edition."))
        return {"exhibit": exhibit, "clause": clause}

    def is_blank(self, content: dict[str, Any]) -> bool:
        """Neither an exhibit nor a clause."""
        return content.get("exhibit") is None and content.get("clause") is None

    def what_is_missing(self, content: dict[str, Any]) -> str | None:
        """One of the two; whoever does not know the clause may leave it open."""
        return self.words()["blank"] if content.get("exhibit") is None else None

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """The two in the order drawn for this answer, and the edition's clauses."""
        return {
            "exhibits": drawn_order(answer),
            "clauses": clause_choices(answer.item),
            **kept_so_far(answer, {"exhibit": None, "clause": None}),
        }

    def words(self) -> dict[str, str]:
        """What keeping says, and the first thing to do."""
        return keeping_words() | {"blank": _now("Choose one of the two first.")}

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """See `assessments.items.which_of_the_pair.key`."""
        return read_key(sent, item)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The edition's clauses, and the key so far."""
        return drawn_up(key)

    def show_key(self, key: Key) -> dict[str, Any]:
        """The right exhibit, and the clauses with their credits."""
        return shown(key)

    def key_words(self) -> dict[str, str]:
        """See `key_words`."""
        return key_words()

    def lacks(self, key: Key) -> list[str]:
        """The exhibit and the clause."""
        return lacks(key.content)

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """See `assessments.scoring.pair`."""
        numbers = dict(Clause.objects.filter(edition=key.item.edition_id).values_list("pk", "number"))
        also = {numbers.get(row["clause"], ""): row["credit"] for row in key.content["also"]}
        pair_key = PairKey(key.content["exhibit"], numbers.get(key.content["clause"], ""), also)
        for content in contents:
            score = score_pair(pair_key, content.get("exhibit"), numbers.get(content.get("clause")))
            detail = plain_detail(score.lines, answered=score.answered)
            yield Marked(score.score, detail)

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """See `pair_in_words`."""
        return list(pair_in_words())

    def marked_context(self, answer: Answer) -> dict[str, Any]:
        """The two as they stood, what was chosen, and what the key has."""
        key = next((mark.key for mark in answer.current_marks), None)
        clauses = Clause.objects.select_related("edition__breed").in_bulk(
            [each for each in (answer.content.get("clause"), key and key.content["clause"]) if each]
        )
        return {
            "order": drawn_order(answer),
            "chosen": answer.content.get("exhibit"),
            "chosen_clause": clauses.get(answer.content.get("clause")),
            "better": key and key.content["exhibit"],
            "better_clause": key and clauses.get(key.content["clause"]),
        }

    def line(self, mark: Mark) -> dict[str, str]:
        """Which parts were lost."""
        lost = [
            str({"chosen": _now("exhibit"), "clause": _now("clause")}.get(line["kind"], ""))
            for line in mark.detail["lines"]
            if lost_points(line)
        ]
        return {"key": "", "missed": ", ".join(filter(None, lost)), "called": ""}
