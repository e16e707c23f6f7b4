"""An edition: begun, described, worked on, undone, thrown away."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRefresh

from courses.actions.edition import begin_edition, describe_edition, remove_draft
from courses.actions.edition_steps import undo_step
from courses.forms.standard import EditionForm
from courses.queries.at_hand import breed_at_hand, edition_at_hand
from courses.queries.standard import parts_of, standing_of
from courses.refusals import Refused
from courses.views.edition_page import edition_context, edition_url, refused, sections_changed
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.EDIT_STANDARD)
def edition_new(request: HttpRequest, breed: str) -> HttpResponse:
    """Who issued it, when, and under which permission; then on to its text."""
    found = breed_at_hand(request.club, breed)
    newest = found.editions.first()
    initial = {"issuing_body": newest.issuing_body if newest else request.club.name}
    form = EditionForm(request.POST or None, initial=initial)
    if form.is_valid():
        try:
            edition = begin_edition(breed=found, described=form.described)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect("edition-paste", request.club.slug, edition.pk)
    context = {"form": form, "breed": found}
    return render(request, "courses/standard/edition_new.html", context, status=422 if form.errors else 200)


@club_page(Ability.EDIT_STANDARD)
def edition(request: HttpRequest, pk: int) -> HttpResponse:
    """The edition as its educators work on it."""
    edition = edition_at_hand(request.club, pk)
    context = edition_context(edition, parts=parts_of(edition), standing=standing_of(edition))
    return render(request, "courses/standard/edition.html", context)


@club_page(Ability.EDIT_STANDARD)
def details(request: HttpRequest, pk: int) -> HttpResponse:
    """Issuer, date, source and permission."""
    edition = edition_at_hand(request.club, pk)
    form = EditionForm(request.POST or None, instance=edition)
    if form.is_valid():
        describe_edition(edition=edition, described=form.described)
        return redirect(edition_url(edition))
    context = edition_context(edition, form=form)
    return render(request, "courses/standard/details.html", context, status=422 if form.errors else 200)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back the change that the button named."""
    edition = edition_at_hand(request.club, pk)
    step = request.POST.get("step", "")
    try:
        undone = undo_step(edition=edition, step=int(step) if step.isdigit() else 0)
    except Refused as refusal:
        return refused(request, edition, refusal)
    if request.htmx and not undone.reshaped:
        return sections_changed(request, edition, undone.sections)
    messages.success(request, _("Undone: %(what)s.") % {"what": undone.label})
    return HttpResponseClientRefresh() if request.htmx else redirect(edition_url(edition))


@club_page(Ability.EDIT_STANDARD)
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask once, since a draft that is thrown away is gone for good; then do it."""
    edition = edition_at_hand(request.club, pk)
    if request.method != "POST":
        context = edition_context(edition, standing=standing_of(edition))
        return render(request, "courses/standard/remove.html", context)
    try:
        remove_draft(edition=edition)
    except Refused as refusal:
        return refused(request, edition, refusal)
    messages.success(request, _("The draft “%(title)s” is gone.") % {"title": edition.title})
    return redirect("standard", request.club.slug)
