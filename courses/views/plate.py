"""Plates: the list, the page on which one is made, publication."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from courses.actions.plate import (
    begin_plate,
    caption_on_plate,
    move_on_plate,
    publish_plate,
    remove_plate,
    set_clause,
    set_exhibit,
    take_off_plate,
    withdraw_plate,
    word_plate,
)
from courses.forms.exhibit import ExhibitsWanted
from courses.forms.plate import (
    BeginPlate,
    Caption,
    ClauseOnPlate,
    Direction,
    ExhibitOnPlate,
    WordPlate,
)
from courses.models import Plate, PlateClause, PlateExhibit
from courses.models.choices import State
from courses.queries.exhibit import exhibits_of, marked_with_permission
from courses.queries.plate import (
    clauses_found,
    editions_for_plates,
    missing_on_plate,
    plates_of,
    sides_of,
    with_sides,
)
from courses.queries.reading import plate_page
from courses.queries.severity import readings_of
from courses.refusals import NotReady, Refused
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer
from shared.web.limits import PAGE_LENGTH

Row = PlateClause | PlateExhibit


def plate_or_404(request: HttpRequest, plate: int) -> Plate:
    """A plate of the club, with its clauses and pictures."""
    return get_object_or_404(with_sides(Plate.objects.filter(edition__breed__club=request.club)), pk=plate)


def clause_row_or_404(request: HttpRequest, plate: int, clause: int) -> PlateClause:
    """A clause on a plate of the club."""
    return _row([row for row in plate_or_404(request, plate).plate_clauses.all() if row.clause_id == clause])


def exhibit_row_or_404(request: HttpRequest, plate: int, exhibit: int) -> PlateExhibit:
    """An exhibit on a plate of the club."""
    rows = plate_or_404(request, plate).plate_exhibits.all()
    return _row([row for row in rows if row.exhibit_id == exhibit])


def _row(rows: list) -> Row:
    if not rows:
        raise Http404("Not on this plate.")
    return rows[0]


@club_page(Ability.EDIT_COURSES)
@require_GET
def plates(request: HttpRequest) -> HttpResponse:
    """The plates of one edition; the one in force unless another is asked for."""
    editions = list(editions_for_plates(request.club)[:PAGE_LENGTH])
    asked = request.GET.get("edition", "")
    edition = next((each for each in editions if str(each.pk) == asked), editions[0] if editions else None)
    found = plates_of(request.club, edition) if edition else Plate.objects.none()
    page = Paginator(found, PAGE_LENGTH).get_page(request.GET.get("page"))
    rows = [(plate, *sides_of(plate)) for plate in page.object_list]
    context = {"editions": editions, "edition": edition, "page": page, "rows": rows}
    return render(request, "courses/plate/list.html", context)


@club_page(Ability.EDIT_COURSES)
def plate_new(request: HttpRequest) -> HttpResponse:
    """Begin a plate."""
    form = BeginPlate(request.POST or None, club=request.club)
    if request.method == "POST" and form.is_valid():
        try:
            made = begin_plate(**form.cleaned_data)
            return redirect("plate", request.club.slug, made.pk)
        except Refused as error:
            form.add_error(None, str(error))
    status = 422 if request.method == "POST" else 200
    return render(request, "courses/plate/new.html", {"form": form}, status=status)


@club_page(Ability.EDIT_COURSES)
def plate(request: HttpRequest, plate: int) -> HttpResponse:
    """The page on which a plate is made. Sent, it saves the words, and publishes or previews if asked to."""
    found = plate_or_404(request, plate)
    if request.method != "POST":
        return _page(request, found)
    form = WordPlate(request.POST)
    if not form.is_valid() or not _worded(found, form):
        return _page(request, found, form, status=422)
    return _then(request, found, request.POST.get("then", ""))


def _worded(plate: Plate, form: WordPlate) -> bool:
    try:
        word_plate(plate=plate, **form.cleaned_data)
    except Refused as error:
        form.add_error("number", str(error))
    return form.is_valid()


def _then(request: HttpRequest, plate: Plate, then: str) -> HttpResponse:
    """What the button that sent the words asks for besides."""
    if then == "preview":
        return redirect("plate-preview", request.club.slug, plate.pk)
    try:
        if then == "publish":
            publish_plate(plate=plate)
            messages.success(request, _("Plate %(n)d is published.") % {"n": plate.number})
        else:
            at = timezone.localtime().strftime("%H:%M")
            messages.success(request, _("Saved at %(time)s.") % {"time": at})
    except NotReady:
        messages.error(request, _("Saved, but not published: something is missing."))
    return redirect("plate", request.club.slug, plate.pk)


def _page(
    request: HttpRequest,
    plate: Plate,
    form: WordPlate | None = None,
    *,
    said: str = "",
    picked: int | None = None,
    status: int = 200,
) -> HttpResponse:
    """The page, or for htmx the parts that change."""
    words = request.GET.get("words", "")
    correct, incorrect = sides_of(plate)
    marked_with_permission([row.exhibit for row in (*correct, *incorrect)], timezone.localdate())
    context = {
        "plate": plate,
        "form": form or WordPlate.of(plate),
        "sides": [("correct", correct), ("incorrect", incorrect)],
        "missing": missing_on_plate(plate),
        "readings": readings_of(plate.edition.breed),
        "words": words,
        "found": clauses_found(plate, words),
        "said": said,
        "picked": picked,
        "used": plate.places.exists(),
    }
    return answer(request, "courses/plate/page.html", "courses/plate/_parts.html", context, status=status)


@club_page(Ability.EDIT_COURSES)
@require_GET
def plate_clauses(request: HttpRequest, plate: int) -> HttpResponse:
    """Clauses that may be put on the plate, by number or words."""
    found = plate_or_404(request, plate)
    words = request.GET.get("words", "")
    context = {"plate": found, "words": words, "found": clauses_found(found, words)}
    context["readings"] = readings_of(found.edition.breed)
    if request.htmx:
        return render(request, "courses/plate/_found.html", context)
    return _page(request, found)


def _changed(
    request: HttpRequest, plate: int, change: Callable[[], None], picked: int | None = None
) -> HttpResponse:
    """Make a change; then the parts anew for htmx, the page for everyone else."""
    said = ""
    try:
        change()
    except Refused as error:
        said = str(error)
    if request.htmx:
        return _page(request, plate_or_404(request, plate), said=said, picked=None if said else picked)
    if said:
        messages.error(request, said)
    return redirect("plate", request.club.slug, plate)


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_clause_add(request: HttpRequest, plate: int) -> HttpResponse:
    """Put a clause on the plate."""
    found = plate_or_404(request, plate)
    form = ClauseOnPlate(request.POST, plate=found)
    if not form.is_valid():
        return _page(request, found, said=_("Choose a clause of this edition."), status=422)
    return _changed(request, plate, lambda: set_clause(plate=found, **form.cleaned_data))


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_exhibit_add(request: HttpRequest, plate: int) -> HttpResponse:
    """Put an exhibit on a side of the plate."""
    found = plate_or_404(request, plate)
    form = ExhibitOnPlate(request.POST, plate=found)
    if not form.is_valid():
        return _page(request, found, said=_("Choose an exhibit of this breed."), status=422)
    picked = form.cleaned_data["exhibit"].pk
    return _changed(request, plate, lambda: set_exhibit(plate=found, **form.cleaned_data), picked)


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_clause_move(request: HttpRequest, plate: int, clause: int) -> HttpResponse:
    """Before or after its neighbour."""
    return _moved(request, clause_row_or_404(request, plate, clause))


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_exhibit_move(request: HttpRequest, plate: int, exhibit: int) -> HttpResponse:
    """Before or after its neighbour on the same side."""
    return _moved(request, exhibit_row_or_404(request, plate, exhibit))


def _moved(request: HttpRequest, row: Row) -> HttpResponse:
    form = Direction(request.POST)
    if not form.is_valid():
        return _page(request, plate_or_404(request, row.plate_id), said=_("Say up or down."), status=422)
    return _changed(request, row.plate_id, lambda: move_on_plate(row=row, **form.cleaned_data))


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_clause_remove(request: HttpRequest, plate: int, clause: int) -> HttpResponse:
    """Take a clause off the plate."""
    row = clause_row_or_404(request, plate, clause)
    return _changed(request, plate, lambda: take_off_plate(row=row))


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_exhibit_remove(request: HttpRequest, plate: int, exhibit: int) -> HttpResponse:
    """Take an exhibit off the plate."""
    row = exhibit_row_or_404(request, plate, exhibit)
    return _changed(request, plate, lambda: take_off_plate(row=row))


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_exhibit_caption(request: HttpRequest, plate: int, exhibit: int) -> HttpResponse:
    """Say under an exhibit what it shows here."""
    row = exhibit_row_or_404(request, plate, exhibit)
    form = Caption(request.POST)
    if not form.is_valid():
        return _page(request, plate_or_404(request, plate), said=_("At most 200 characters."), status=422)
    return _changed(request, plate, lambda: caption_on_plate(row=row, **form.cleaned_data))


@club_page(Ability.EDIT_COURSES)
@require_GET
def plate_pick(request: HttpRequest, plate: int, side: str) -> HttpResponse:
    """Exhibits of the breed as thumbnails, to be put on a side of the plate."""
    found = plate_or_404(request, plate)
    form = ExhibitsWanted(request.GET if "view" in request.GET else {"verdict": side})
    on_it = [row.exhibit_id for row in found.plate_exhibits.all()]
    wanted = {**form.wanted(), "breed": found.edition.breed_id}
    rows = exhibits_of(request.club, wanted, timezone.localdate()).exclude(state=State.WITHDRAWN)
    page = Paginator(rows.exclude(pk__in=on_it), PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {"plate": found, "side": side, "form": form, "page": page}
    context["exhibits"] = marked_with_permission(page.object_list, timezone.localdate())
    return answer(request, "courses/plate/pick.html", "courses/plate/_pick.html", context)


@club_page(Ability.EDIT_COURSES)
@require_GET
def plate_preview(request: HttpRequest, plate: int) -> HttpResponse:
    """The plate as it will be read, whatever its state."""
    found = plate_or_404(request, plate)
    page = plate_page(found.pk, timezone.localdate(), drafts=True)
    context = {"plate": found, "page": page, "preview": True, "readings": readings_of(found.edition.breed)}
    return render(request, "courses/plate/preview.html", context)


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_withdraw(request: HttpRequest, plate: int) -> HttpResponse:
    """Take the plate from newcomers."""
    withdraw_plate(plate=plate_or_404(request, plate))
    messages.success(request, _("Withdrawn. Who has begun a module with it still finds it there."))
    return redirect("plate", request.club.slug, plate)


@club_page(Ability.EDIT_COURSES)
@require_POST
def plate_remove(request: HttpRequest, plate: int) -> HttpResponse:
    """Throw away a plate that stands in no module."""
    found = plate_or_404(request, plate)
    try:
        remove_plate(plate=found)
    except Refused as error:
        messages.error(request, str(error))
        return redirect("plate", request.club.slug, plate)
    messages.success(request, _("Plate %(n)d is thrown away.") % {"n": found.number})
    return redirect("plates", request.club.slug)


@club_page(Ability.EDIT_COURSES)
@require_POST
def note_preview(request: HttpRequest) -> HttpResponse:
    """A note or a text as readers will see it."""
    words = request.POST.get("note", request.POST.get("text", ""))[:20_000]
    return render(request, "courses/plate/_note.html", {"words": words})
