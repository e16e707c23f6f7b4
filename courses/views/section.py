"""Sections of an edition: added, named, moved, renumbered, confirmed, removed."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRefresh

from courses.actions import section as actions
from courses.actions.clause import Direction
from courses.forms.clause import SectionForm, heading_of
from courses.models import Edition
from courses.numbering import next_number
from courses.queries.at_hand import edition_at_hand, section_at_hand
from courses.refusals import Refused
from courses.views.edition_page import edition_context, edition_url, refused, sections_changed
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.EDIT_STANDARD)
def section_new(request: HttpRequest, edition: int) -> HttpResponse:
    """An empty section at the end."""
    found = edition_at_hand(request.club, edition)
    numbers = list(found.sections.values_list("number", flat=True))
    first = next_number(numbers[-1], numbers) if numbers else "1"
    form = SectionForm(request.POST or None, initial={"number": first})
    if form.is_valid():
        try:
            section = actions.add_section(edition=found, by=request.user, **form.cleaned_data)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            return redirect(edition_url(found, f"section-{section.pk}"))
    return _form_page(request, found, form)


@club_page(Ability.EDIT_STANDARD)
def section_name(request: HttpRequest, pk: int) -> HttpResponse:
    """A section's number and heading."""
    section = section_at_hand(request.club, pk)
    form = SectionForm(request.POST or None, initial=heading_of(section))
    if form.is_valid():
        try:
            actions.name_section(section=section, by=request.user, **form.cleaned_data)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            return redirect(edition_url(section.edition, f"section-{section.pk}"))
    return _form_page(request, section.edition, form, section=section)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def move(request: HttpRequest, pk: int, direction: Direction) -> HttpResponse:
    """One place up or down. Other sections change places with it, so the page is shown anew."""
    section = section_at_hand(request.club, pk)
    spot = f"section-{section.pk}"
    try:
        actions.move_section(section=section, by=request.user, direction=direction)
    except Refused as refusal:
        return refused(request, section.edition, refusal, spot)
    return HttpResponseClientRefresh() if request.htmx else redirect(edition_url(section.edition, spot))


@require_POST
@club_page(Ability.EDIT_STANDARD)
def renumber(request: HttpRequest, pk: int) -> HttpResponse:
    """5.1, 5.2, … in the order of its clauses."""
    section = section_at_hand(request.club, pk)
    spot = f"section-{section.pk}"
    try:
        actions.renumber_section(section=section, by=request.user)
    except (Refused, ValidationError) as wrong:
        reason = " ".join(wrong.messages) if isinstance(wrong, ValidationError) else wrong
        return refused(request, section.edition, reason, spot)
    return sections_changed(request, section.edition, [section.pk], spot)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def confirm(request: HttpRequest, pk: int) -> HttpResponse:
    """Every suggestion of the section, in one press."""
    section = section_at_hand(request.club, pk)
    actions.confirm_section(section=section, by=request.user)
    return sections_changed(request, section.edition, [section.pk], f"section-{section.pk}", take_focus=True)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """The section and its clauses; the button that undoes it is on the page."""
    section = section_at_hand(request.club, pk)
    try:
        actions.remove_section(section=section, by=request.user)
    except Refused as refusal:
        return refused(request, section.edition, refusal, f"section-{section.pk}")
    return HttpResponseClientRefresh() if request.htmx else redirect(edition_url(section.edition))


def _say(form: SectionForm, wrong: Refused | ValidationError) -> None:
    form.add_error(None, wrong if isinstance(wrong, ValidationError) else str(wrong))


def _form_page(request: HttpRequest, edition: Edition, form: SectionForm, **more: object) -> HttpResponse:
    context = edition_context(edition, form=form, **more)
    return render(request, "courses/standard/section.html", context, status=422 if form.errors else 200)
