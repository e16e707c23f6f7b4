"""Items of the kinds that ask by words, pairs and classes, made as an educator makes them, and answered."""

from __future__ import annotations

import uuid
from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Answer, Item, Mark
from shared.accounts.models import Membership
from tests import makers

OPTIONS = [{"id": f"{name * 8}", "text": f"Option {name}"} for name in "abcd"]
TEXT = "The blade is long and well laid back, meeting the upper arm at about a right angle."


def keyed(item: Item, by: Membership, content: dict[str, Any] | None = None) -> Item:
    """The item with this key published; as its kind proposes it where none is given."""
    key = start_draft(item=item, by=by.person)
    save_draft(
        key=key, sound=False, note="", content=key.content if content is None else content, by=by.person
    )
    publish_key(item=item, by=by.person)
    item.refresh_from_db()
    return item


def choice(edition: Any, by: Membership, *, several: bool = True, right: str = "ab", why: Any = None) -> Item:
    """Four options, of which `right` names those that are."""
    asking = {"stem": "Which **of these** does the standard ask?", "several": several, "options": OPTIONS}
    item = make_item(edition=edition, by=by.person, kind="choose", asking=asking)
    return keyed(item, by, {"right": [name * 8 for name in right], "why": why or {}})


def clause_item(edition: Any, by: Membership, *, typed: bool = True, also: Any = None) -> Item:
    """ "long" and "well laid back" are left out of clause 5.1."""
    clause = edition.clauses.filter(number="5.1").first() or makers.make_clause(edition, text=TEXT)
    gaps = [[TEXT.index("long"), TEXT.index("long") + 4], [TEXT.index("well"), TEXT.index("back") + 4]]
    asking = {"text": TEXT, "gaps": gaps, "typed": typed, "decoys": [] if typed else ["short", "steep"]}
    item = make_item(edition=edition, by=by.person, kind="complete-the-clause", asking=asking, clause=clause)
    return keyed(item, by, {"also": also or [[], []]})


def pair(edition: Any, by: Membership, **fields: Any) -> Item:
    """A correct exhibit and one that is not, told apart by clause 5.1; 5.2 is accepted for half."""
    shoulder = makers.make_fault(edition)
    other = makers.make_clause(edition, "5.2", text="The arm is as long as the blade.")
    club = edition.breed.club
    two = [makers.make_exhibit(club, by, verdict=verdict) for verdict in ("incorrect", "correct")]
    item = make_item(
        edition=edition,
        by=by.person,
        kind="which-of-the-pair",
        exhibits=two,
        asking={"question": ""} | fields,
    )
    also = [{"clause": other.pk, "credit": 0.5}]
    return keyed(item, by, {"exhibit": two[1].pk, "clause": shoulder.clause_id, "also": also})


def class_item(
    edition: Any, by: Membership, *, findings: str = "counted", cuts: Any = None, size: int = 3
) -> Item:
    """So many exhibits, official in the order in which they were made: sound, a gay tail, then both faults."""
    names = {fault.name: fault for fault in edition.breed.faults.all()}
    shoulder = names.get("Upright shoulder") or makers.make_fault(edition)
    tail = names.get("Gay tail") or makers.make_fault(edition, "Gay tail", "9.1", zone="tail", level=1)
    shown = [makers.make_exhibit(edition.breed.club, by) for _ in range(size)]
    item = make_item(
        edition=edition, by=by.person, kind="place-a-class", exhibits=shown, asking={"findings": findings}
    )
    rows = [[], [{"fault": tail.pk, "level": 1}]]
    rows += [[{"fault": shoulder.pk, "level": 2}, {"fault": tail.pk, "level": 1}]] * (size - 2)
    faults = {str(exhibit.pk): each for exhibit, each in zip(shown, rows, strict=True)}
    cuts = list(cuts or [4] + [2] * (size - 2))
    order = [exhibit.pk for exhibit in shown]
    return keyed(item, by, {"order": order, "cuts": cuts, "total": 50, "faults": faults})


def begun(item: Item, trainee: Membership) -> Answer:
    """The answer to begin with, in an open quiz of this one item."""
    quiz = make_quiz(edition=item.edition, title=f"Quiz of {item.kind}", by=item.made_by)
    add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    return begin_sitting(quiz=quiz, trainee=trainee).answers.get()


def marked(answer: Answer, content: dict[str, Any]) -> Mark:
    """What it is marked once this is handed in."""
    save_answer(answer=answer, sent=content, seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    hand_in(answer=answer, seen=answer.revision)
    return Mark.objects.get(answer=answer, current=True)
