"""What is studied: plates and modules."""

from __future__ import annotations

from typing import Any

from courses.actions.course import (
    add_module,
    add_plate,
    add_text,
    begin_course,
    publish_course,
    publish_module,
    word_place,
)
from courses.actions.plate import begin_plate, publish_plate, set_clause, set_exhibit, word_plate
from courses.models import Edition, Module, Plate
from shared.accounts.models import Membership

from .exhibits import make_exhibit
from .standard import make_clause


def make_plate(edition: Edition, by: Membership, **fields: Any) -> Plate:
    """A published plate of clause 5.1 with a correct and an incorrect exhibit, unless others are given."""
    made = begin_plate(edition=edition, title=fields.get("title", "Lay of shoulder"))
    note = fields.get("note", "Look from the withers to the point of shoulder.")
    word_plate(plate=made, number=fields.get("number", made.number), title=made.title, note=note)
    first = edition.clauses.filter(number="5.1").first() or make_clause(edition)
    for clause in fields.get("clauses", [first]):
        set_clause(plate=made, clause=clause)
    club, breed = edition.breed.club, edition.breed
    for side in ("correct", "incorrect"):
        for exhibit in fields.get(side) or [make_exhibit(club, by, breed=breed)]:
            set_exhibit(plate=made, exhibit=exhibit, side=side)
    publish_plate(plate=made)
    return made


def make_module(edition: Edition, *places: Plate | str, **fields: Any) -> Module:
    """A published module of a published course: plates, and texts by their titles; one text if none is given."""
    course = fields.get("course") or begin_course(edition=edition, title="Clause by clause")
    made = add_module(course=course, title=fields.get("title", "Forequarters"))
    for each in places or ("How the front carries",):
        if isinstance(each, Plate):
            add_plate(module=made, plate=each)
        else:
            place = add_text(module=made, title=each)
            word_place(place=place, title=each, text=f"Of {each.lower()}.")
    publish_module(module=made)
    if course.state != "published":
        publish_course(course=course)
    return made
