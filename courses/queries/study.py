"""What a member may read, how far they have got, and the way through a module.

Whoever has begun a module goes on with it after it is withdrawn; others do not see it any more. The same
holds for a withdrawn plate within a module.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import F, Prefetch, Q
from django.db.models.functions import Abs
from django.utils.translation import gettext as _

from courses.models import Course, Module, Place, Plate, Progress
from courses.models.choices import State
from courses.queries.course import with_places
from shared.accounts.models import Membership

BEGUN_STATES = (State.PUBLISHED, State.WITHDRAWN)


@dataclass(frozen=True)
class ModuleLine:
    """A module in the contents: its places that are open, and where the reader stopped."""

    module: Module
    number: int
    places: list[Place]
    progress: Progress | None

    @property
    def finished(self) -> bool:
        return self.progress is not None and self.progress.finished_at is not None

    @property
    def stop(self) -> Place | None:
        """Where to go on: the place got to, or the first."""
        reached = self.progress.place_id if self.progress else None
        return next((place for place in self.places if place.pk == reached), None) or next(
            iter(self.places), None
        )

    @property
    def plate_nearby(self) -> int | None:
        """The plate at which the reader stopped, or the one nearest to there in the module."""
        places = {index: place.plate_id for index, place in enumerate(self.places)}
        here = self.places.index(self.stop) if self.places else 0
        near = sorted((index for index in places if places[index]), key=lambda index: abs(index - here))
        return places[near[0]] if near else None

    @property
    def rows(self) -> list[tuple[Place, str]]:
        """Each place with whether it has been read, in words; what it is where it has not."""
        reached = self.stop.position if self.progress and self.stop else -1
        return [(place, self._state_at(place, reached)) for place in self.places]

    def _state_at(self, place: Place, reached: int) -> str:
        if self.finished or place.position < reached:
            return _("read")
        if place.position == reached:
            return _("you stopped here")
        return str(place.get_kind_display())

    @property
    def state(self) -> str:
        """How far the reader has got, in words."""
        if self.finished:
            return _("read")
        if not self.places:
            return _("empty")
        return at_place(self.stop) if self.progress else _("not begun")


@dataclass(frozen=True, eq=False)
class CourseContents:
    """A course with the lines of its modules."""

    course: Course
    lines: list[ModuleLine]


@dataclass(frozen=True)
class Reading:
    """One place of a module, with the ways back and on."""

    line: ModuleLine
    place: Place

    @property
    def back(self) -> Place | None:
        return self._beside(-1)

    @property
    def on(self) -> Place | None:
        return self._beside(1)

    def _beside(self, step: int) -> Place | None:
        there = [place.pk for place in self.line.places].index(self.place.pk) + step
        return self.line.places[there] if 0 <= there < len(self.line.places) else None


def named(place: Place) -> str:
    """What a place is called in running text."""
    if place.plate:
        return _("Plate %(n)d. %(title)s") % {"n": place.plate.number, "title": place.plate.title}
    return place.title


def at_place(place: Place) -> str:
    """Where a reader stopped, shortly."""
    if place.plate:
        return _("at plate %(n)d") % {"n": place.plate.number}
    return _("at the quiz") if place.kind == Place.Kind.QUIZ else _("begun")


def contents_for(membership: Membership) -> list[CourseContents]:
    """The courses of the club that are open to a member. Four queries, however many courses."""
    modules = with_places(Module.objects.filter(state__in=BEGUN_STATES))
    courses = (
        Course.objects.filter(edition__breed__club=membership.club_id, state__in=BEGUN_STATES)
        .select_related("edition__breed")
        .prefetch_related(Prefetch("modules", modules))
    )
    begun = _progress_of(membership)
    found = [CourseContents(course, _lines(course, course.modules.all(), begun)) for course in courses]
    return [contents for contents in found if contents.lines]


def go_on_at(contents: list[CourseContents]) -> ModuleLine | None:
    """Where to go on: the module read last that is not finished, else the first that is not begun."""
    lines = [line for each in contents for line in each.lines if line.places and not line.finished]
    begun = [line for line in lines if line.progress]
    if begun:
        return max(begun, key=lambda line: line.progress.last_at)
    return next(iter(lines), None)


def last_stop(membership: Membership) -> Progress | None:
    """Where the member stopped in the module read last, with its `place` and `module`; None if nowhere.

    One query; leaves out what has been taken back to a draft.
    """
    return (
        Progress.objects.filter(
            Q(place__plate=None) | Q(place__plate__state__in=BEGUN_STATES),
            person=membership.person_id,
            finished_at=None,
            place__isnull=False,
            module__state__in=BEGUN_STATES,
            module__course__state__in=BEGUN_STATES,
            module__course__edition__breed__club=membership.club_id,
        )
        .select_related("module", "place__plate")
        .order_by("-last_at")
        .first()
    )


def plate_near(place: Place) -> Plate | None:
    """The plate of a place, or the nearest one in its module that is read. One query at most."""
    if place.plate:
        return place.plate
    away = Abs(F("position") - place.position)
    plates = Place.objects.filter(module=place.module_id, plate__state__in=BEGUN_STATES)
    near = plates.select_related("plate").order_by(away, "position").first()
    return near.plate if near else None


def course_contents(membership: Membership) -> CourseContents | None:
    """The contents of the course read last, or of the first."""
    found = contents_for(membership)
    read = {
        each: max((line.progress.last_at for line in each.lines if line.progress), default=None)
        for each in found
    }
    begun = [each for each in found if read[each]]
    return max(begun, key=lambda each: read[each]) if begun else next(iter(found), None)


def reading_of(membership: Membership, module: int, place: int) -> Reading | None:
    """A place of a module that is open to the member, or None."""
    found = _open_line(membership, module)
    if found is None:
        return None
    return next((Reading(found, each) for each in found.places if each.pk == place), None)


def reading_with(membership: Membership, plate: int) -> Reading | None:
    """The first place open to the member on which a plate stands, or None."""
    for contents in contents_for(membership):
        for line in contents.lines:
            for place in line.places:
                if place.plate_id == plate:
                    return Reading(line, place)
    return None


def preview_of(membership: Membership, module: int, place: int | None) -> Reading | None:
    """Any place of any module of the club, the first unless one is named: for those who make it."""
    found = with_places(
        Module.objects.filter(course__edition__breed__club=membership.club_id, pk=module)
    ).first()
    if found is None:
        return None
    places = list(found.places.all())
    chosen = [each for each in places if place in (None, each.pk)]
    return Reading(ModuleLine(found, _number_of(found), places, None), chosen[0]) if chosen else None


def open_module(membership: Membership, module: int) -> ModuleLine | None:
    """A module that is open to the member, or None."""
    return _open_line(membership, module)


def _open_line(membership: Membership, module: int) -> ModuleLine | None:
    found = with_places(
        Module.objects.filter(
            course__edition__breed__club=membership.club_id,
            course__state__in=BEGUN_STATES,
            state__in=BEGUN_STATES,
        )
    )
    rows = list(found.filter(pk=module))
    if not rows:
        return None
    lines = _lines(rows[0].course, rows, _progress_of(membership, module), _number_of(rows[0]))
    return lines[0] if lines else None


def _number_of(module: Module) -> int:
    before = Q(position__lt=module.position) | Q(position=module.position, pk__lt=module.pk)
    return Module.objects.filter(before, course=module.course_id).count() + 1


def _progress_of(membership: Membership, module: int | None = None) -> dict[int, Progress]:
    rows = Progress.objects.filter(
        person=membership.person_id, module__course__edition__breed__club=membership.club_id
    ).select_related("place")
    if module is not None:
        rows = rows.filter(module=module)
    return {row.module_id: row for row in rows}


def _lines(
    course: Course, modules: Sequence[Module], begun: dict[int, Progress], first: int = 1
) -> list[ModuleLine]:
    """Lines of the modules that are open, numbered by their places in the course."""
    lines = []
    for number, module in enumerate(modules, start=first):
        progress = begun.get(module.pk)
        if progress is None and State.PUBLISHED not in {module.state} & {course.state}:
            continue
        lines.append(ModuleLine(module, number, _open_places(module, progress is not None), progress))
    return lines


def _open_places(module: Module, begun: bool) -> list[Place]:
    states = BEGUN_STATES if begun else (State.PUBLISHED,)
    return [place for place in module.places.all() if place.plate is None or place.plate.state in states]
