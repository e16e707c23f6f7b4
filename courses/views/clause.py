"""Clauses in place: shown, edited, split, and the ways to order, join, move and remove them."""

from __future__ import annotations

import re

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from courses.actions import clause as actions
from courses.forms.clause import NONE, ClauseForm
from courses.models import Clause, Edition
from courses.numbering import free_number, next_number
from courses.queries.at_hand import clause_at_hand, section_at_hand
from courses.queries.fault import edition_for_faults
from courses.queries.severity import ladder_of
from courses.queries.standard import entry_of
from courses.refusals import Refused
from courses.views.edition_page import (
    clause_changed,
    edition_context,
    edition_url,
    refused,
    sections_changed,
)
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer

_EMPTY_LINE = re.compile(r"\n\s*\n")


@club_page(Ability.EDIT_STANDARD)
def clause(request: HttpRequest, pk: int) -> HttpResponse:
    """A clause as the edition shows it; what "Leave it as it was" asks for."""
    found = clause_at_hand(request.club, pk)
    if not request.htmx:
        return redirect(edition_url(found.edition, f"clause-{found.pk}"))
    context = edition_context(found.edition, entry=entry_of(found), focus=f"clause-{pk}")
    return answer(request, "", "courses/standard/_clause.html", context)


@club_page(Ability.EDIT_STANDARD)
def edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Wording, number, zone, severity and measure."""
    found = clause_at_hand(request.club, pk)
    form = ClauseForm(request.POST or None, clause=found, scale=ladder_of(request.club))
    if form.is_valid():
        given = form.cleaned_data
        words = {"number": given["number"], "text": given["text"], "read": form.read}
        try:
            actions.change_clause(clause=found, by=request.user, **words)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            return clause_changed(request, clause_at_hand(request.club, pk))
    return _form(request, found, form)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def split(request: HttpRequest, pk: int) -> HttpResponse:
    """At the empty lines of the wording as it stands in the form."""
    found = clause_at_hand(request.club, pk)
    form = ClauseForm(request.POST, clause=found, scale=ladder_of(request.club))
    if form.is_valid():
        texts = [text.strip() for text in _EMPTY_LINE.split(form.cleaned_data["text"]) if text.strip()]
        try:
            actions.split_clause(clause=found, by=request.user, texts=texts)
        except Refused as refusal:
            form.add_error("text", str(refusal))
        else:
            return sections_changed(
                request, found.edition, [found.section_id], f"clause-{found.pk}", take_focus=True
            )
    return _form(request, found, form)


@club_page(Ability.EDIT_STANDARD)
def clause_new(request: HttpRequest, section: int) -> HttpResponse:
    """A clause behind `?after=`, or at the end of the section."""
    home = section_at_hand(request.club, section)
    clauses = list(home.clauses.all())
    after = next((each for each in clauses if str(each.pk) == request.GET.get("after")), None)
    new = Clause(edition=home.edition, section=home)
    first = {
        "number": _number_after(home.edition, home.number, after or (clauses or [None])[-1]),
        "zone": actions.zone_for(home, ""),
    }
    form = ClauseForm(request.POST or None, clause=new, scale=ladder_of(request.club), initial=first)
    if form.is_valid():
        given = form.cleaned_data
        words = {"number": given["number"], "text": given["text"], "read": form.read}
        try:
            added = actions.add_clause(section=home, by=request.user, after=after, **words)
        except (Refused, ValidationError) as wrong:
            _say(form, wrong)
        else:
            return sections_changed(request, home.edition, [home.pk], f"clause-{added.pk}", take_focus=True)
    return _form(request, new, form, after=after)


@club_page(Ability.EDIT_STANDARD)
def ways(request: HttpRequest, pk: int) -> HttpResponse:
    """Add behind it, join with the next, to another section, remove."""
    found = clause_at_hand(request.club, pk)
    context = edition_context(
        found.edition,
        clause=found,
        following=actions.next_in_section(found),
        sections=found.edition.sections.exclude(pk=found.section_id),
    )
    return answer(request, "courses/standard/clause_ways.html", "courses/standard/_clause_ways.html", context)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def confirm(request: HttpRequest, pk: int) -> HttpResponse:
    """The severity that the button names, or none by itself."""
    found = clause_at_hand(request.club, pk)
    word = request.POST.get("severity", NONE)
    level = int(word) if word.isdigit() and int(word) < len(ladder_of(request.club)) else None
    try:
        actions.confirm_severity(clause=found, by=request.user, severity=level)
    except Refused as refusal:
        return refused(request, found.edition, refusal)
    return clause_changed(request, clause_at_hand(request.club, pk))


@require_POST
@club_page(Ability.EDIT_STANDARD)
def move(request: HttpRequest, pk: int, direction: actions.Direction) -> HttpResponse:
    """One place up or down, past the end of its section into the next."""
    found = clause_at_hand(request.club, pk)
    spot = f"clause-{found.pk}"
    try:
        touched = actions.move_clause(clause=found, by=request.user, direction=direction)
    except Refused as refusal:
        return refused(request, found.edition, refusal, spot)
    return sections_changed(request, found.edition, [section.pk for section in touched], spot)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def place(request: HttpRequest, pk: int) -> HttpResponse:
    """To the end of another section."""
    found = clause_at_hand(request.club, pk)
    chosen = request.POST.get("section", "")
    section = found.edition.sections.filter(pk=int(chosen) if chosen.isdigit() else 0).first()
    left = found.section_id
    if section is None:
        return refused(request, found.edition, _("Choose a section."), f"clause-{pk}")
    try:
        actions.place_clause(clause=found, section=section, by=request.user)
    except Refused as refusal:
        return refused(request, found.edition, refusal, f"clause-{pk}")
    return sections_changed(request, found.edition, {left, section.pk}, f"clause-{pk}", take_focus=True)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def join(request: HttpRequest, pk: int) -> HttpResponse:
    """With the clause that follows in its section."""
    found = clause_at_hand(request.club, pk)
    try:
        actions.join_with_next(clause=found, by=request.user)
    except Refused as refusal:
        return refused(request, found.edition, refusal, f"clause-{pk}")
    return sections_changed(request, found.edition, [found.section_id], f"clause-{pk}", take_focus=True)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """The button that undoes it is on the page."""
    found = clause_at_hand(request.club, pk)
    section, following = found.section_id, actions.next_in_section(found)
    try:
        actions.remove_clause(clause=found, by=request.user)
    except Refused as refusal:
        return refused(request, found.edition, refusal, f"clause-{pk}")
    spot = f"clause-{following.pk}" if following else f"section-{section}"
    return sections_changed(request, found.edition, [section], spot, take_focus=True)


def _form(request: HttpRequest, clause: Clause, form: ClauseForm, **more: object) -> HttpResponse:
    ties_faults = clause.pk is not None and edition_for_faults(clause.edition.breed) == clause.edition
    context = edition_context(
        clause.edition, clause=clause, section=clause.section, form=form, ties_faults=ties_faults, **more
    )
    page, fragment = "courses/standard/clause_form.html", "courses/standard/_clause_form.html"
    return answer(request, page, fragment, context, status=422 if form.errors else 200)


def _say(form: ClauseForm, wrong: Refused | ValidationError) -> None:
    form.add_error(None, wrong if isinstance(wrong, ValidationError) else str(wrong))


def _number_after(edition: Edition, section: str, clause: Clause | None) -> str:
    taken = set(edition.clauses.values_list("number", flat=True))
    return next_number(clause.number, taken) if clause else free_number(section, taken)
