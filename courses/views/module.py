"""Modules: the page on which one is put together, its order and its publication."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from courses.actions.course import (
    add_plate,
    add_quiz_place,
    add_text,
    move_module,
    publish_module,
    remove_module,
    withdraw_module,
    word_module,
)
from courses.forms.course import NewPlace, Worded
from courses.forms.plate import Direction
from courses.models import Module, Place
from courses.queries.course import missing_in_module, modules_of, with_places
from courses.refusals import NotReady, Refused
from shared.accounts.permissions import Ability, club_page


def module_or_404(request: HttpRequest, module: int) -> Module:
    """A module of the club, with its places."""
    modules = with_places(Module.objects.filter(course__edition__breed__club=request.club))
    return get_object_or_404(modules, pk=module)


@club_page(Ability.EDIT_COURSES)
def module(request: HttpRequest, module: int) -> HttpResponse:
    """A module with its places; sent, it saves the module's words."""
    found = module_or_404(request, module)
    if request.method != "POST":
        return _page(request, found)
    form = Worded(request.POST)
    if not form.is_valid():
        return _page(request, found, form=form, status=422)
    word_module(module=found, **form.cleaned_data)
    messages.success(request, _("Saved."))
    return redirect("module", request.club.slug, module)


def _page(
    request: HttpRequest,
    module: Module,
    *,
    form: Worded | None = None,
    new: NewPlace | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "module": module,
        "form": form or Worded.of(module),
        "new": new or NewPlace(module=module, prefix="new"),
        "missing": missing_in_module(module),
        "begun": module.progress.count(),
    }
    return render(request, "courses/module/page.html", context, status=status)


@club_page(Ability.EDIT_COURSES)
@require_POST
def module_move(request: HttpRequest, module: int) -> HttpResponse:
    """Before or after its neighbour."""
    found = module_or_404(request, module)
    form = Direction(request.POST)
    if form.is_valid():
        move_module(module=found, **form.cleaned_data)
    if request.htmx:
        context = {"course": found.course, "modules": modules_of(found.course)}
        return render(request, "courses/course/_modules.html", context)
    return redirect("course", request.club.slug, found.course_id)


@club_page(Ability.EDIT_COURSES)
@require_POST
def module_publish(request: HttpRequest, module: int) -> HttpResponse:
    """Let trainees read the module."""
    found = module_or_404(request, module)
    try:
        publish_module(module=found)
    except NotReady as error:
        messages.error(request, _("Not published. Missing: %(missing)s") % {"missing": str(error)})
    else:
        messages.success(request, _said_on_publishing(found))
    return redirect("module", request.club.slug, module)


def _said_on_publishing(module: Module) -> str:
    if module.course.state == "published":
        return _("Published. Trainees can read it.")
    return _("Published. Trainees can read it once the course is published too.")


@club_page(Ability.EDIT_COURSES)
@require_POST
def module_withdraw(request: HttpRequest, module: int) -> HttpResponse:
    """Take the module from newcomers."""
    withdraw_module(module=module_or_404(request, module))
    messages.success(request, _("Withdrawn. Whoever has begun it goes on with it."))
    return redirect("module", request.club.slug, module)


@club_page(Ability.EDIT_COURSES)
@require_POST
def module_remove(request: HttpRequest, module: int) -> HttpResponse:
    """Throw away a module that nobody has begun."""
    found = module_or_404(request, module)
    try:
        remove_module(module=found)
    except Refused as error:
        messages.error(request, str(error))
        return redirect("module", request.club.slug, module)
    messages.success(request, _("The module is thrown away. Its plates are kept."))
    return redirect("course", request.club.slug, found.course_id)


@club_page(Ability.EDIT_COURSES)
@require_POST
def module_place_add(request: HttpRequest, module: int) -> HttpResponse:
    """Add a text, a plate or room for a quiz at the end."""
    found = module_or_404(request, module)
    form = NewPlace(request.POST, module=found, prefix="new")
    try:
        if form.is_valid():
            made = _add(found, **form.cleaned_data)
            if made.kind == Place.Kind.TEXT:
                return redirect("place", request.club.slug, made.pk)
            return redirect("module", request.club.slug, module)
    except Refused as error:
        form.add_error("plate" if form.cleaned_data["plate"] else None, str(error))
    return _page(request, found, new=form, status=422)


def _add(module: Module, *, kind: str, title: str, plate: object) -> Place:
    if kind == Place.Kind.PLATE:
        return add_plate(module=module, plate=plate)
    return (add_text if kind == Place.Kind.TEXT else add_quiz_place)(module=module, title=title)
