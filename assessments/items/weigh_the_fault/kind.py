"""The kind itself: the key is drawn up as for marked faults, of one fault; what is asked is its level."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments import snapshots
from assessments.items.keeping import kept_so_far
from assessments.items.kind import AnswerRefused, KeyRefused, Marked, plain_detail
from assessments.items.mark_the_faults.key import propose_entries
from assessments.items.mark_the_faults.kind import MarkTheFaults
from assessments.items.reading import answer_parts, words_of
from assessments.items.weigh_the_fault.shown import differs_from_first, fault_shown
from assessments.items.weigh_the_fault.words import key_words, page_words
from assessments.models import Answer, Item, Key, KeyEntry, Mark, QuizRules
from assessments.scoring.shown_fault import WeighingRules, WeighingScore, score_shown_fault, weighing_in_words

NOTE_LENGTH = 1000


class WeighTheFault(MarkTheFaults):
    """A fault is shown on an exhibit, named and given its clause: how severe is it?

    The key has one entry; all of it but its level is shown to whoever answers, and stays as it was first
    published.
    """

    name = "weigh-the-fault"
    label = _("Weigh the fault")
    says = _("One fault of an exhibit is shown to you and named: say how severe it is.")
    templates = "weigh_the_fault"
    panel = None
    panelled = False
    pinned = False

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """A level of the ladder, or none yet, and a note."""
        parts = answer_parts(sent)
        level, note = parts.get("level"), words_of(parts.get("note"), NOTE_LENGTH)
        if level is None or (type(level) is int and 0 <= level < len(rules.ladder["labels"])):
            return {"level": level, "note": note}
        raise AnswerRefused(_now("The severity is not on the ladder."))

    def is_blank(self, content: dict[str, Any]) -> bool:
        """No level."""
        return content.get("level") is None

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """The shown fault with its clause and its place, the ladder, and what is kept so far; never its level."""
        levels = zip(rules.ladder["labels"], rules.ladder["weights"], strict=True)
        return {
            "shown": fault_shown(answer.item),
            "levels": [{"label": label, "weight": weight} for label, weight in levels],
            **kept_so_far(answer, {"level": None, "note": ""}),
        }

    def words(self) -> dict[str, str]:
        """See `page_words`."""
        return page_words()

    def first_key(self, key: Key) -> None:
        """The first fault that the exhibit is said to show."""
        KeyEntry.objects.bulk_create(propose_entries(key, key.item.exhibit)[:1])

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """As for marked faults; of one fault, and never sound."""
        read = super().read_key(item, levels, sent)
        if len(read["entries"]) > 1:
            raise KeyRefused([(1, _now("One fault is shown; this is a second one."))])
        return read | {"sound": False}

    def draw_up(self, key: Key) -> dict[str, Any]:
        """As for marked faults, with room for one."""
        drawn = super().draw_up(key)
        return drawn | {"most": drawn["most"] | {"entries": 1}}

    def key_words(self) -> dict[str, str]:
        """See `key_words`."""
        return key_words()

    def lacks(self, key: Key) -> list[str]:
        """The parts of the one fault; and that what trainees were shown has stayed as it was."""
        if not key.entries.all():
            return [key_words()["missing_entries"]]
        lacking = super().lacks(key)
        if not lacking and differs_from_first(key):
            return [
                _now(
                    "What is shown stays as it was first published. Make another item to show another fault."
                )
            ]
        return lacking

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """See `assessments.scoring.shown_fault`."""
        return list(weighing_in_words(_rules(rules), snapshots.ladder(rules)))

    def line(self, mark: Mark) -> dict[str, str]:
        """The key's level and what was said."""
        labels = mark.rules.ladder["labels"]
        weighed = mark.detail["weighed"][0]
        given = _now("not weighed") if weighed["given"] is None else labels[weighed["given"]]
        missed = "" if weighed["given"] == weighed["key"] else _now("weighed: %(level)s") % {"level": given}
        return {"key": labels[weighed["key"]], "missed": missed, "called": ""}

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """By the published rules; the record's calibration reads `weighed`."""
        ladder, counted = snapshots.ladder(rules), _rules(rules)
        [entry] = snapshots.shown_key(key)
        for content in contents:
            given = content.get("level")
            yield _marked(score_shown_fault(entry["level"], given, ladder, counted), entry, given)


def _rules(rules: QuizRules) -> WeighingRules:
    return WeighingRules(disqualifying_cap=snapshots.marking_rules(rules, None).disqualifying_cap)


def _marked(score: WeighingScore, entry: dict[str, Any], given: int | None) -> Marked:
    weighed = {"zone": entry["zone"], "given": given, "key": entry["level"], "credit": score.weighing}
    detail = plain_detail(
        score.lines,
        answered=score.answered,
        capped=score.capped,
        cap_reason=score.cap_reason,
        entries=[entry | {"letter": ""}],
        weighed=[weighed],
        sees=False,
    )
    return Marked(score.score, detail, weighing=score.weighing)
