"""Examination papers: their regulations, banks, candidates and sittings."""

from __future__ import annotations

import datetime
import uuid
from decimal import Decimal
from typing import Any

from django.utils import timezone

from assessments.actions.candidates import invite_candidates
from assessments.actions.paper_sittings import begin_paper, hand_in_paper, save_paper_answer
from assessments.actions.papers import describe_paper, draw_paper, make_paper, plan_paper, set_paper
from assessments.models import Answer, Candidate, Item, Key, Paper, PaperSitting, Regulations
from assessments.rules import PlanRow
from courses.models import Edition
from shared.accounts.models import Club, Membership

from .items import BACK, SHOULDER, entry, make_keyed_item
from .sittings import pin, said
from .standard import make_shoulder_and_back

KIND = "mark-the-faults"
HOUR = datetime.timedelta(hours=1)
DAY = datetime.timedelta(days=1)


def make_regulations(club: Club, **fields: Any) -> Regulations:
    """In force for a year; 75 %, two attempts 30 days apart, the mark not disclosed."""
    given = {
        "effective_from": timezone.localdate() - 365 * DAY,
        "pass_mark": Decimal("75.0"),
        "attempts": 2,
        "wait_days": 30,
        "made_by": club.memberships.filter(educator=True).first().person,
    }
    return Regulations.objects.create(club=club, **(given | fields))


def make_bank(
    edition: Edition, by: Membership, shoulders: int = 2, backs: int = 2, sound: int = 1
) -> list[Item]:
    """Items that a panel holds fit: of section 5, of section 6, and sound exhibits."""
    shoulder, back = make_shoulder_and_back(edition)
    entries = [[entry(shoulder, [SHOULDER])]] * shoulders
    entries += [[entry(back, [BACK])]] * backs + [[]] * sound
    made = [make_keyed_item(edition, by, each) for each in entries]
    Key.objects.filter(item__in=made).update(fit="examination")
    return made


def plan_for(edition: Edition, shoulders: int = 1, backs: int = 1, sound: int = 1) -> list[PlanRow]:
    """A plan on the sections of `make_bank`."""
    sections = {section.number: section.pk for section in edition.sections.all()}
    return [
        PlanRow(sections["5"], KIND, False, shoulders),
        PlanRow(sections["6"], KIND, False, backs),
        PlanRow(None, KIND, True, sound),
    ]


def make_drawn_paper(edition: Edition, by: Membership, seed: int = 1, **fields: Any) -> Paper:
    """Three of the five items of a bank, 60 minutes, open from an hour ago until tomorrow."""
    paper = make_paper(edition=edition, title=fields.pop("title", "Paper of the spring"), by=by.person)
    sizes = {name: fields.pop(name) for name in ("shoulders", "backs", "sound") if name in fields}
    plan_paper(paper=paper, plan=plan_for(edition, **sizes))
    given = {"minutes": 60, "opens_at": timezone.now() - HOUR, "closes_at": timezone.now() + DAY}
    describe_paper(paper=paper, title=paper.quiz.title, introduction="", **(given | fields))
    return draw_paper(paper=paper, seed=seed)


def make_set_paper(edition: Edition, by: Membership, **fields: Any) -> Paper:
    """The same, set, with regulations and a bank if there are none."""
    club = edition.breed.club
    if not club.regulations.exists():
        make_regulations(club)
    if not edition.items.exists():
        make_bank(edition, by)
    paper = make_drawn_paper(edition, by, **fields)
    set_paper(paper=paper, by=by.person)
    paper.refresh_from_db()
    return paper


def make_candidate(paper: Paper, member: Membership, by: Membership, **fields: Any) -> Candidate:
    invite_candidates(paper=paper, members=[member], by=by.person)
    Candidate.objects.filter(paper=paper, member=member).update(**fields)
    return paper.candidates.get(member=member)


def right(answer: Answer) -> dict[str, Any]:
    """What the key in use says, as a browser would send it."""
    key = answer.item.keys.exclude(published_at=None).first()
    pins = []
    for keyed in key.entries.all():
        x, y = (sum(side) / len(side) for side in zip(*keyed.regions[0], strict=True))
        pins.append(pin(x, y, keyed.fault, keyed.level))
    return said(*pins, nothing_found=not pins)


def wrong(answer: Answer) -> dict[str, Any]:
    """A fault where there is none."""
    return said(pin(0.95, 0.7))


def give(answer: Answer, content: dict[str, Any], **fields: Any) -> None:
    """Save an answer of a paper."""
    answer.refresh_from_db()
    save_paper_answer(answer=answer, sent=content, seen=answer.revision, identity=uuid.uuid4(), **fields)


def make_paper_sitting(candidate: Candidate, right_ones: int | None = None, **fields: Any) -> PaperSitting:
    """Begun; with `right_ones`, that many answers right, the others blank, and handed in."""
    sitting = begin_paper(candidate=candidate, declaration="I declare.", **fields)
    if right_ones is not None:
        for answer in sitting.sitting.answers.all()[:right_ones]:
            give(answer, right(answer), **fields)
        hand_in_paper(sitting=sitting, **fields)
        sitting.refresh_from_db()
    return sitting
