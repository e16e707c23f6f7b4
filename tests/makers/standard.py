"""The written standard: breeds, editions and their clauses, the ladder and the list of faults."""

from __future__ import annotations

import datetime
from typing import Any

from django.utils import timezone

from courses.models import Breed, Clause, Edition, Fault, Section, SeverityScale
from shared.accounts.models import Club

DRAFT = {
    "5 Forequarters": [
        "The blade slopes to some 35° from plumb. A steep blade is a serious fault.",
        "The arm is as long as the blade.",
        "Elbows lie close; turned out, they are a slight fault.",
    ],
    "6 Topline": ["Withers stand clear of the back.", "A roached back disqualifies."],
}


def make_breed(club: Club, **fields: Any) -> Breed:
    return Breed.objects.get_or_create(club=club, **({"name": "Skerry Drover", "slug": "drover"} | fields))[0]


def make_edition(club: Club, **fields: Any) -> Edition:
    given = {
        "title": "Edition of 2026",
        "issuing_body": "Skerry Drover Club",
        "issued_on": datetime.date(2026, 1, 1),
        "state": Edition.State.RELEASED,
    }
    return Edition.objects.create(breed=fields.pop("breed", None) or make_breed(club), **(given | fields))


def make_clause(edition: Edition, number: str = "5.1", **fields: Any) -> Clause:
    part, _, last = number.partition(".")
    section = (
        fields.pop("section", None)
        or Section.objects.get_or_create(
            edition=edition, number=part, defaults={"position": int(part), "title": f"Part {part}"}
        )[0]
    )
    given = {"text": "The blade slopes. A steep blade is a serious fault.", "position": int(last or 1)}
    return Clause.objects.create(edition=edition, section=section, number=number, **(given | fields))


def make_draft(club: Club, parts: dict[str, list[str]] | None = None, **fields: Any) -> Edition:
    """A draft with sections "number title" and the wordings of their clauses, numbered in order."""
    edition = make_edition(club, **({"state": Edition.State.DRAFT} | fields))
    for position, (heading, texts) in enumerate((DRAFT if parts is None else parts).items(), 1):
        number, _, title = heading.partition(" ")
        section = Section.objects.create(edition=edition, position=position, number=number, title=title)
        for place, text in enumerate(texts, 1):
            make_clause(edition, f"{number}.{place}", section=section, text=text, position=place)
    return edition


def make_scale(club: Club, **fields: Any) -> SeverityScale:
    """A ladder of three levels that begins tomorrow."""
    given = {
        "labels": ["Fault", "Severe fault", "Disqualifying fault"],
        "weights": [1, 3, 6],
        "effective_from": timezone.localdate() + datetime.timedelta(days=1),
    }
    return SeverityScale.objects.create(club=club, **(given | fields))


def make_fault(edition: Edition, name: str = "Upright shoulder", number: str = "5.1", **fields: Any) -> Fault:
    clause = edition.clauses.filter(number=number).first() or make_clause(edition, number)
    given = {"zone": "forequarters", "level": 2, "clause": clause}
    return Fault.objects.create(breed=edition.breed, name=name, **(given | fields))


def make_back(edition: Edition) -> Fault:
    """Roached back, Moderate."""
    return make_fault(edition, "Roached back", "6.2", zone="topline", level=1)


def make_shoulder_and_back(edition: Edition) -> tuple[Fault, Fault]:
    """Upright shoulder, Serious, and roached back, Moderate: the list's own if it has them."""
    listed = {fault.name: fault for fault in edition.breed.faults.all()}
    shoulder = listed.get("Upright shoulder") or make_fault(edition)
    return shoulder, listed.get("Roached back") or make_back(edition)
