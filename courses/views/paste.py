"""A written standard comes in: pasted, split, looked over, saved."""

from __future__ import annotations

from django.core.exceptions import BadRequest, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from courses.actions.section import add_pasted
from courses.forms.review import Damaged, Review
from courses.forms.standard import PasteForm
from courses.models import Edition
from courses.models.choices import Zone
from courses.queries.at_hand import edition_at_hand
from courses.queries.standard import standing_of
from courses.refusals import Refused
from courses.views.edition_page import edition_context, edition_url, refused
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer


@club_page(Ability.EDIT_STANDARD)
def paste(request: HttpRequest, pk: int) -> HttpResponse:
    """The text; what it splits into is shown before anything is saved."""
    edition = edition_at_hand(request.club, pk)
    if not edition.draft:
        return refused(
            request, edition, _("The wording of this edition is fixed, since it has been released.")
        )
    form = PasteForm(request.POST or None, request.FILES or None)
    if form.is_valid():
        try:
            return _reviewed(request, edition, Review.of_text(form.cleaned_data["words"]))
        except ValueError as too_much:
            form.add_error("text" if form.cleaned_data["text"].strip() else "file", str(too_much))
    return _paste_page(request, edition, form)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def review(request: HttpRequest, pk: int) -> HttpResponse:
    """One press of a button on the review: join, split, back to the text, or save."""
    edition = edition_at_hand(request.club, pk)
    try:
        found = Review.of_form(request.POST)
    except Damaged as damage:
        raise BadRequest("The review came back damaged.") from damage
    word = request.POST.get("do", "")
    if word == "text":
        return _paste_page(request, edition, PasteForm(initial={"text": found.as_text()}))
    if word != "save":
        found.act(word)
        return _reviewed(request, edition, found)
    if not found.check(edition):
        return _reviewed(request, edition, found, status=422)
    try:
        add_pasted(edition=edition, by=request.user, sections=found.new_sections())
    except (Refused, ValidationError) as refusal:
        return _reviewed(request, edition, found, status=422, refusal=refusal)
    return redirect(edition_url(edition))


def _reviewed(
    request: HttpRequest, edition: Edition, found: Review, *, status: int = 200, refusal: object = None
) -> HttpResponse:
    messages = refusal.messages if isinstance(refusal, ValidationError) else [str(refusal)] if refusal else []
    context = edition_context(
        edition,
        review=found,
        zones=Zone.choices,
        refusals=messages,
        standing=standing_of(edition),
        saving=status != 200,
    )
    page, fragment = "courses/standard/review.html", "courses/standard/_review.html"
    return answer(request, page, fragment, context, status=status)


def _paste_page(request: HttpRequest, edition: Edition, form: PasteForm) -> HttpResponse:
    context = edition_context(edition, form=form, standing=standing_of(edition))
    return render(request, "courses/standard/paste.html", context, status=422 if form.errors else 200)
