"""Answers to a paper as its examiners read and mark them: by the candidate's number, never the name."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.by_hand import mark_by_hand
from assessments.by_hand import waiting_by_hand
from assessments.models import Answer, Paper
from assessments.queries.paper_results import script_of
from assessments.queries.papers import papers_of
from assessments.rules import Refused
from assessments.views.review import by_hand_form, review_template, shown_answer
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH


def _paper(request: HttpRequest, pk: int) -> Paper:
    """A set paper of the club that the reader is no candidate of."""
    readable = papers_of(request.club).exclude(set_at=None).exclude(candidates__member=request.membership)
    return get_object_or_404(readable, pk=pk)


def _script(request: HttpRequest, pk: int, number: int, place: int) -> Answer:
    return get_object_or_404(script_of(_paper(request, pk), number), position=place - 1)


@club_page(Ability.READ_SCRIPTS)
def paper_scripts(request: HttpRequest, pk: int) -> HttpResponse:
    """What a person has to mark before the results can be released."""
    found = _paper(request, pk)
    page = Paginator(waiting_by_hand(found), PAGE_LENGTH).get_page(request.GET.get("page"))
    return render(request, "assessments/paper/scripts.html", {"paper": found, "page": page})


@club_page(Ability.READ_SCRIPTS)
def paper_script(request: HttpRequest, pk: int, number: int, place: int) -> HttpResponse:
    """One answer of one candidate beside its key."""
    return _page(request, _script(request, pk, number, place))


def _page(request: HttpRequest, answer: Answer, *, rubric: Form | None = None) -> HttpResponse:
    candidate = answer.sitting.of_paper.candidate
    context = shown_answer(answer) | {
        "sheet": "assessments/paper/script.html",
        "paper": candidate.paper,
        "candidate": candidate,
        "pins": False,
        "rubric": rubric or by_hand_form(answer),
        "count": answer.sitting.answers.count(),
        "late": getattr(answer, "late", None),
    }
    status = 422 if rubric is not None and rubric.errors else 200
    return render(request, review_template(answer), context, status=status)


@require_POST
@club_page(Ability.READ_SCRIPTS)
def paper_script_mark(request: HttpRequest, pk: int, number: int, place: int) -> HttpResponse:
    """Mark what no rule marks; the candidate is told nothing of it."""
    found = _script(request, pk, number, place)
    form = by_hand_form(found, request.POST)
    if form is None:
        messages.error(request, _("This is marked by the rules."))
        return redirect("paper-script", request.club.slug, pk, number, place)
    if not form.is_valid():
        return _page(request, found, rubric=form)
    try:
        mark_by_hand(answer=found, mentor=request.membership, given=form.given())
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return _page(request, found, rubric=form)
    messages.success(request, _("Candidate %(n)d, item %(place)d is marked.") % {"n": number, "place": place})
    return redirect("paper-scripts", request.club.slug, pk)
