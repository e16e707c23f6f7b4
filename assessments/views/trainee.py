"""A mentor's trainees, and what each has answered."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from assessments.queries.answers import reviewable_by
from assessments.queries.trainees import trainees_of
from assessments.results import line_of
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.REVIEW)
def trainees(request: HttpRequest) -> HttpResponse:
    """Whom this mentor mentors, with how far each is."""
    page = Paginator(trainees_of(request.membership), PAGE_LENGTH).get_page(request.GET.get("page"))
    return render(request, "assessments/trainee/list.html", {"page": page})


@club_page(Ability.REVIEW)
def trainee(request: HttpRequest, pk: int) -> HttpResponse:
    """One trainee's handed-in answers, newest first."""
    found = get_object_or_404(trainees_of(request.membership), pk=pk)
    answers = (
        reviewable_by(request.membership).filter(sitting__trainee=found).order_by("-handed_in_at", "-pk")
    )
    page = Paginator(answers, PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {"trainee": found, "page": page, "lines": [line_of(answer) for answer in page]}
    return render(request, "assessments/trainee/trainee.html", context)
