"""The club's list of faults."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from courses.actions.fault import add_fault, add_faults, change_fault, remove_fault
from courses.forms.fault import FaultForm, FaultLinesForm, shown_fault
from courses.models import Breed
from courses.queries.at_hand import breed_at_hand, fault_at_hand
from courses.queries.fault import edition_for_faults, find_faults
from courses.queries.severity import ladder_of
from courses.refusals import Refused
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer
from shared.web.limits import PAGE_LENGTH

WORDS_AT_MOST = 80


@club_page(Ability.EDIT_STANDARD)
def faults(request: HttpRequest) -> HttpResponse:
    """The list of one breed, searched if words are given."""
    breeds = list(request.club.breeds.all())
    slug = request.GET.get("breed")
    breed = get_object_or_404(Breed, club=request.club, slug=slug) if slug else (breeds or [None])[0]
    words = request.GET.get("words", "").strip()[:WORDS_AT_MOST]
    page = Paginator(find_faults(breed, words) if breed else [], PAGE_LENGTH).get_page(
        request.GET.get("page")
    )
    context = {
        "breeds": breeds,
        "breed": breed,
        "words": words,
        "page": page,
        "scale": ladder_of(request.club),
        "edition": edition_for_faults(breed) if breed else None,
    }
    return answer(request, "courses/fault/faults.html", "courses/fault/_faults.html", context)


@club_page(Ability.EDIT_STANDARD)
def fault_new(request: HttpRequest, breed: str) -> HttpResponse:
    """A fault for the list; `?clause=` says of which clause."""
    found = breed_at_hand(request.club, breed)
    edition, scale = edition_for_faults(found), ladder_of(request.club)
    form = FaultForm(request.POST or None, edition=edition, scale=scale, initial=_of_clause(request, edition))
    if form.is_valid():
        try:
            added = add_fault(breed=found, named=form.named)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            messages.success(request, _("“%(fault)s” is on the list.") % {"fault": added.name})
            return redirect(_list_url(found))
    context = {"form": form, "breed": found, "scale": scale}
    return render(request, "courses/fault/fault_new.html", context, status=422 if form.errors else 200)


@club_page(Ability.EDIT_STANDARD)
def fault(request: HttpRequest, pk: int) -> HttpResponse:
    """One fault, to change."""
    found = fault_at_hand(request.club, pk)
    edition, scale = edition_for_faults(found.breed), ladder_of(request.club)
    form = FaultForm(
        request.POST or None, edition=edition, scale=scale, kept=found.clause, initial=shown_fault(found)
    )
    if form.is_valid():
        try:
            change_fault(fault=found, named=form.named)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            return redirect(_list_url(found.breed))
    context = {"form": form, "fault": found, "breed": found.breed, "scale": scale}
    return render(request, "courses/fault/fault.html", context, status=422 if form.errors else 200)


@club_page(Ability.EDIT_STANDARD)
def fault_lines(request: HttpRequest, breed: str) -> HttpResponse:
    """Many faults at once, a line each."""
    found = breed_at_hand(request.club, breed)
    scale = ladder_of(request.club)
    form = FaultLinesForm(request.POST or None, breed=found, scale=scale)
    if form.is_valid():
        try:
            added = add_faults(breed=found, named=form.named)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            said = ngettext("%(n)d fault is on the list.", "%(n)d faults are on the list.", len(added))
            messages.success(request, said % {"n": len(added)})
            return redirect(_list_url(found))
    context = {"form": form, "breed": found, "scale": scale}
    return render(request, "courses/fault/fault_lines.html", context, status=422 if form.errors else 200)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Off the list, unless an exhibit or a key shows it."""
    found = fault_at_hand(request.club, pk)
    try:
        remove_fault(fault=found)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("fault", request.club.slug, found.pk)
    messages.success(request, _("“%(fault)s” is off the list.") % {"fault": found.name})
    return redirect(_list_url(found.breed))


def _list_url(breed: Breed) -> str:
    return f"{reverse('faults', args=[breed.club.slug])}?breed={breed.slug}"


def _of_clause(request: HttpRequest, edition: object) -> dict[str, object]:
    chosen = request.GET.get("clause", "")
    clause = edition.clauses.filter(pk=chosen).first() if edition and chosen.isdigit() else None
    if clause is None:
        return {}
    return {"clause": clause, "zone": clause.zone, "level": str(clause.severity or 0)}


def _say(form: FaultForm | FaultLinesForm, wrong: Refused | ValidationError) -> None:
    form.add_error(None, wrong if isinstance(wrong, ValidationError) else str(wrong))
