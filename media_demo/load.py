"""A club with as many people, items and answers as wanted, to see how the site bears them. Nothing to look at:
exhibits have no pictures, clauses and faults are numbered, and answers are simulated from a seed.

What is written by hand at a desk goes through the same actions as anywhere; sittings and answers are written in
bulk, and marked as a marking anew does it, by `score_many`.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import count, islice
from random import Random
from typing import Any

from django.db import transaction
from django.utils import timezone

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.marking import remark
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import (
    Adjustment,
    Answer,
    Item,
    Mark,
    MentoringRules,
    Mentorship,
    Query,
    Quiz,
    Review,
    Sitting,
)
from courses.models import Breed, Clause, Edition, Exhibit, Fault, Section
from courses.models.choices import Zone
from media_demo.load_panels import make_panels, mark_twice
from shared.accounts.models import Club, Membership, Person

ITEMS_PER_QUIZ = 15
TRAINEES_PER_MENTOR = 25
CLAUSES_PER_ZONE = 6
ROWS_AT_ONCE = 1_000
# Of all answers so many were returned by a mentor, and of these so many adjusted; of all so many asked about.
RETURNED, ADJUSTED, ASKED = 0.1, 0.05, 0.001
CLUB_MARK = 70
DAYS = 360
Tell = Callable[[str], None]


@dataclass
class Load:
    """How much to make; `tell` hears how far it is."""

    trainees: int
    items: int
    answers: int
    tell: Tell
    chance: Random = field(default_factory=lambda: Random(500_300))
    educator: Membership = field(init=False)
    everyone: list[Membership] = field(init=False)
    ability: dict[int, float] = field(init=False)

    def make(self) -> Club:
        """The whole club; returns it when every answer is marked."""
        club = self._people()
        quizzes = self._quizzes(club)
        made = self._answers(quizzes)
        self.tell(f"{made:,} answers given")
        for number, item in enumerate(Item.objects.filter(edition__breed__club=club), start=1):
            remark(item=item)
            if number % 10 == 0:
                self.tell(f"{number} of {self.items} items marked")
        self.tell(f"{self._reviews(club):,} answers returned")
        self._queries(club)
        self.tell(
            f"{make_panels(club, self.chance)} markings for keys, {mark_twice(club, self.chance)} answers twice"
        )
        return club

    @transaction.atomic
    def _people(self) -> Club:
        club = Club.objects.create(name="A large club", slug="large")
        MentoringRules.objects.create(
            club=club, effective_from=datetime.date(2026, 1, 1), club_mark=CLUB_MARK
        )
        self.educator = self._join(club, 0, educator=True, mentor=True, secretary=True)
        others = range(1, -(-self.trainees // TRAINEES_PER_MENTOR))
        mentors = [self.educator, *(self._join(club, n, mentor=True) for n in others)]
        self.everyone = [self._join(club, n, trainee=True) for n in range(self.trainees)]
        Mentorship.objects.bulk_create(
            Mentorship(mentor=mentors[n // TRAINEES_PER_MENTOR], trainee=trainee)
            for n, trainee in enumerate(self.everyone)
        )
        self.ability = {trainee.pk: self.chance.gauss(0, 1) for trainee in self.everyone}
        self.tell(f"{self.trainees} trainees and {len(mentors)} mentors")
        return club

    def _join(self, club: Club, number: int, **roles: bool) -> Membership:
        role = next(iter(roles))
        person = Person.objects.create(email=f"{role}.{number}@load.example", name=f"{role.title()} {number}")
        return Membership.objects.create(club=club, person=person, **roles)

    @transaction.atomic
    def _quizzes(self, club: Club) -> list[Quiz]:
        breed = Breed.objects.create(club=club, name="Skerry Drover", slug="drover")
        edition = Edition.objects.create(
            breed=breed,
            title="Edition of 2026",
            issuing_body=club.name,
            issued_on="2026-01-01",
            state="released",
        )
        faults = [fault for n, zone in enumerate(Zone, start=1) for fault in _faults(edition, n, zone)]
        quizzes = []
        for start in range(0, self.items, ITEMS_PER_QUIZ):
            quiz = make_quiz(edition=edition, title=f"Quiz {len(quizzes) + 1}", by=self.educator.person)
            for number in range(start, min(self.items, start + ITEMS_PER_QUIZ)):
                add_item(quiz=quiz, item=self._item(edition, number + 1, faults))
            open_quiz(quiz=quiz)
            quizzes.append(quiz)
        self.tell(f"{self.items} items in {len(quizzes)} quizzes")
        return quizzes

    def _item(self, edition: Edition, number: int, faults: Sequence[Fault]) -> Item:
        """Every fifth exhibit is sound, the others show one to three faults."""
        exhibit = Exhibit.objects.create(
            club=edition.breed.club,
            breed=edition.breed,
            number=number,
            kind=Exhibit.Kind.DRAWN,
            state="published",
            width=1600,
            height=1200,
            made_by=self.educator.person,
        )
        item = make_item(edition=edition, exhibit=exhibit, by=self.educator.person)
        shown = [] if number % 5 == 0 else self.chance.sample(faults, self.chance.choice([1, 1, 2, 3]))
        entries = [
            {
                "fault": fault,
                "clause": fault.clause,
                "zone": fault.zone,
                "level": fault.level,
                "regions": [_square(0.1 + 0.25 * place, 0.2 + 0.15 * place)],
            }
            for place, fault in enumerate(shown)
        ]
        key = item.keys.get()
        save_draft(key=key, sound=not entries, note="", entries=entries, by=self.educator.person)
        publish_key(item=item, by=self.educator.person)
        return item

    def _answers(self, quizzes: Sequence[Quiz]) -> int:
        """First sittings of everyone, then second ones and so on, until there are enough answers."""
        made = 0
        faults = list(Fault.objects.filter(breed=quizzes[0].edition.breed))
        for number in count(1):
            for quiz in quizzes:
                items = list(
                    quiz.items.order_by("quiz_items__position").prefetch_related("keys__entries__fault")
                )
                sitting = islice(self.everyone, max(0, (self.answers - made) // len(items)))
                some = self._sit(quiz, number, list(sitting), items, faults)
                made += some
                if some < len(self.everyone) * len(items):
                    return made
        return made

    @transaction.atomic
    def _sit(
        self, quiz: Quiz, number: int, trainees: Sequence[Membership], items: Sequence[Item], faults: Any
    ) -> int:
        now = timezone.now()
        sittings = Sitting.objects.bulk_create(
            [
                Sitting(quiz=quiz, trainee=trainee, number=number, begun_at=at, finished_at=at)
                for trainee in trainees
                for at in [now - datetime.timedelta(days=self.chance.uniform(0, DAYS) / number)]
            ],
            ROWS_AT_ONCE,
        )
        keys = [list(item.keys.all()[0].entries.all()) for item in items]
        answers = Answer.objects.bulk_create(
            (
                Answer(
                    sitting=sitting,
                    item=item,
                    position=place,
                    content=self._content(sitting.trainee_id, keys[place], faults),
                    handed_in_at=sitting.finished_at,
                )
                for sitting in sittings
                for place, item in enumerate(items)
            ),
            ROWS_AT_ONCE,
        )
        return len(answers)

    def _content(self, trainee: int, entries: Sequence[Any], faults: Sequence[Fault]) -> dict[str, Any]:
        """Who is able sees, names and weighs more, and calls less where there is nothing."""
        able, chance = 1 / (1 + math.exp(-self.ability[trainee])), self.chance
        marks = []
        for entry in entries:
            if chance.random() < 0.35 + 0.6 * able:
                x, y = entry.regions[0][0]
                named = entry.fault if chance.random() < 0.3 + 0.6 * able else chance.choice(faults)
                level = entry.level + (0 if chance.random() < 0.4 + 0.5 * able else chance.choice([-1, 1]))
                spot = x + chance.gauss(0.06, 0.03), y + chance.gauss(0.06, 0.03)
                marks.append(_pin(*spot, named, min(3, max(0, level))))
        if chance.random() > 0.4 + 0.5 * able:
            marks.append(_pin(chance.random(), 0.7 * chance.random(), chance.choice(faults), 0))
        return {"marks": marks, "nothing_found": not marks}

    @transaction.atomic
    def _reviews(self, club: Club) -> int:
        mentor_of = dict(Mentorship.objects.filter(mentor__club=club).values_list("trainee", "mentor"))
        answers = Answer.objects.filter(sitting__trainee__club=club).order_by("pk")
        rows = answers.values_list("pk", "sitting__trainee").iterator(ROWS_AT_ONCE)
        returned = [(pk, mentor_of[trainee]) for pk, trainee in rows if self.chance.random() < RETURNED]
        now = timezone.now()
        Review.objects.bulk_create(
            (Review(answer_id=answer, mentor_id=mentor, returned_at=now) for answer, mentor in returned),
            ROWS_AT_ONCE,
        )
        adjusted = {answer: mentor for answer, mentor in returned if self.chance.random() < ADJUSTED}
        marks = Mark.objects.filter(current=True, answer__review__isnull=False).values_list("pk", "answer")
        Adjustment.objects.bulk_create(
            (
                Adjustment(
                    answer_id=answer,
                    mark_id=mark,
                    made_by_id=adjusted[answer],
                    what="the whole",
                    points=Decimal(self.chance.choice([-5, 3, 5, 8])),
                    reason="Simulated.",
                )
                for mark, answer in marks
                if answer in adjusted
            ),
            ROWS_AT_ONCE,
        )
        return len(returned)

    @transaction.atomic
    def _queries(self, club: Club) -> None:
        """Some ask about a mark; where the mentor has returned the answer the query is settled, half upheld."""
        answers = Answer.objects.filter(sitting__trainee__club=club).order_by("pk")
        rows = answers.values_list("pk", "review__mentor", "review__returned_at").iterator(ROWS_AT_ONCE)
        Query.objects.bulk_create(
            (
                Query(
                    answer_id=answer,
                    text="Is this clause meant?",
                    settled_at=returned_at,
                    settled_by_id=mentor,
                    upheld=returned_at is not None and self.chance.random() < 0.5,
                    reply="It is." if returned_at else "",
                )
                for answer, mentor, returned_at in rows
                if self.chance.random() < ASKED
            ),
            ROWS_AT_ONCE,
        )


def _faults(edition: Edition, number: int, zone: Zone) -> Iterator[Fault]:
    """A section of the zone's clauses, with a fault of each."""
    section = Section.objects.create(
        edition=edition, position=number, number=str(number), title=str(zone.label).capitalize()
    )
    for place in range(1, CLAUSES_PER_ZONE + 1):
        clause = Clause.objects.create(
            edition=edition,
            section=section,
            position=place,
            number=f"{number}.{place}",
            text=f"What clause {number}.{place} asks of the {zone.label}. A departure from it is a fault.",
            zone=zone,
        )
        yield Fault.objects.create(
            breed=edition.breed, clause=clause, name=f"Fault of {clause.number}", zone=zone, level=place % 3
        )


def _square(x: float, y: float) -> list[list[float]]:
    return [[x, y], [x + 0.12, y], [x + 0.12, y + 0.12], [x, y + 0.12]]


def _pin(x: float, y: float, fault: Fault, level: int) -> dict[str, Any]:
    x, y = min(1.0, max(0.0, x)), min(0.75, max(0.0, y))
    return {"x": round(x, 5), "y": round(y, 5), "fault": fault.pk, "level": level, "note": ""}
