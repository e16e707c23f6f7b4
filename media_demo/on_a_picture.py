"""A quiz of what else can be asked of a picture, answered by some through the actions that the pages use."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Any

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import Item, Key
from assessments.snapshots import height_at_withers
from courses.figure import Settings, apply_faults, changed_regions
from courses.models import Edition, Exhibit, Fault
from media_demo.answers import answered_by, sent
from media_demo.eyes import Eye, Pin, middle
from media_demo.loading import Scenario
from media_demo.people import People
from shared.accounts.models import Person
from shared.accounts.roles import Role

# House figures of the simulation, without a source.
DEGREE = 0.9  # of a fault, to find where a dog would show it: there lies the virtue
SURER = 0.4  # a point is placed with so much of the spread of a pin


def ask_of_pictures(
    scenario: Scenario, people: People, edition: Edition, exhibits: Mapping[str, Exhibit]
) -> int:
    """An open quiz of virtues, shown faults and points, and its answers; how many. `exhibits` by figures' keys."""
    said, educator = scenario.on_a_picture, people.first(Role.EDUCATOR).person
    figures = scenario.figure_keys()
    quiz = make_quiz(edition=edition, title=said["title"], by=educator, introduction=said["introduction"])
    for row in said["item"]:
        add_item(quiz=quiz, item=_make(row, edition, exhibits[figures[tuple(row["shows"])]], educator))
    open_quiz(quiz=quiz)
    return answered_by(said["by"], quiz, scenario, people, SAYS)


def _make(row: Mapping[str, Any], edition: Edition, exhibit: Exhibit, by: Person) -> Item:
    asking = {"points": row["points"]} if "points" in row else {}
    item = make_item(edition=edition, exhibit=exhibit, kind=row["kind"], asking=asking, by=by)
    draft = item.keys.get()
    if "virtues" in row:
        entries = [_virtue(exhibit, Fault.objects.get(breed=edition.breed, figure=f)) for f in row["virtues"]]
        save_draft(key=draft, sound=False, note="", entries=entries, by=by)
    publish_key(item=item, by=by)
    return item


def _virtue(exhibit: Exhibit, fault: Fault) -> dict[str, Any]:
    """The virtue lies where the dog would differ if it had the fault."""
    dog = Settings.from_dict(exhibit.drawing["settings"])
    regions = changed_regions(exhibit.view, dog, apply_faults({fault.figure: DEGREE}, dog))
    return {
        "fault": fault,
        "clause": fault.clause,
        "zone": fault.zone,
        "level": fault.level,
        "regions": [[list(corner) for corner in outline] for outline in regions[:1]],
    }


def _see(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    """Each virtue seen as often as a plain fault of its zone would be."""
    spread, pins = eye.aim_sd * _height(key), []
    for entry in key.entries.all():
        if chance.random() < eye.chance_of_seeing(entry.zone, DEGREE):
            x, y = (chance.gauss(place, spread) for place in middle(entry.regions[0]))
            pins.append(Pin(x, y, entry.fault_id if chance.random() < eye.names else None, None))
    return sent(pins)


def _weigh(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    """Nobody calls disqualifying by mistake what is not."""
    level = key.entries.get().level
    given = round(chance.gauss(level + eye.severity_bias, eye.severity_sd))
    return {"level": min(max(level, 2), max(0, given)), "note": ""}


def _place(key: Key, eye: Eye, chance: Random) -> dict[str, Any]:
    spread = SURER * eye.aim_sd * _height(key)
    asked = key.item.asking["points"]
    places = {name: key.content["points"][name]["place"] for name in asked}
    return {"points": {name: at and [chance.gauss(x, spread) for x in at] for name, at in places.items()}}


SAYS = {"mark-the-virtues": _see, "weigh-the-fault": _weigh, "place-the-points": _place}


def _height(key: Key) -> float:
    return height_at_withers(key.item.exhibit) or 0.6
