"""What an educator sees of mentoring: second markings, panels, how trainees stand, their words, the rules."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.forms import model_to_dict
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from assessments.actions.mentoring import set_mentoring_rules
from assessments.forms.mentoring import RulesForm
from assessments.queries.mentoring import (
    own_words,
    sessions_of,
    sign_offs_of,
    standings_of,
    trainee_rows,
    trainees_of_club,
)
from assessments.queries.mentoring_rules import mentoring_rules, rules_past_and_to_come
from assessments.queries.panels import panels_of
from assessments.queries.second import adjusted_marks, open_second_markings
from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH

SHOWN = 20


@club_page(Ability.LEAD_MENTORING)
def mentoring(request: HttpRequest) -> HttpResponse:
    """What is under way, and how each trainee stands."""
    rules = mentoring_rules(request.club)
    page = Paginator(trainees_of_club(request.club), PAGE_LENGTH).get_page(request.GET.get("page"))
    untold = panels_of(request.club).filter(told_at=None).exclude(sitting__trainee=request.membership)
    seconds = open_second_markings(request.club).exclude(answer__sitting__trainee=request.membership)
    context = {
        "rules": rules,
        "page": page,
        "rows": trainee_rows(list(page), rules),
        "seconds": seconds.prefetch_related(None)[:SHOWN],
        "panels": untold.prefetch_related(None)[:SHOWN],
        "words": own_words(request.club).exclude(session__mentor=request.membership)[:SHOWN],
    }
    return render(request, "assessments/mentoring/mentoring.html", context)


@club_page(Ability.LEAD_MENTORING)
def mentoring_marks(request: HttpRequest) -> HttpResponse:
    """Marks that mentors changed, each with the way to a second marking."""
    page = Paginator(adjusted_marks(request.membership), PAGE_LENGTH).get_page(request.GET.get("page"))
    return render(request, "assessments/mentoring/marks.html", {"page": page})


@club_page(Ability.LEAD_MENTORING)
def mentoring_trainee(request: HttpRequest, pk: int) -> HttpResponse:
    """One trainee's sessions with their own words on them, and sign-offs."""
    found = get_object_or_404(trainees_of_club(request.club), pk=pk)
    context = {"trainee": found, "leads": True, **mentoring_context(found)}
    return render(request, "assessments/mentoring/trainee.html", context)


def mentoring_context(trainee: Membership) -> dict[str, object]:
    """A trainee's sessions and sign-offs, and how they stand."""
    rules = mentoring_rules(trainee.club)
    return {
        "rules": rules,
        "standing": standings_of([trainee], rules)[trainee.pk],
        "sessions": sessions_of(trainee),
        "sign_offs": sign_offs_of(trainee),
    }


@club_page(Ability.LEAD_MENTORING)
@require_http_methods(["GET", "HEAD", "POST"])
def mentoring_rules_page(request: HttpRequest) -> HttpResponse:
    """How the club mentors: the rules in force to begin from, past ones and ones to come."""
    in_force = mentoring_rules(request.club)
    start = model_to_dict(in_force, RulesForm.Meta.fields) | {"effective_from": timezone.localdate()}
    form = RulesForm(request.POST or None, initial=start)
    if request.method == "POST" and form.is_valid():
        set_mentoring_rules(club=request.club, by=request.membership, **form.cleaned_data)
        messages.success(request, _("Kept. What was decided before keeps what it was decided by."))
        return redirect("mentoring-rules", request.club.slug)
    versions = rules_past_and_to_come(request.club)
    context = {"form": form, "rules": in_force, "versions": versions[:PAGE_LENGTH]}
    status = 422 if form.errors else 200
    return render(request, "assessments/mentoring/rules.html", context, status=status)
