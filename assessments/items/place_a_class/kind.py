"""The kind itself: ties content, key and scoring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments import snapshots
from assessments.items.keeping import keeping_words, kept_so_far
from assessments.items.kind import ItemKind, Marked, by_itself, plain_detail
from assessments.items.mark_the_faults.asking import fault_choices
from assessments.items.place_a_class import key as keyed
from assessments.items.place_a_class.asking import ClassForm, asks_findings, share_of
from assessments.items.place_a_class.content import EMPTY, read_content, written
from assessments.items.place_a_class.panel import ClassPanel
from assessments.items.shuffling import drawn_order, shown_exhibits
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.rules import letter
from assessments.scoring.class_marks import ClassKey, ClassScore, Findings, class_in_words, score_class
from assessments.scoring.explanation import Line
from assessments.scoring.ledger import set_out
from assessments.scoring.marks import KeyEntry
from courses.models import Fault


class PlaceAClass(ItemKind):
    """Findings on each exhibit of a class, and the class placed. Their letters are drawn for each answer."""

    name = "place-a-class"
    label = _("Place a class")
    says = _("Three to eight exhibits, five being usual: say what is there, and place them in order.")
    templates = "place_a_class"
    pinned = False
    exhibits = (3, 8)
    asking_form = ClassForm
    panel = ClassPanel()

    def first_key(self, key: Key) -> None:
        """See `assessments.items.place_a_class.key`."""
        keyed.propose(key)

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """See `assessments.items.place_a_class.content`."""
        return read_content(sent, item)

    def is_blank(self, content: dict[str, Any]) -> bool:
        """Nothing placed and nothing found. What is unfinished may be handed in: a half is worth more than nothing."""
        return not content.get("placing") and not written(content)

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """The exhibits in the order drawn for this answer, and the club's faults with their clauses."""
        asks = asks_findings(answer.item)
        faults = fault_choices(answer.item.edition.breed_id) if asks else []
        return {
            "exhibits": drawn_order(answer),
            "asks_findings": asks,
            "faults": [
                {part: row[part] for part in ("id", "name", "other_names", "zone", "clause")}
                for row in faults
            ],
            **kept_so_far(answer, EMPTY),
        }

    def words(self) -> dict[str, str]:
        """What keeping says, and what the lists say; what stands in braces is filled in."""
        return keeping_words() | {
            "blank": _now("Place the class first."),
            "unfinished": _now("Not every exhibit has a place yet: without that, the placing earns nothing."),
            "unwritten": _now("No findings yet on {letters}."),
            "placed": _now("{letter} stands {n} of {of}."),
            "out": _now("{letter} has no place."),
            "row": _now("{letter}, place {n}. Alt with arrow keys moves it, a number gives it that place."),
            "row_out": _now("{letter}, not placed yet. A number gives it that place."),
            "remove": _now("Remove {name} from {letter}"),
            "faults_of": _now("Findings on {letter}"),
        }

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """See `assessments.items.place_a_class.key`."""
        return keyed.read_key(sent, item, levels)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The club's faults, the ladder, and the key so far."""
        return keyed.drawn_up(key)

    def show_key(self, key: Key) -> dict[str, Any]:
        """The order with cuts and faults."""
        return keyed.shown(key)

    def key_words(self) -> dict[str, str]:
        """See `assessments.items.place_a_class.key`."""
        return keyed.key_words()

    def lacks(self, key: Key) -> list[str]:
        """The cuts."""
        return keyed.lacks(key.content)

    def warned(self, key: Key) -> list[str]:
        """What the handbooks forbid in the cuts."""
        return keyed.warned(key)

    def levels_of(self, key: Key) -> set[int]:
        """Those of the faults keyed for each exhibit."""
        return {row["level"] for rows in key.content.get("faults", {}).values() for row in rows}

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """See `assessments.scoring.class_marks`."""
        faults = _faults_of(key.item.edition.breed_id)
        class_key, asks = _class_key(key, faults), asks_findings(key.item)
        ladder, marking_rules = snapshots.ladder(rules), snapshots.marking_rules(rules, None)
        for content in contents:
            findings = _findings(content, faults) if asks else None
            score = score_class(class_key, content.get("placing", []), findings, ladder, marking_rules)
            yield Marked(score.score, _detail(score, class_key))

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """See `class_in_words`."""
        return list(class_in_words(snapshots.marking_rules(rules, None)))

    def marked_context(self, answer: Answer) -> dict[str, Any]:
        """The official order with its cuts, the answer's, and the findings on each exhibit beside the key's."""
        mark = next(iter(answer.current_marks), None)
        if mark is not None:
            mark.key.item = answer.item
        faults = _faults_of(answer.item.edition.breed_id)
        given = answer.content.get("findings", {})
        order = drawn_order(answer)
        return {
            "order": order,
            "letters": {exhibit: letter(place).lower() for place, exhibit in enumerate(order)},
            "exhibits": {exhibit.pk: exhibit for exhibit in shown_exhibits(answer.item)},
            "placed": answer.content.get("placing", []),
            "official": keyed.shown(mark.key) if mark else None,
            "found": {
                int(exhibit): {
                    "faults": [faults[fault][0] for fault in row["faults"] if fault in faults],
                    "nothing": row["nothing"],
                }
                for exhibit, row in given.items()
            },
            "asks_findings": asks_findings(answer.item),
            "beside": set_out([Line(**line) for line in mark.detail["beside"]]) if mark else None,
        }

    def line(self, mark: Mark) -> dict[str, str]:
        """The points of the placing, and how many pairs stand the wrong way round."""
        kinds = [line["kind"] for line in mark.detail["lines"]]
        values = {"points": f"{mark.detail['points']:g}", "total": f"{mark.detail['total']:g}"}
        return {
            "key": _now("placing %(points)s of %(total)s") % values,
            "missed": str(kinds.count("missed")),
            "called": str(kinds.count("false alarm")),
        }


def _faults_of(breed_id: int) -> dict[int, tuple[str, str | None, str]]:
    """The club's faults by id: name, clause, zone."""
    rows = Fault.objects.filter(breed=breed_id).values_list("pk", "name", "clause__number", "zone")
    return {pk: (name, clause, zone) for pk, name, clause, zone in rows}


def _class_key(key: Key, faults: dict[int, tuple[str, str | None, str]]) -> ClassKey:
    rows = key.item.item_exhibits.select_related("exhibit")
    return ClassKey(
        official=key.content["order"],
        cuts=key.content["cuts"],
        labels={row.exhibit_id: _now("Exhibit %(n)d") % {"n": row.exhibit.number} for row in rows},
        total=key.content["total"],
        faults={
            int(exhibit): [KeyEntry(None, *faults[row["fault"]], row["level"]) for row in rows]
            for exhibit, rows in key.content["faults"].items()
        },
        share=share_of(key.item),
    )


def _findings(content: dict[str, Any], faults: dict[int, tuple[str, str | None, str]]) -> dict[int, Findings]:
    return {
        int(exhibit): Findings([faults[each][:2] for each in row["faults"] if each in faults], row["nothing"])
        for exhibit, row in content.get("findings", {}).items()
    }


def _detail(score: ClassScore, key: ClassKey) -> dict[str, Any]:
    return plain_detail(
        map(by_itself, score.lines),
        answered=score.answered,
        beside=[vars(by_itself(line)) for line in score.beside],
        findings=score.findings,
        points=score.placed.points if score.placed else 0,
        total=key.total,
        agreement=score.agreement,
    )
