"""A quiz that asks by words, by a pair and by a class, answered by some through the actions that the pages use."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.items.complete_the_clause.wording import bare, left_out
from assessments.models import Item, Key
from courses.models import Clause, Edition, Exhibit
from media_demo.answers import answered_by
from media_demo.eyes import Eye
from media_demo.loading import Scenario
from media_demo.people import People
from shared.accounts.models import Person
from shared.accounts.roles import Role

# A house figure of the simulation, without a source: a slip of the pen in a word that is known.
SLIPS = 0.15

Exhibits = Mapping[tuple[str, int], Exhibit]


def ask_in_words(
    scenario: Scenario, people: People, edition: Edition, exhibits: Mapping[str, Exhibit]
) -> int:
    """An open quiz of the four kinds, and its answers; how many. `exhibits` by their figures' keys."""
    said, educator = scenario.in_words, people.first(Role.EDUCATOR).person
    shown = {place: exhibits[key] for place, key in scenario.figure_keys().items()}
    quiz = make_quiz(edition=edition, title=said["title"], by=educator, introduction=said["introduction"])
    for row in said["item"]:
        if all(exhibit in shown for exhibit in _named(row)):
            add_item(quiz=quiz, item=MAKERS[row["kind"]](row, edition, shown, educator))
    open_quiz(quiz=quiz)
    return answered_by(said["by"], quiz, scenario, people, SAYS)


def _named(row: Mapping[str, Any]) -> list[tuple[str, int]]:
    several = [*row.get("official", []), *(row[side] for side in ("better", "other") if side in row)]
    return [(quiz, number) for quiz, number in several]


def _choice(row: Mapping[str, Any], edition: Edition, _shown: Exhibits, by: Person) -> Item:
    texts = [*row["right"], *row["wrong"]]
    options = [{"id": f"{Random(text).getrandbits(32):08x}", "text": text} for text in texts]
    right = [option["id"] for option in options[: len(row["right"])]]
    asking = {"stem": row["stem"], "several": len(right) > 1, "options": options}
    item = make_item(edition=edition, kind=row["kind"], asking=asking, clause=_clause(edition, row), by=by)
    return _keyed(item, {"right": right, "why": {right[0]: row["why"].replace("*", "")}}, by)


def _gaps(row: Mapping[str, Any], edition: Edition, _shown: Exhibits, by: Person) -> Item:
    clause, decoys = _clause(edition, row), row.get("decoys", [])
    text = bare(clause.text)
    gaps = [[text.index(words), text.index(words) + len(words)] for words in row["gaps"]]
    asking = {"text": text, "gaps": gaps, "typed": not decoys, "decoys": decoys}
    also = [
        [{"words": words, "credit": credit} for words, credit in row.get("also", {}).get(gap, {}).items()]
        for gap in row["gaps"]
    ]
    item = make_item(edition=edition, kind=row["kind"], asking=asking, clause=clause, by=by)
    return _keyed(item, {"also": also}, by)


def _pair(row: Mapping[str, Any], edition: Edition, shown: Exhibits, by: Person) -> Item:
    better, other = (shown[quiz, number] for quiz, number in (row["better"], row["other"]))
    clauses = {clause.number: clause for clause in edition.clauses.all()}
    also = [{"clause": clauses[number].pk, "credit": credit} for number, credit in row["also"].items()]
    item = make_item(
        edition=edition,
        kind=row["kind"],
        exhibits=[other, better],
        asking={"question": row["question"]},
        clause=clauses[row["clause"]],
        by=by,
    )
    return _keyed(item, {"exhibit": better.pk, "clause": clauses[row["clause"]].pk, "also": also}, by)


def _class(row: Mapping[str, Any], edition: Edition, shown: Exhibits, by: Person) -> Item:
    """The faults are those that the exhibits are said to show; the order and the cuts are the scenario's."""
    official = [shown[quiz, number] for quiz, number in row["official"]]
    in_turn = sorted(official, key=lambda exhibit: exhibit.number)
    item = make_item(
        edition=edition, kind=row["kind"], exhibits=in_turn, asking={"findings": "counted"}, by=by
    )
    order = [exhibit.pk for exhibit in official]
    proposed = item.keys.get().content
    return _keyed(item, {**proposed, "order": order, "cuts": row["cuts"], "total": row["total"]}, by)


MAKERS = {
    "choose": _choice,
    "complete-the-clause": _gaps,
    "which-of-the-pair": _pair,
    "place-a-class": _class,
}


def _clause(edition: Edition, row: Mapping[str, Any]) -> Clause:
    return edition.clauses.get(number=row["clause"])


def _keyed(item: Item, content: dict[str, Any], by: Person) -> Item:
    save_draft(key=item.keys.get(), sound=False, note="", content=content, by=by)
    publish_key(item=item, by=by)
    return item


def _choose(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    """Who does not know takes one by chance."""
    options, right = [option["id"] for option in key.item.asking["options"]], key.content["right"]
    known = [option for option in right if chance.random() < eye.names]
    return {"chosen": known or [chance.choice(options)]}


def _complete(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    asking = key.item.asking
    words = left_out(asking["text"], asking["gaps"])
    unknown = (lambda: chance.choice(asking["decoys"])) if asking["decoys"] else (lambda: "")
    given = [each if chance.random() < eye.names else unknown() for each in words]
    if asking["typed"]:
        given = [
            each[:-2] + each[-1] if len(each) > 6 and chance.random() < SLIPS else each for each in given
        ]
    return {"gaps": given if any(given) else words[:1] + given[1:]}


def _compare(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    both = [row.exhibit_id for row in key.item.item_exhibits.all()]
    exhibit = key.content["exhibit"] if chance.random() < eye.sees else chance.choice(both)
    clause = key.content["clause"] if chance.random() < eye.names else None
    return {"exhibit": exhibit, "clause": clause}


def _place(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    """Neighbours change places the more readily the less is seen; a fault not seen is not found."""
    order = list(key.content["order"])
    for place in range(len(order) - 1):
        if chance.random() > eye.sees:
            order[place : place + 2] = reversed(order[place : place + 2])
    found = {
        exhibit: [row["fault"] for row in rows if chance.random() < eye.sees * eye.names]
        for exhibit, rows in key.content["faults"].items()
    }
    findings = {exhibit: {"faults": faults, "nothing": not faults} for exhibit, faults in found.items()}
    return {"placing": order, "findings": findings}


SAYS = {
    "choose": _choose,
    "complete-the-clause": _complete,
    "which-of-the-pair": _compare,
    "place-a-class": _place,
}
