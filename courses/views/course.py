"""Courses: the list, and the page of one with its modules in order."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from courses.actions.course import add_module, begin_course, publish_course, withdraw_course, word_course
from courses.forms.course import BeginCourse, NewTitle, Worded
from courses.models import Course
from courses.queries.course import courses_of, missing_in_course, modules_of
from courses.refusals import NotReady, Refused
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH


def course_or_404(request: HttpRequest, course: int) -> Course:
    """A course of the club."""
    return get_object_or_404(courses_of(request.club), pk=course)


@club_page(Ability.EDIT_COURSES)
@require_GET
def courses(request: HttpRequest) -> HttpResponse:
    """The club's courses."""
    page = Paginator(courses_of(request.club), PAGE_LENGTH).get_page(request.GET.get("page"))
    return render(request, "courses/course/list.html", {"page": page})


@club_page(Ability.EDIT_COURSES)
def course_new(request: HttpRequest) -> HttpResponse:
    """Begin a course."""
    form = BeginCourse(request.POST or None, club=request.club)
    if request.method == "POST" and form.is_valid():
        try:
            return redirect("course", request.club.slug, begin_course(**form.cleaned_data).pk)
        except Refused as error:
            form.add_error(None, str(error))
    status = 422 if request.method == "POST" else 200
    return render(request, "courses/course/new.html", {"form": form}, status=status)


@club_page(Ability.EDIT_COURSES)
def course(request: HttpRequest, course: int) -> HttpResponse:
    """A course with its modules; sent, it saves the course's words."""
    found = course_or_404(request, course)
    if request.method != "POST":
        return _page(request, found)
    form = Worded(request.POST)
    if not form.is_valid():
        return _page(request, found, form=form, status=422)
    word_course(course=found, **form.cleaned_data)
    messages.success(request, _("Saved."))
    return redirect("course", request.club.slug, course)


def _page(
    request: HttpRequest,
    course: Course,
    *,
    form: Worded | None = None,
    new: NewTitle | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "course": course,
        "modules": modules_of(course),
        "form": form or Worded.of(course),
        "new": new or NewTitle(prefix="new"),
        "missing": missing_in_course(course),
    }
    return render(request, "courses/course/page.html", context, status=status)


@club_page(Ability.EDIT_COURSES)
@require_POST
def course_publish(request: HttpRequest, course: int) -> HttpResponse:
    """Let trainees see the course."""
    try:
        publish_course(course=course_or_404(request, course))
        messages.success(request, _("Published. Trainees see the modules that are published."))
    except NotReady as error:
        messages.error(request, _("Not published. Missing: %(missing)s") % {"missing": str(error)})
    return redirect("course", request.club.slug, course)


@club_page(Ability.EDIT_COURSES)
@require_POST
def course_withdraw(request: HttpRequest, course: int) -> HttpResponse:
    """Take the course from newcomers."""
    withdraw_course(course=course_or_404(request, course))
    messages.success(request, _("Withdrawn. Whoever has begun a module goes on with it."))
    return redirect("course", request.club.slug, course)


@club_page(Ability.EDIT_COURSES)
@require_POST
def course_module_add(request: HttpRequest, course: int) -> HttpResponse:
    """Add a module at the end."""
    found = course_or_404(request, course)
    form = NewTitle(request.POST, prefix="new")
    try:
        if form.is_valid():
            return redirect("module", request.club.slug, add_module(course=found, **form.cleaned_data).pk)
    except Refused as error:
        form.add_error(None, str(error))
    return _page(request, found, new=form, status=422)
