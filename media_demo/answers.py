"""Trainees answer: each eye looks at each exhibit, and what it marks is saved and handed in as anyone's is."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from random import Random
from typing import Any

from shapely import make_valid
from shapely.geometry import Polygon, box

from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Answer, Item, Key, Quiz, Sitting
from assessments.queries.quizzes import items_of, published_key
from assessments.snapshots import height_at_withers
from courses.figure import PRESETS, Settings, zone_outlines
from courses.models import Fault
from media_demo.eyes import Eye, Nameable, Outline, Pin, Place, Scene, ThereToSee, look
from media_demo.loading import Member, Scenario
from media_demo.people import People

# The default ladder's heaviest level that does not disqualify.
SERIOUS = 2
# In picture units: about a fortieth of the picture's longer side, squared.
SMALLEST_ZONE = 0.0006

# What an eye says of an item, as a browser sends it, from the item's key.
Say = Callable[[Key, Eye, Random], dict[str, Any]]


@dataclass
class Hall:
    """The quizzes in the order of the course, with every exhibit as an eye meets it."""

    scenario: Scenario
    people: People
    quizzes: Sequence[Quiz]
    _looked_at: dict[int, tuple[Item, Scene]] = field(default_factory=dict)

    @cached_property
    def faults(self) -> list[Fault]:
        """Those that a drawing can show."""
        return list(Fault.objects.filter(breed=self.people.breed).exclude(figure=""))

    def item(self, number: int) -> tuple[Item, Scene]:
        """Read and looked at once for all who answer the item."""
        if number not in self._looked_at:
            near = {row.figure: list(row.also or ()) for row in self.scenario.faults}
            found = items_of(self.people.club).prefetch_related("exhibit__placements").get(pk=number)
            self._looked_at[number] = (found, _scene(found, self.faults, near))
        return self._looked_at[number]

    def sit_all(self) -> int:
        """Everyone answers as many quizzes as the scenario says; returns how many answers were handed in."""
        everyone = [*self.scenario.members, *self.scenario.trainees]
        return sum(self._sit(member) for member in everyone if "trainee" in member.roles)

    def _sit(self, member: Member) -> int:
        sat = self.quizzes[: member.sittings]
        done = sum(self._answer(member, quiz) for _turn in range(1 + member.again) for quiz in sat)
        if member.begun and len(self.quizzes) > member.sittings:
            done += self._answer(member, self.quizzes[member.sittings], member.begun)
        return done

    def _answer(self, member: Member, quiz: Quiz, only: int | None = None) -> int:
        """Hand in the first `only` answers and leave the next one saved; without it, all of them."""
        sitting = begin_sitting(quiz=quiz, trainee=self.people.by_email[member.email])
        answers = list(sitting.answers.all())
        for answer in answers[:only]:
            hand_in(answer=answer, seen=self._mark(answer, member))
        if only is not None and only < len(answers):
            self._mark(answers[only], member)
        return len(answers[:only])

    def _mark(self, answer: Answer, member: Member) -> int:
        """Save what this eye marks; returns the revision that was acknowledged."""
        answer.item, scene = self.item(answer.item_id)
        pins = look(self.scenario.eyes[member.eye], scene, luck(member, answer))
        saved = save_answer(answer=answer, sent=sent(pins), seen=answer.revision, identity=uuid.uuid4())
        return saved.revision


def answered_by(
    emails: Iterable[str], quiz: Quiz, scenario: Scenario, people: People, says: Mapping[str, Say]
) -> int:
    """Those of them who are in the club answer the whole quiz; how many answers. `says` is by kind."""
    members = {member.email: member for member in (*scenario.members, *scenario.trainees)}
    answered = 0
    for email in emails:
        if email not in people.by_email:
            continue
        member = members[email]
        for answer in begin_sitting(quiz=quiz, trainee=people.by_email[email]).answers.all():
            say, key = says[answer.item.kind], published_key(answer.item)
            content = say(key, scenario.eyes[member.eye], luck(member, answer))
            saved = save_answer(answer=answer, sent=content, seen=answer.revision, identity=uuid.uuid4())
            hand_in(answer=answer, seen=saved.revision)
            answered += 1
    return answered


def luck(member: Member, answer: Answer) -> Random:
    """The same at each build for the same person, place and turn, whatever else changes in the demo."""
    sitting = answer.sitting
    turn = f" {sitting.number}" if sitting.number > 1 else ""
    return Random(f"{member.email} {member.luck} {sitting.quiz.title} {answer.position}{turn}")


def sent(pins: Sequence[Pin]) -> dict[str, Any]:
    """What a browser sends of these pins."""
    marks = [{"x": pin.x, "y": pin.y, "fault": pin.fault, "level": pin.level, "note": ""} for pin in pins]
    return {"marks": marks, "nothing_found": not marks}


def _scene(item: Item, faults: Sequence[Fault], near: Mapping[str, Sequence[str]]) -> Scene:
    """`near` maps presets to those that are easily taken for them."""
    ids = {fault.figure: fault.pk for fault in faults}
    exhibit = item.exhibit
    size = tuple(side / max(exhibit.width, exhibit.height) for side in (exhibit.width, exhibit.height))
    degrees = exhibit.drawing["faults"]
    settings = Settings.from_dict(exhibit.drawing["settings"])
    return Scene(
        size=size,
        withers=height_at_withers(exhibit) or 0.6,
        faults=[
            ThereToSee(
                fault=entry.fault_id,
                zone=entry.zone,
                level=entry.level,
                degree=degrees[entry.fault.figure],
                regions=entry.regions,
                neighbours=[ids[figure] for figure in near[entry.fault.figure]],
            )
            for entry in published_key(item).entries.all()
        ],
        zones=dict(_within_picture(zone_outlines(exhibit.view, settings), size)),
        names=[
            Nameable(fault.pk, fault.zone, fault.level)
            for fault in faults
            if exhibit.view in PRESETS[fault.figure].views
        ],
        heaviest=SERIOUS,
    )


def _within_picture(zones: Mapping[str, Outline], size: Place) -> Iterator[tuple[str, Outline]]:
    """The part of each zone that the picture shows, if it is worth a look."""
    for name, outline in zones.items():
        seen = make_valid(Polygon(outline)).intersection(box(0, 0, *size))
        largest = max(getattr(seen, "geoms", [seen]), key=lambda part: part.area)
        if largest.area > SMALLEST_ZONE:
            yield name, list(largest.exterior.coords)


def open_sittings(people: People) -> int:
    """How many are in the middle of a quiz."""
    return Sitting.objects.filter(trainee__club=people.club, finished_at=None).count()
