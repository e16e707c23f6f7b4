"""The one page on which names stand against numbers: who is invited, who has more time, who wrote on paper."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from assessments.actions.candidates import grant_time, invite_candidates, withdraw_candidate
from assessments.actions.paper_sittings import begin_typing, hand_in_overdue
from assessments.forms.paper import InviteForm, TimeForm
from assessments.models import Candidate, Paper
from assessments.queries.papers import candidates_of, sittings_of
from assessments.rules import Refused
from assessments.views.papers import paper_or_404
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page, may
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.STEWARD_PAPERS)
def paper_candidates(request: HttpRequest, pk: int) -> HttpResponse:
    """Names against numbers, and trainees who can be invited."""
    found = paper_or_404(request, pk)
    hand_in_overdue(sittings=sittings_of(found))
    form = InviteForm(request.POST if request.method == "POST" else None, paper=found)
    if request.method != "POST" or not form.is_valid():
        return _page(request, found, form=form, status=422 if form.errors else 200)
    try:
        made = invite_candidates(paper=found, members=form.cleaned_data["members"], by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        said = ngettext("One candidate invited.", "%(n)d candidates invited.", len(made))
        messages.success(request, said % {"n": len(made)})
    return redirect("paper-candidates", request.club.slug, pk)


def _page(
    request: HttpRequest,
    paper: Paper,
    *,
    form: InviteForm | None = None,
    granting: Candidate | None = None,
    time_form: TimeForm | None = None,
    status: int = 200,
) -> HttpResponse:
    page = Paginator(candidates_of(paper), PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {
        "paper": paper,
        "page": page,
        "form": form or InviteForm(paper=paper),
        "granting": granting,
        "time_form": time_form,
        "sets": may(request.membership, Ability.SET_PAPERS),
        "now": timezone.now(),
    }
    return render(request, "assessments/paper/candidates.html", context, status=status)


def candidate_or_404(request: HttpRequest, pk: int, number: int) -> Candidate:
    """A candidate of one of the club's papers."""
    return get_object_or_404(candidates_of(paper_or_404(request, pk)), number=number)


@club_page(Ability.STEWARD_PAPERS)
def paper_candidate_time(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Grant more time, before the candidate begins."""
    found = candidate_or_404(request, pk, number)
    form = TimeForm(request.POST if request.method == "POST" else None, instance=found)
    if request.method != "POST" or not form.is_valid():
        status = 422 if form.errors else 200
        return _page(request, found.paper, granting=found, time_form=form, status=status)
    minutes, percent = form.cleaned_data["extra_minutes"], form.cleaned_data["extra_percent"]
    with told(request, _("Saved.")):
        grant_time(candidate=found, minutes=minutes, percent=percent)
    return redirect("paper-candidates", request.club.slug, pk)


@require_POST
@club_page(Ability.STEWARD_PAPERS)
def paper_candidate_withdraw(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Take back an invitation that was not used."""
    found = candidate_or_404(request, pk, number)
    with told(request, _("Saved.")):
        withdraw_candidate(candidate=found)
    return redirect("paper-candidates", request.club.slug, pk)


@require_POST
@club_page(Ability.STEWARD_PAPERS)
def paper_typing_begin(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Type in what the candidate wrote on paper; who types is kept."""
    found = candidate_or_404(request, pk, number)
    try:
        begin_typing(candidate=found, steward=request.membership)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("paper-candidates", request.club.slug, pk)
    return redirect("paper-typing", request.club.slug, pk, number)
