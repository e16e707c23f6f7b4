"""Courses, their modules and the places of a module: made, ordered, published and withdrawn."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.actions.order import Direction, last_position, moved
from courses.models import Course, Edition, Module, Place, Plate
from courses.models.choices import State
from courses.queries.course import missing_in_course, missing_in_module
from courses.refusals import NotReady, Refused
from shared.web.limits import COURSES_PER_CLUB, MODULES_PER_COURSE, PLACES_PER_MODULE


@transaction.atomic
def begin_course(*, edition: Edition, title: str, summary: str = "") -> Course:
    """A draft course on one edition."""
    if Course.objects.filter(edition__breed__club=edition.breed.club_id).count() >= COURSES_PER_CLUB:
        raise Refused(_("A club has at most %(n)d courses.") % {"n": COURSES_PER_CLUB})
    return Course.objects.create(edition=edition, title=title, summary=summary)


def word_course(*, course: Course, title: str, summary: str) -> None:
    """Save what a course is called and what it is for."""
    course.title, course.summary = title, summary
    course.save(update_fields=["title", "summary"])


@transaction.atomic
def add_module(*, course: Course, title: str) -> Module:
    """A draft module after those the course has."""
    if course.modules.count() >= MODULES_PER_COURSE:
        raise Refused(_("A course has at most %(n)d modules.") % {"n": MODULES_PER_COURSE})
    return Module.objects.create(course=course, title=title, position=last_position(course.modules.all()))


def word_module(*, module: Module, title: str, summary: str) -> None:
    """Save what a module is called and what it teaches."""
    module.title, module.summary = title, summary
    _changed(module, "title", "summary")


@transaction.atomic
def move_module(*, module: Module, direction: Direction) -> None:
    """Before or after its neighbour."""
    moved(Module.objects.filter(course=module.course_id), module, direction)


@transaction.atomic
def remove_module(*, module: Module) -> None:
    """Throw away a module that nobody has begun."""
    if module.progress.exists():
        raise Refused(_("Someone has begun it, so it stays. Withdraw it instead."))
    module.delete()


@transaction.atomic
def add_text(*, module: Module, title: str) -> Place:
    """A page of words, still empty."""
    return _add_place(module, kind=Place.Kind.TEXT, title=title)


@transaction.atomic
def add_plate(*, module: Module, plate: Plate) -> Place:
    """A plate of the course's edition; the same plate may stand in several modules, once in each."""
    if plate.edition_id != module.course.edition_id:
        raise Refused(_("Plate %(n)d is from another edition.") % {"n": plate.number})
    if module.places.filter(plate=plate).exists():
        raise Refused(_("Plate %(n)d is in this module already.") % {"n": plate.number})
    return _add_place(module, kind=Place.Kind.PLATE, plate=plate)


@transaction.atomic
def add_quiz_place(*, module: Module, title: str) -> Place:
    """Room for a quiz, which points to its place once it is made."""
    return _add_place(module, kind=Place.Kind.QUIZ, title=title)


@transaction.atomic
def word_place(*, place: Place, title: str, text: str) -> None:
    """Save the words of a text, or the title of a quiz's place."""
    place.title, place.text = title, text
    place.save(update_fields=["title", "text"])
    _changed(place.module)


@transaction.atomic
def move_place(*, place: Place, direction: Direction) -> None:
    """Before or after its neighbour."""
    moved(Place.objects.filter(module=place.module_id), place, direction)
    _changed(place.module)


@transaction.atomic
def remove_place(*, place: Place) -> None:
    """Take a place out of its module; the plate that stood there is kept."""
    place.delete()
    _changed(place.module)


@transaction.atomic
def publish_module(*, module: Module) -> None:
    """Let trainees read the module. Refused while something is missing."""
    if missing := missing_in_module(module):
        raise NotReady(missing)
    _set_state(module, State.PUBLISHED)


@transaction.atomic
def withdraw_module(*, module: Module) -> None:
    """Take the module from newcomers; who has begun it goes on with it."""
    _set_state(module, State.WITHDRAWN)


@transaction.atomic
def publish_course(*, course: Course) -> None:
    """Let trainees see the course: those of its modules that are published. Refused without one."""
    if missing := missing_in_course(course):
        raise NotReady(missing)
    _set_state(course, State.PUBLISHED)


@transaction.atomic
def withdraw_course(*, course: Course) -> None:
    """Take the course from newcomers; modules begun stay open to those who began them."""
    _set_state(course, State.WITHDRAWN)


def _add_place(module: Module, **fields: object) -> Place:
    places = module.places.all()
    if places.count() >= PLACES_PER_MODULE:
        raise Refused(_("A module has at most %(n)d places.") % {"n": PLACES_PER_MODULE})
    _changed(module)
    return Place.objects.create(module=module, position=last_position(places), **fields)


def _set_state(thing: Course | Module, state: str) -> None:
    thing.state = state
    if state == State.PUBLISHED:
        thing.published_at = thing.published_at or timezone.now()
    thing.save(update_fields=["state", "published_at"])


def _changed(module: Module, *fields: str) -> None:
    module.changed_at = timezone.now()
    module.save(update_fields=["changed_at", *fields])
