"""The course: plates under their numbers, modules with their places in order, and who has read how far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from assessments.models import Sitting
from courses.actions.course import (
    add_module,
    add_plate,
    add_quiz_place,
    add_text,
    begin_course,
    publish_course,
    publish_module,
    word_module,
    word_place,
)
from courses.actions.plate import begin_plate, publish_plate, set_clause, set_exhibit, word_plate
from courses.actions.study import finish_module, note_reading
from courses.models import Course, Edition, Exhibit, Module, Place, Plate, PlateExhibit
from media_demo.loading import DraftText, Member, ModuleText, PlateText, Scenario
from media_demo.people import People


@dataclass(frozen=True)
class Teaching:
    """A course in the making: its plates by number, and the places that its quizzes take, by key."""

    course: Course
    plates: Mapping[int, Plate]
    places: Mapping[str, Place]


def write_course(scenario: Scenario, edition: Edition) -> Teaching:
    """Everything that is words: exhibits come later, and so does publication."""
    said = scenario.course
    course = begin_course(edition=edition, title=said["title"], summary=said["summary"])
    plates = {text.number: _write_plate(text, edition, text.number) for text in scenario.plates}
    for draft in scenario.drafts:
        _write_plate(draft, edition)
    places: dict[str, Place] = {}
    titles = {quiz.key: quiz.title for quiz in scenario.quizzes}
    for text in scenario.modules:
        module = _write_module(text, course, plates)
        places |= {key: add_quiz_place(module=module, title=titles[key]) for key in text.quizzes}
    return Teaching(course, plates, places)


def _write_plate(text: PlateText | DraftText, edition: Edition, number: int | None = None) -> Plate:
    plate = begin_plate(edition=edition, title=text.title)
    word_plate(plate=plate, number=number or plate.number, title=text.title, note=text.note)
    clauses = {clause.number: clause for clause in edition.clauses.filter(number__in=text.clauses)}
    for clause in text.clauses:
        set_clause(plate=plate, clause=clauses[clause])
    return plate


def _write_module(text: ModuleText, course: Course, plates: Mapping[int, Plate]) -> Module:
    module = add_module(course=course, title=text.title)
    word_module(module=module, title=text.title, summary=text.summary)
    place = add_text(module=module, title=text.title)
    word_place(place=place, title=text.title, text=text.text)
    for number in text.plates:
        add_plate(module=module, plate=plates[number])
    return module


def publish(scenario: Scenario, teaching: Teaching, exhibits: Mapping[str, Exhibit]) -> int:
    """Put the exhibits on their plates and let trainees read; returns how many modules there are."""
    for text in scenario.plates:
        plate = teaching.plates[text.number]
        sides = ((PlateExhibit.Side.CORRECT, text.correct), (PlateExhibit.Side.INCORRECT, text.incorrect))
        for side, figures in sides:
            for figure in figures:
                set_exhibit(plate=plate, exhibit=exhibits[figure.key], side=side)
        publish_plate(plate=plate)
    for module in teaching.course.modules.all():
        publish_module(module=module)
    publish_course(course=teaching.course)
    return teaching.course.modules.count()


def read(scenario: Scenario, people: People, teaching: Teaching) -> int:
    """Whoever answered a module's quizzes has read it first; returns how many modules were begun."""
    begun = 0
    modules = list(teaching.course.modules.prefetch_related("places"))
    for member in (*scenario.members, *scenario.trainees):
        if "trainee" in member.roles:
            begun += _read(member, people, modules)
    return begun


def _read(member: Member, people: People, modules: list[Module]) -> int:
    membership = people.by_email[member.email]
    sat = Sitting.objects.filter(trainee=membership).values_list("quiz__place_id", "finished_at")
    finished = {place for place, at in sat if at}
    begun = {place for place, _at in sat}
    count = 0
    for module in modules:
        places = list(module.places.all())
        quizzes = {place.pk for place in places if place.kind == Place.Kind.QUIZ}
        if quizzes <= finished:
            note_reading(person=membership.person, place=places[-1])
            finish_module(person=membership.person, module=module)
        elif quizzes & begun:
            note_reading(person=membership.person, place=places[min(member.reads, len(places)) - 1])
        count += bool(quizzes & begun)
    return count
