"""Study: the contents of what is open to a member, and the pages of a module one after the other."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from courses.actions.study import finish_module, note_reading
from courses.models import Place
from courses.queries.reading import plate_page
from courses.queries.severity import readings_of
from courses.queries.study import (
    ModuleLine,
    Reading,
    contents_for,
    go_on_at,
    open_module,
    preview_of,
    reading_of,
)
from shared.accounts.permissions import Ability, club_page
from shared.web.slots import fillings

PAGES = {
    Place.Kind.TEXT: "courses/study/text.html",
    Place.Kind.PLATE: "courses/study/plate.html",
    Place.Kind.QUIZ: "courses/study/quiz.html",
}


@club_page(Ability.STUDY)
@require_GET
def study(request: HttpRequest) -> HttpResponse:
    """The courses as a table of contents, and where to go on."""
    contents = contents_for(request.membership)
    line = go_on_at(contents)
    nearby = line.plate_nearby if line else None
    page = plate_page(nearby, timezone.localdate()) if nearby else None
    context = {"contents": contents, "line": line, "stopped": line.stop if line else None, "page": page}
    if page:
        context["readings"] = readings_of(page.plate.edition.breed)
    return render(request, "courses/study/contents.html", context)


@club_page(Ability.STUDY)
@require_GET
def study_module(request: HttpRequest, module: int) -> HttpResponse:
    """What stands in one module, place after place."""
    line = _found(open_module(request.membership, module))
    return render(request, "courses/study/module.html", {"line": line})


@club_page(Ability.STUDY)
@require_GET
def reading(request: HttpRequest, module: int, place: int) -> HttpResponse:
    """One place of a module; that it was opened is noted."""
    found = _found(reading_of(request.membership, module, place))
    note_reading(person=request.user, place=found.place)
    return _page(request, found)


@club_page(Ability.STUDY)
@require_POST
def reading_finish(request: HttpRequest, module: int) -> HttpResponse:
    """The reader has come to the end of a module."""
    line = _found(open_module(request.membership, module))
    finish_module(person=request.user, module=line.module)
    messages.success(request, _("You have read “%(title)s”.") % {"title": line.module.title})
    return redirect("study", request.club.slug)


@club_page(Ability.EDIT_COURSES)
@require_GET
def module_preview(request: HttpRequest, module: int, place: int | None = None) -> HttpResponse:
    """A module as a trainee will see it, drafts and all; nothing is noted."""
    found = _found(preview_of(request.membership, module, place))
    return _page(request, found, preview=True)


def _found(found: ModuleLine | Reading | None) -> ModuleLine | Reading:
    if found is None:
        raise Http404("No such place.")
    return found


def _page(request: HttpRequest, found: Reading, preview: bool = False) -> HttpResponse:
    place = found.place
    context = {
        "reading": found,
        "line": found.line,
        "place": place,
        "preview": preview,
        "back_url": _url(request, found, found.back, preview),
        "on_url": _url(request, found, found.on, preview),
    }
    if place.plate_id:
        context["page"] = plate_page(place.plate_id, timezone.localdate(), drafts=preview)
        context["readings"] = readings_of(place.module.course.edition.breed)
        context["ways"] = fillings("plate ways", request, [place.plate])[place.plate]
    if place.kind == Place.Kind.QUIZ:
        context["quiz"] = fillings("quiz place", request, [place])[place]
    return render(request, PAGES[place.kind], context)


def _url(request: HttpRequest, found: Reading, place: Place | None, preview: bool) -> str:
    if place is None:
        return ""
    route = "module-preview-place" if preview else "reading"
    return reverse(route, args=[request.club.slug, found.line.module.pk, place.pk])
