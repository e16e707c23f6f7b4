"""A trainee's own record: what their eye can do so far, sittings, and what has been said of them."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from assessments.eye_shown import eye_context
from assessments.queries.keeping import keeping_rules
from assessments.queries.sittings import own_sittings
from assessments.queries.trainees import trainees_of
from shared.accounts.permissions import Ability, club_page

SITTINGS = 12  # on one page, below the figures


@club_page(Ability.READ_OWN_RECORD)
def record(request: HttpRequest) -> HttpResponse:
    """The dog that fills in, the two scales, sittings newest first, and the latest notices."""
    page = Paginator(own_sittings(request.membership), SITTINGS).get_page(request.GET.get("page"))
    notices = request.membership.notices.select_related("answer__sitting__quiz")[:20]
    kept = keeping_rules(request.club)
    context = {"page": page, "notices": notices, "keeping": kept, **eye_context(request.membership)}
    return render(request, "assessments/record/record.html", context)


@club_page(Ability.REVIEW)
def trainee_eye(request: HttpRequest, pk: int) -> HttpResponse:
    """The same figures for one of the mentor's trainees."""
    found = get_object_or_404(trainees_of(request.membership), pk=pk)
    return render(request, "assessments/trainee/eye.html", {"trainee": found, **eye_context(found)})


@club_page(Ability.ENTER)
def record_method(request: HttpRequest) -> HttpResponse:
    """How the figures of a record are worked out, in words."""
    return render(request, "assessments/record/method.html", {})
