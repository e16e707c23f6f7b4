"""The kind itself: ties content, key and scoring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments.items.choose.asking import ChoosingForm
from assessments.items.choose.key import drawn_up, key_words, lacks, read_key, shown, warned
from assessments.items.keeping import keeping_words, kept_so_far
from assessments.items.kind import AnswerRefused, ItemKind, Marked, plain_detail
from assessments.items.reading import answer_parts
from assessments.items.shuffling import shuffled
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.scoring.choice import choice_in_words, score_choice


class Choose(ItemKind):
    """One or several of some options. The order in which they stand is drawn for each answer."""

    name = "choose"
    label = _("Choose one or several")
    says = _(
        "A question with two to eight options, one or several of them right; with a picture if you like."
    )
    templates = "choose"
    pinned = False
    exhibits = (0, 1)
    panelled = False
    asking_form = ChoosingForm

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """{"chosen": [option id, …]} of what is asked, and one at most where one is asked for."""
        chosen = answer_parts(sent).get("chosen")
        known = [option["id"] for option in item.asking["options"]]
        if not isinstance(chosen, list) or not all(option in known for option in chosen):
            raise AnswerRefused(_now("An option was chosen that is not asked."))
        if len(set(chosen)) > 1 and not item.asking["several"]:
            raise AnswerRefused(_now("Only one option may be chosen."))
        return {"chosen": [option for option in known if option in chosen]}

    def is_blank(self, content: dict[str, Any]) -> bool:
        """Nothing chosen."""
        return not content.get("chosen")

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """The options in the order drawn for this answer."""
        return {
            "options": shuffled(answer, answer.item.asking["options"]),
            **kept_so_far(answer, {"chosen": []}),
        }

    def words(self) -> dict[str, str]:
        """What keeping says, and the first thing to do."""
        return keeping_words() | {"blank": _now("Choose an option first.")}

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """See `assessments.items.choose.key`."""
        return read_key(sent, item)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The options with what the key says of each."""
        return drawn_up(key)

    def show_key(self, key: Key) -> list[dict[str, Any]]:
        """Each option with whether it is right and why."""
        return shown(key)

    def key_words(self) -> dict[str, str]:
        """See `key_words`."""
        return key_words()

    def lacks(self, key: Key) -> list[str]:
        """A right option."""
        return lacks(key)

    def warned(self, key: Key) -> list[str]:
        """More right options than wrong ones."""
        return warned(key)

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """See `assessments.scoring.choice`."""
        asking = key.item.asking
        options = {option["id"]: option["text"] for option in asking["options"]}
        for content in contents:
            chosen = content.get("chosen", [])
            score = score_choice(options, key.content["right"], chosen, asking["several"])
            yield Marked(score.score, plain_detail(score.lines, answered=score.answered))

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """Of one and of several."""
        return [*choice_in_words(False), *choice_in_words(True)]

    def marked_context(self, answer: Answer) -> dict[str, Any]:
        """Each option, as it stood, with what was chosen, what is right, and why."""
        key = next((mark.key for mark in answer.current_marks), None)
        content = key.content if key else {"right": [], "why": {}}
        chosen = answer.content.get("chosen", [])
        options = [
            {
                **option,
                "chosen": option["id"] in chosen,
                "right": option["id"] in content["right"],
                "why": content["why"].get(option["id"], ""),
            }
            for option in shuffled(answer, answer.item.asking["options"])
        ]
        return {"options": options}

    def line(self, mark: Mark) -> dict[str, str]:
        """How many are right, how many of these were not chosen, how many chosen that are not."""
        kinds = [line["kind"] for line in mark.detail["lines"]]
        right = kinds.count("chosen") + kinds.count("missed")
        words = ngettext("%(n)d right option", "%(n)d right options", right) % {"n": right} if right else ""
        return {"key": words, "missed": str(kinds.count("missed")), "called": str(kinds.count("false alarm"))}
