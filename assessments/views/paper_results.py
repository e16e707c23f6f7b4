"""Results of a paper by candidates' numbers: settled where they are borderline, and released together."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from assessments.actions.paper_results import (
    end_paper,
    mark_paper,
    release_results,
    settle_result,
    standing_against,
)
from assessments.actions.paper_sittings import hand_in_overdue
from assessments.by_hand import waiting_by_hand
from assessments.forms.paper import SettleForm
from assessments.models import Paper
from assessments.queries.paper_results import outcomes_of
from assessments.queries.papers import sittings_of
from assessments.rules import NotReady
from assessments.views.papers import paper_or_404
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.SET_PAPERS)
def paper_results(request: HttpRequest, pk: int) -> HttpResponse:
    """Marks and what they mean, by number; nobody's name."""
    found = paper_or_404(request, pk)
    hand_in_overdue(sittings=sittings_of(found))
    return _page(request, found)


def _page(
    request: HttpRequest, paper: Paper, *, form: SettleForm | None = None, number: int | None = None
) -> HttpResponse:
    outcomes = outcomes_of(paper)
    known = [each for each in outcomes if each.score is not None]
    context = {
        "paper": paper,
        "page": Paginator(outcomes, PAGE_LENGTH).get_page(request.GET.get("page")),
        "outcomes": outcomes,
        "mean": sum(each.score for each in known) / len(known) if known else None,
        "sem": known[0].sem if known else None,
        "counts": _counts(known),
        "changed": sum(each.changed for each in outcomes),
        "going": sittings_of(paper).filter(sitting__finished_at=None).count(),
        "by_hand": waiting_by_hand(paper).count(),
        "unmarked": any(each.score is None and not each.void for each in outcomes),
        "against": standing_against(paper, timezone.now()),
        "can_begin": paper.set_at and paper.closes_at and timezone.now() < paper.closes_at,
        "form": form or SettleForm(),
        "settling": number,
    }
    status = 422 if form is not None and form.errors else 200
    return render(request, "assessments/paper/results.html", context, status=status)


def _counts(outcomes: list) -> list[tuple[str, int]]:
    """How many pass, are referred, are borderline."""
    words = dict.fromkeys(each.decision_words for each in outcomes)
    return [(word, sum(each.decision_words == word for each in outcomes)) for word in words]


@club_page(Ability.SET_PAPERS)
def paper_settle(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Decide a borderline result, known by its number."""
    found = paper_or_404(request, pk)
    sitting = get_object_or_404(
        sittings_of(found).select_related("candidate__paper"), candidate__number=number
    )
    form = SettleForm(request.POST if request.method == "POST" else None)
    if request.method != "POST" or not form.is_valid():
        return _page(request, found, form=form, number=number)
    settled, note = form.cleaned_data["settled"], form.cleaned_data["note"]
    with told(request, _("Settled.")):
        settle_result(sitting=sitting, settled=settled, note=note, by=request.user)
    return redirect("paper-results", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_end(request: HttpRequest, pk: int) -> HttpResponse:
    """Nobody begins it any more."""
    end_paper(paper=paper_or_404(request, pk))
    messages.success(request, _("It can no longer be begun. Who is sitting keeps their time."))
    return redirect("paper-results", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_mark(request: HttpRequest, pk: int) -> HttpResponse:
    """Mark now what the background has not marked yet."""
    mark_paper(paper=paper_or_404(request, pk))
    return redirect("paper-results", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_release(request: HttpRequest, pk: int) -> HttpResponse:
    """Tell the candidates."""
    try:
        made = release_results(paper=paper_or_404(request, pk), by=request.user)
    except NotReady as refusal:
        messages.error(request, _("Not released. %(missing)s") % {"missing": refusal})
    else:
        said = ngettext("One result released.", "%(n)d results released.", len(made))
        messages.success(request, said % {"n": len(made)})
    return redirect("paper-results", request.club.slug, pk)
