"""The measures of one exhibit, with their uncertainty, against the edition in force."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from courses.queries.measures import cover_of, drawn, measurable_clauses, measured, missing_for, placed_on
from courses.queries.placement import placement_of
from courses.views.points import exhibit_to_measure
from shared.accounts.permissions import Ability, club_page, may


@club_page(Ability.MEASURE_EXHIBITS)
@require_GET
def exhibit_measures(request: HttpRequest, number: int) -> HttpResponse:
    """Every measure that the points allow. Whoever is still placing finishes first: they would be led."""
    exhibit = exhibit_to_measure(request, number)
    own = placement_of(exhibit, request.user)
    context = {
        "exhibit": exhibit,
        "placing": own is not None and not own.finished_at and not own.exact,
        "may_edit": may(request.membership, Ability.EDIT_EXHIBITS),
    }
    if not context["placing"]:
        placed = placed_on(exhibit)
        clauses = list(measurable_clauses(exhibit.breed_id))
        found = measured(placed, exhibit.view, clauses)
        said = {each.clause.pk for each in found if each.clause}
        context |= {
            "placed": placed,
            "measured": found,
            "not_measured": [
                (clause, missing)
                for clause in clauses
                if clause.pk not in said and (missing := missing_for(placed, exhibit.view, clause))
            ],
            "drawings": {
                "measures": [drawn(each, placed) for each in found],
                "cover": cover_of(exhibit, placed) if found else [],
            },
            "today": timezone.localdate(),
        }
    return render(request, "courses/measures/page.html", context)
