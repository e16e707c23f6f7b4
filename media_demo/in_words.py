"""A quiz that asks by words, by a pair and by a class, answered by some through the actions that the pages use."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from random import Random
from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.items.complete_the_clause.wording import bare, left_out
from assessments.models import Answer, Item, Quiz
from assessments.queries.quizzes import published_key
from courses.models import Clause, Edition, Exhibit
from media_demo.answers import luck
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
    shown = {
        (quiz.key, number): exhibits[figure.key]
        for quiz in scenario.quizzes
        for number, figure in enumerate(quiz.items, start=1)
    }
    quiz = make_quiz(edition=edition, title=said["title"], by=educator, introduction=said["introduction"])
    for row in said["item"]:
        if all(exhibit in shown for exhibit in _named(row)):
            add_item(quiz=quiz, item=MAKERS[row["kind"]](row, edition, shown, educator))
    open_quiz(quiz=quiz)
    return _answered(quiz, scenario, people)


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


def _answered(quiz: Quiz, scenario: Scenario, people: People) -> int:
    members = {member.email: member for member in (*scenario.members, *scenario.trainees)}
    answered = 0
    for email in scenario.in_words["by"]:
        if email not in people.by_email:
            continue
        member = members[email]
        for answer in begin_sitting(quiz=quiz, trainee=people.by_email[email]).answers.all():
            _answer(answer, scenario.eyes[member.eye], luck(member, answer))
            answered += 1
    return answered


def _answer(answer: Answer, eye: Eye, chance: Random) -> None:
    content = SAID[answer.item.kind](answer.item, eye, chance)
    saved = save_answer(answer=answer, sent=content, seen=answer.revision, identity=uuid.uuid4())
    hand_in(answer=answer, seen=saved.revision)


def _choose(item: Item, eye: Eye, chance: Random) -> dict[str, Any]:
    """Who does not know takes one by chance."""
    options, right = [option["id"] for option in item.asking["options"]], _key_of(item)["right"]
    known = [option for option in right if chance.random() < eye.names]
    return {"chosen": known or [chance.choice(options)]}


def _complete(item: Item, eye: Eye, chance: Random) -> dict[str, Any]:
    words = left_out(item.asking["text"], item.asking["gaps"])
    unknown = (lambda: chance.choice(item.asking["decoys"])) if item.asking["decoys"] else (lambda: "")
    given = [each if chance.random() < eye.names else unknown() for each in words]
    if item.asking["typed"]:
        given = [
            each[:-2] + each[-1] if len(each) > 6 and chance.random() < SLIPS else each for each in given
        ]
    return {"gaps": given if any(given) else words[:1] + given[1:]}


def _compare(item: Item, eye: Eye, chance: Random) -> dict[str, Any]:
    key, both = _key_of(item), [row.exhibit_id for row in item.item_exhibits.all()]
    exhibit = key["exhibit"] if chance.random() < eye.sees else chance.choice(both)
    clause = key["clause"] if chance.random() < eye.names else None
    return {"exhibit": exhibit, "clause": clause}


def _place(item: Item, eye: Eye, chance: Random) -> dict[str, Any]:
    """Neighbours change places the more readily the less is seen; a fault not seen is not found."""
    key = _key_of(item)
    order = list(key["order"])
    for place in range(len(order) - 1):
        if chance.random() > eye.sees:
            order[place : place + 2] = reversed(order[place : place + 2])
    found = {
        exhibit: [row["fault"] for row in rows if chance.random() < eye.sees * eye.names]
        for exhibit, rows in key["faults"].items()
    }
    findings = {exhibit: {"faults": faults, "nothing": not faults} for exhibit, faults in found.items()}
    return {"placing": order, "findings": findings}


SAID = {
    "choose": _choose,
    "complete-the-clause": _complete,
    "which-of-the-pair": _compare,
    "place-a-class": _place,
}


def _key_of(item: Item) -> dict[str, Any]:
    return published_key(item).content
