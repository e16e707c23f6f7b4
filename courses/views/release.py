"""From one edition to the next: copied, compared, released."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _

from courses.actions.edition import copy_edition, release_edition
from courses.forms.standard import EditionForm
from courses.queries.at_hand import edition_at_hand
from courses.queries.comparison import compare_editions, counts_of
from courses.queries.release import consequences_of_release, missing_for_release
from courses.queries.severity import ladder_of
from courses.queries.standard import standing_of
from courses.refusals import NotReady, Refused
from courses.views.edition_page import edition_context, edition_url, refused
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.EDIT_STANDARD)
def copy(request: HttpRequest, pk: int) -> HttpResponse:
    """A new edition that begins as this one."""
    edition = edition_at_hand(request.club, pk)
    names = ("issuing_body", "source", "reproduced_by")
    initial = {name: getattr(edition, name) for name in names}
    form = EditionForm(request.POST or None, initial=initial)
    if form.is_valid():
        try:
            draft = copy_edition(edition=edition, described=form.described)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return redirect(edition_url(draft))
    context = edition_context(edition, form=form)
    return render(request, "courses/standard/copy.html", context, status=422 if form.errors else 200)


@club_page(Ability.EDIT_STANDARD)
def release(request: HttpRequest, pk: int) -> HttpResponse:
    """What is missing, what release sets in motion, and the button."""
    edition = edition_at_hand(request.club, pk)
    if not edition.draft:
        return refused(request, edition, _("This edition has been released already."))
    missing = missing_for_release(edition)
    if request.method == "POST" and not missing:
        try:
            released = release_edition(edition=edition)
        except (NotReady, Refused) as refusal:
            return refused(request, edition, refusal)
        messages.success(request, _("“%(title)s” is in force.") % {"title": released.title})
        return redirect(edition_url(released))
    context = edition_context(
        edition,
        missing=missing,
        will=consequences_of_release(edition),
        standing=standing_of(edition),
    )
    return render(request, "courses/standard/release.html", context)


@club_page(Ability.EDIT_STANDARD)
def compare(request: HttpRequest, pk: int) -> HttpResponse:
    """Clause by clause with an earlier edition: the one it follows, or `?with=`."""
    edition = edition_at_hand(request.club, pk)
    others = edition.breed.editions.exclude(pk=edition.pk).order_by("-issued_on", "-pk")
    chosen = request.GET.get("with", "")
    other = edition.follows or others.filter(issued_on__lte=edition.issued_on).first() or others.first()
    if chosen.isdigit():
        other = get_object_or_404(others, pk=chosen)
    rows = compare_editions(other, edition, ladder_of(request.club)) if other else []
    context = edition_context(
        edition,
        other=other,
        others=others,
        rows=[row for row in rows if row.state != "same" or "all" in request.GET],
        counts=counts_of(rows),
        all="all" in request.GET,
    )
    return render(request, "courses/standard/compare.html", context)
