"""The whole demo, built through the actions that pages use; only its times are set afterwards.

    with transaction.atomic():
        build(read_scenario(), passwords={"ishbel.rendall@example.org": "…"}, now=timezone.now())

Pictures are made ready in other processes while the trainees answer, since both take their time.
"""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from django.utils import timezone

from assessments.actions.figures import bring_up_to_date
from assessments.queries.evidence import quizzes_with_answers
from courses.models import Edition, Exhibit
from media_demo.answers import Hall, open_sittings
from media_demo.critiques import ask_for_critiques
from media_demo.dates import spread_out
from media_demo.exhibits import Ready, hang, made_ready, plate_caption
from media_demo.in_words import ask_in_words
from media_demo.loading import Scenario
from media_demo.mentoring import Mentoring
from media_demo.on_a_picture import ask_of_pictures
from media_demo.panels import Panel
from media_demo.papers import hold_paper
from media_demo.people import People, found
from media_demo.quizzes import KeyMaker, change_keys, set_quiz
from media_demo.reviews import Desk
from media_demo.standard import list_faults, write_editions
from media_demo.teaching import publish, read, write_course
from shared.accounts.roles import Role

Say = Callable[[str], None]


@dataclass
class Steps:
    """Tells what is done: one line for each step, with counts and seconds."""

    say: Say
    begun: float = field(default_factory=time.monotonic)

    def done(self, words: str) -> None:
        now = time.monotonic()
        self.say(f"  {now - self.begun:5.1f} s  {words}")
        self.begun = now


def build(
    scenario: Scenario,
    *,
    passwords: Mapping[str, str],
    now: dt.datetime,
    processes: int = 0,
    say: Say = lambda line: None,
) -> People:
    """Make the club and all that belongs to it. The caller holds a transaction: all of it or nothing."""
    steps = Steps(say)
    with made_ready(scenario.figures(), processes) as ready:
        people = found(scenario, passwords)
        steps.done(f"{people.club.name}: {len(people.by_email)} members")
        educator = people.first(Role.EDUCATOR).person
        edition = write_editions(scenario, people.breed, educator)
        faults = {fault.figure: fault for fault in list_faults(scenario, edition)}
        steps.done(_of_the_standard(edition))
        teaching = write_course(scenario, edition)
        steps.done(f"{len(teaching.plates)} plates and the modules worded")
        exhibits = _hang(scenario, people, ready, len(scenario.item_figures()))
        steps.done(f"{len(exhibits)} exhibits for quizzes")
        keys = KeyMaker.of(scenario, faults, educator, Panel.of(scenario, people))
        quizzes = {
            text.key: set_quiz(text, edition, exhibits, keys, teaching.places[text.key], scenario.revised)
            for text in scenario.quizzes
        }
        steps.done(f"{len(quizzes)} quizzes with their keys")
        hall = Hall(scenario, people, list(quizzes.values()))
        answers = hall.sit_all()
        steps.done(f"{answers} answers marked, {open_sittings(people)} sittings open")
        changed = change_keys(scenario, quizzes, keys)
        steps.done(f"{changed} marks changed by a revised key")
        returned = Desk(scenario, people).review_all()
        written = ask_for_critiques(scenario, people, edition, exhibits)
        steps.done(f"{returned} answers returned by their mentors, {written} critiques written")
        asked = ask_of_pictures(scenario, people, edition, exhibits)
        steps.done(f"{asked} answers on virtues, weight and points")
        said = ask_in_words(scenario, people, edition, exhibits)
        steps.done(f"{said} answers in words, on a pair and a class")
        exhibits |= _hang(scenario, people, ready, None)
        modules = publish(scenario, teaching, exhibits)
        steps.done(f"{len(exhibits)} exhibits in all, {modules} modules published")
        steps.done(f"{read(scenario, people, teaching)} modules read or begun by trainees")
        steps.done(Mentoring(scenario, people, timezone.localdate(now)).all_of_it())
    spread_out(scenario, people, now)
    steps.done(f"{hold_paper(scenario, people, edition, hall, now)} results of an examination released")
    bring_up_to_date(quizzes=list(quizzes_with_answers(people.club)))
    steps.done("times spread over the past months, figures worked out")
    return people


def _of_the_standard(edition: Edition) -> str:
    editions = edition.breed.editions.count()
    clauses, faults = edition.clauses.count(), edition.breed.faults.count()
    return f"{editions} editions of the standard, {clauses} clauses in force, {faults} named faults"


def _hang(scenario: Scenario, people: People, ready: Ready, count: int | None) -> dict[str, Exhibit]:
    """The next exhibits, by the key of their figures; a quiz's must not tell what they show."""
    dogs = {
        figure.key: dog
        for quiz in scenario.quizzes
        for figure, dog in zip(quiz.items, quiz.dogs, strict=True)
    }
    hung: dict[str, Exhibit] = {}
    for figure, prepared in ready:
        dog = dogs.get(figure.key)
        caption = dog.capitalize() if dog else plate_caption(figure)
        hung[figure.key] = hang(people, figure, prepared, caption=caption, telling=dog is None)
        if len(hung) == count:
            break
    return hung
