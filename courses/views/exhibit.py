"""Exhibits: the list, taking photographs in, and the page of one."""

from __future__ import annotations

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_POST

from courses.actions.exhibit import (
    TakenIn,
    describe_exhibit,
    publish_exhibit,
    remove_exhibit,
    remove_shown_fault,
    show_fault,
    take_in_exhibit,
    withdraw_exhibit,
)
from courses.forms.exhibit import DescribeExhibit, ExhibitsWanted, SayFault, TakeIn, refusal
from courses.measures.points import POINTS
from courses.models import Exhibit
from courses.queries.exhibit import exhibits_of, marked_with_permission, with_pictures
from courses.queries.severity import ladder_of
from courses.refusals import NotReady, Refused
from shared.accounts.permissions import Ability, club_page, may
from shared.pictures.opening import PictureRefused
from shared.web.htmx import answer
from shared.web.limits import PAGE_LENGTH


def exhibit_or_404(request: HttpRequest, number: int) -> Exhibit:
    """An exhibit of the club by its number, with what its picture needs."""
    return get_object_or_404(with_pictures(Exhibit.objects.filter(club=request.club)), number=number)


@club_page(Ability.RECORD_PERMISSIONS)
@require_GET
def exhibits(request: HttpRequest) -> HttpResponse:
    """The club's exhibits as a sheet of thumbnails, newest first."""
    form = ExhibitsWanted(request.GET)
    today = timezone.localdate()
    found = exhibits_of(request.club, form.wanted(), today)
    page = Paginator(found, PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {"form": form, "page": page, "exhibits": marked_with_permission(page.object_list, today)}
    context["may_edit"] = may(request.membership, Ability.EDIT_EXHIBITS)
    return answer(request, "courses/exhibit/list.html", "courses/exhibit/_sheet.html", context)


@club_page(Ability.EDIT_EXHIBITS)
def exhibit_new(request: HttpRequest) -> HttpResponse:
    """Take photographs in: one form for several files, or one request for each where scripts run."""
    form = TakeIn(request.POST or None, request.FILES or None, club=request.club)
    if request.method != "POST" or not form.is_valid():
        status = 200 if request.method != "POST" else 422
        return answer(
            request,
            "courses/exhibit/new.html",
            "courses/exhibit/_refused.html",
            {"form": form},
            status=status,
        )
    results = [_take_in(request, form.cleaned_data["breed"], file) for file in form.cleaned_data["files"]]
    if request.htmx:
        return _row_of(request, results[0])
    return _after_all(request, results)


def _take_in(request: HttpRequest, breed: object, file: UploadedFile) -> TakenIn | str:
    """The new exhibit, or why there is none."""
    try:
        return take_in_exhibit(
            club=request.club, breed=breed, file=file, name=file.name, made_by=request.user
        )
    except PictureRefused as error:
        return refusal(error)


def _row_of(request: HttpRequest, result: TakenIn | str) -> HttpResponse:
    if isinstance(result, str):
        return render(request, "courses/exhibit/_refused.html", {"reason": result}, status=422)
    return render(request, "courses/exhibit/_taken_in.html", {"taken": result})


def _after_all(request: HttpRequest, results: list[TakenIn | str]) -> HttpResponse:
    taken = [result for result in results if isinstance(result, TakenIn)]
    if taken:
        numbers = ", ".join(str(each.exhibit.number) for each in taken)
        said = ngettext("Taken in: exhibit %(numbers)s.", "Taken in: exhibits %(numbers)s.", len(taken))
        messages.success(request, said % {"numbers": numbers})
    for each in taken:
        if each.alike:
            messages.warning(
                request,
                _("Exhibit %(new)s shows the same photograph as exhibit %(known)s.")
                % {"new": each.exhibit.number, "known": each.alike[0]},
            )
    for reason in (result for result in results if isinstance(result, str)):
        messages.error(request, reason)
    return redirect("exhibits" if taken else "exhibit-new", request.club.slug)


@club_page(Ability.RECORD_PERMISSIONS)
@require_GET
def exhibit(request: HttpRequest, number: int) -> HttpResponse:
    """What an exhibit shows, whose word covers it, and where it is used."""
    return _page(request, exhibit_or_404(request, number))


def _page(
    request: HttpRequest,
    exhibit: Exhibit,
    describe: DescribeExhibit | None = None,
    fault: SayFault | None = None,
    status: int = 200,
) -> HttpResponse:
    ladder = ladder_of(request.club)
    marked_with_permission([exhibit], timezone.localdate())
    context = {
        "exhibit": exhibit,
        "describe": describe or DescribeExhibit(instance=exhibit),
        "fault_form": fault or SayFault(exhibit=exhibit, ladder=ladder),
        "shown": exhibit.shown_faults.select_related("fault", "clause"),
        "scale": ladder,
        "plates": exhibit.plates.select_related("edition").order_by("edition", "number"),
        "measured_views": POINTS,
        "people": exhibit.placements.filter(finished_at__isnull=False).count(),
        "may_edit": may(request.membership, Ability.EDIT_EXHIBITS),
    }
    return render(request, "courses/exhibit/page.html", context, status=status)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_describe(request: HttpRequest, number: int) -> HttpResponse:
    """Save view, sex, age class, verdict and words."""
    found = exhibit_or_404(request, number)
    form = DescribeExhibit(request.POST, instance=found)
    if not form.is_valid():
        found.refresh_from_db(fields=["verdict", "view"])
        return _page(request, found, describe=form, status=422)
    describe_exhibit(exhibit=form.instance)
    messages.success(request, _("Saved at %(time)s.") % {"time": timezone.localtime().strftime("%H:%M")})
    return redirect("exhibit", request.club.slug, number)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_publish(request: HttpRequest, number: int) -> HttpResponse:
    """Let trainees see it, if the owner's word allows."""
    found = exhibit_or_404(request, number)
    try:
        publish_exhibit(exhibit=found)
    except NotReady as error:
        messages.error(request, str(error))
        return redirect("exhibit-permission", request.club.slug, number)
    messages.success(request, _("Published. Plates and quizzes can show it."))
    return redirect("exhibit", request.club.slug, number)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_withdraw(request: HttpRequest, number: int) -> HttpResponse:
    """Take it from trainees at once."""
    withdraw_exhibit(exhibit=exhibit_or_404(request, number))
    messages.success(request, _("Withdrawn. Where it stood there is a blank."))
    return redirect("exhibit", request.club.slug, number)


@club_page(Ability.EDIT_EXHIBITS)
def exhibit_remove(request: HttpRequest, number: int) -> HttpResponse:
    """Remove an exhibit for good, asked once more, since the original goes with it."""
    found = exhibit_or_404(request, number)
    if request.method != "POST":
        return render(request, "courses/exhibit/remove.html", {"exhibit": found})
    try:
        remove_exhibit(exhibit=found)
    except Refused as error:
        messages.error(request, str(error))
        return redirect("exhibit", request.club.slug, number)
    messages.success(request, _("Exhibit %(number)s is removed, with its files.") % {"number": number})
    return redirect("exhibits", request.club.slug)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_fault(request: HttpRequest, number: int) -> HttpResponse:
    """Add a fault that the exhibit shows, or change its clause and level."""
    found = exhibit_or_404(request, number)
    form = SayFault(request.POST, exhibit=found, ladder=ladder_of(request.club))
    if not form.is_valid():
        return _page(request, found, fault=form, status=422)
    show_fault(exhibit=found, **form.cleaned_data)
    return redirect("exhibit", request.club.slug, number)


@club_page(Ability.EDIT_EXHIBITS)
@require_POST
def exhibit_fault_remove(request: HttpRequest, number: int, shown: int) -> HttpResponse:
    """Take a fault off the exhibit."""
    remove_shown_fault(shown=get_object_or_404(exhibit_or_404(request, number).shown_faults, pk=shown))
    return redirect("exhibit", request.club.slug, number)
