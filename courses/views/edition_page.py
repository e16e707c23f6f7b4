"""What the pages and fragments of an edition under work have in common.

A change that touches one clause answers with that clause; one that touches sections, with those sections; each
with the standing of the edition, from which it can be undone. Without htmx the page is shown again at the spot.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from courses.models import Clause, Edition
from courses.queries.severity import ladder_of, readings_of
from courses.queries.standard import entry_of, parts_of, standing_of


def edition_url(edition: Edition, spot: str = "") -> str:
    """The edition's page, at a clause or section if one is named."""
    url = reverse("edition", args=[edition.breed.club.slug, edition.pk])
    return f"{url}#{spot}" if spot else url


def edition_context(edition: Edition, **more: object) -> dict[str, object]:
    """What every template of an edition asks for. Expects `edition.breed.club` at hand."""
    return {
        "edition": edition,
        "breed": edition.breed,
        "scale": ladder_of(edition.breed.club),
        "readings": readings_of(edition.breed),
        **more,
    }


def clause_changed(request: HttpRequest, clause: Clause) -> HttpResponse:
    """One clause anew, with the head of its section and the edition's standing."""
    if not request.htmx:
        return redirect(edition_url(clause.edition, f"clause-{clause.pk}"))
    [part] = parts_of(clause.edition, [clause.section_id])
    standing = standing_of(clause.edition)
    context = edition_context(
        clause.edition,
        part=part,
        entry=entry_of(clause),
        standing=standing,
        saved=True,
        focus=f"clause-{clause.pk}",
        oob=True,
    )
    return render(request, "courses/standard/_clause_changed.html", context)


def sections_changed(
    request: HttpRequest,
    edition: Edition,
    sections: Iterable[int],
    spot: str = "",
    *,
    take_focus: bool = False,
) -> HttpResponse:
    """Whole sections anew; forms that stand open in them are left as they are.

    `spot` is the clause or section to go to. With htmx it takes the focus only where the button pressed is gone.
    """
    if not request.htmx:
        return redirect(edition_url(edition, spot))
    standing = standing_of(edition)
    context = edition_context(
        edition,
        parts=parts_of(edition, list(sections)),
        standing=standing,
        saved=True,
        oob=True,
        focus=spot if take_focus else "",
        left_open=set(request.POST.getlist("open")),
    )
    return render(request, "courses/standard/_sections_changed.html", context)


def refused(request: HttpRequest, edition: Edition, reason: object, spot: str = "") -> HttpResponse:
    """Why nothing was changed."""
    if not request.htmx:
        messages.error(request, str(reason))
        return redirect(edition_url(edition, spot))
    context = edition_context(edition, standing=standing_of(edition), refusal=str(reason), oob=True)
    return render(request, "courses/standard/_standing.html", context, status=409)
