"""Courses and modules as educators see them, and what they still lack."""

from __future__ import annotations

from django.db.models import Count, Prefetch, Q, QuerySet
from django.utils.translation import gettext as _

from courses.models import Course, Module, Place
from courses.models.choices import State
from shared.accounts.models import Club


def courses_of(club: Club) -> QuerySet[Course]:
    """The club's courses, each with `module_count` and `published_count`."""
    return (
        Course.objects.filter(edition__breed__club=club)
        .select_related("edition__breed")
        .annotate(
            module_count=Count("modules"),
            published_count=Count("modules", filter=Q(modules__state=State.PUBLISHED)),
        )
        .order_by("title", "pk")
    )


def modules_of(course: Course) -> QuerySet[Module]:
    """The course's modules in order, each with `place_count` and `reader_count`."""
    return course.modules.annotate(
        place_count=Count("places", distinct=True), reader_count=Count("progress", distinct=True)
    ).order_by("position", "pk")


def with_places(modules: QuerySet[Module]) -> QuerySet[Module]:
    """Each module with its course and its places in order."""
    return modules.select_related("course__edition__breed").prefetch_related(
        Prefetch("places", Place.objects.select_related("plate"))
    )


def missing_in_module(module: Module) -> list[str]:
    """What keeps a module from being published, in words."""
    places = list(module.places.select_related("plate"))
    if not places:
        return [_("A place: a text, a plate or a quiz.")]
    missing = [
        _("Plate %(n)d is not published.") % {"n": place.plate.number}
        for place in places
        if place.plate and place.plate.state != State.PUBLISHED
    ]
    return missing + [
        _("The text “%(title)s” is empty.") % {"title": place.title}
        for place in places
        if place.kind == Place.Kind.TEXT and not place.text.strip()
    ]


def missing_in_course(course: Course) -> list[str]:
    """What keeps a course from being published, in words."""
    if course.modules.filter(state=State.PUBLISHED).exists():
        return []
    return [_("A published module.")]
