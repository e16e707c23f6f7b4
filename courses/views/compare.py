"""Two exhibits of a plate: one over the other, or side by side with linked zoom."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from courses.models import Plate, PlateExhibit
from courses.queries.one_over_other import as_drawn, laid_over, pairs_of
from courses.queries.permission import may_be_shown
from courses.queries.plate import to_be_read
from courses.queries.study import Reading, reading_with
from shared.accounts.permissions import Ability, club_page, may


@club_page(Ability.STUDY)
@require_GET
def plate_compare(request: HttpRequest, plate: int) -> HttpResponse:
    """The incorrect over the correct, aligned at shared points, with what differs in figures.

    Open to whoever may read the plate, and to those who make it.
    """
    found = get_object_or_404(to_be_read(Plate.objects.filter(edition__breed__club=request.club)), pk=plate)
    reading = reading_with(request.membership, found.pk)
    makes = may(request.membership, Ability.EDIT_COURSES)
    if reading is None and not makes:
        raise Http404("Not open to this member.")
    pairs = pairs_of(found)
    if not pairs:
        raise Http404("No correct and incorrect exhibit of one view.")
    correct, incorrect = _chosen(request, pairs)
    clauses = [row.clause for row in found.plate_clauses.all()]
    pair = laid_over(correct, incorrect, clauses)
    today = timezone.localdate()
    shown = all(makes or may_be_shown(row.exhibit, today) for row in (correct, incorrect))
    context = {
        "plate": found,
        "pairs": pairs,
        "pair": pair,
        "sides": [{"word": "correct", "side": pair.correct}, {"word": "incorrect", "side": pair.incorrect}],
        "shown": shown,
        "drafts": makes,
        "reading": reading,
        "back_url": _back(request, found, reading),
        "drawings": as_drawn(pair) if shown and pair.ways else None,
    }
    return render(request, "courses/compare/page.html", context)


def _chosen(
    request: HttpRequest, pairs: list[tuple[PlateExhibit, PlateExhibit]]
) -> tuple[PlateExhibit, PlateExhibit]:
    """The pair that the address names by its letters, "ab", else the first."""
    asked = request.GET.get("pair", "")
    return next((pair for pair in pairs if pair[0].letter + pair[1].letter == asked), pairs[0])


def _back(request: HttpRequest, plate: Plate, reading: Reading | None) -> str:
    if reading:
        return reverse("reading", args=[request.club.slug, reading.line.module.pk, reading.place.pk])
    return reverse("plate", args=[request.club.slug, plate.pk])
