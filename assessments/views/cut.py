"""Estimates for a pass mark: an educator asks and compares, each panellist estimates alone."""

from __future__ import annotations

from itertools import count

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessments.actions.cut import (
    ask_for_cut,
    close_cut_study,
    give_estimates,
    keep_estimates,
    withdraw_cut_study,
)
from assessments.evidence.tables import Table, cut_table
from assessments.evidence.words import faults_in_words
from assessments.forms.cut import AskCutForm, EstimatesForm
from assessments.models import CutPanellist, CutStudy, Quiz
from assessments.queries.cut import Compared, compared, items_of, studies_of
from assessments.rules import Refused
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page
from shared.web.csv_files import csv_answer

STUDIES_SHOWN = 20


def _quiz(request: HttpRequest, pk: int) -> Quiz:
    quizzes = Quiz.objects.filter(edition__breed__club=request.club).select_related("edition__breed")
    return get_object_or_404(quizzes, pk=pk)


def _study(request: HttpRequest, pk: int) -> CutStudy:
    return get_object_or_404(studies_of(request.club), pk=pk)


@club_page(Ability.READ_EVIDENCE)
@require_http_methods(["GET", "HEAD", "POST"])
def evidence_cut(request: HttpRequest, quiz: int) -> HttpResponse:
    """The panel at work or the comparison of the newest closed round; the way to ask a panel."""
    found = _quiz(request, quiz)
    form = AskCutForm(request.POST or None, club=request.club)
    if request.method == "POST" and form.is_valid():
        try:
            ask_for_cut(quiz=found, members=list(form.cleaned_data["members"]), by=request.user)
        except Refused as refusal:
            form.add_error("members", str(refusal))
        else:
            messages.success(request, _("Asked. Each of them finds the items on their day’s page."))
            return redirect("evidence-cut", request.club.slug, found.pk)
    studies = list(studies_of(request.club).filter(quiz=found)[:STUDIES_SHOWN])
    closed = [study for study in studies if study.closed_at]
    context = {
        "quiz": found,
        "form": form,
        "open": next((study for study in studies if not study.closed_at), None),
        "earlier": closed[1:],
        **(_compared(closed[0]) if closed else {}),
    }
    return render(request, "assessments/cut/quiz.html", context, status=422 if form.errors else 200)


@club_page(Ability.READ_EVIDENCE)
def evidence_cut_study(request: HttpRequest, cutstudy: int) -> HttpResponse:
    """One closed round as it was kept."""
    study = get_object_or_404(studies_of(request.club).exclude(closed_at=None), pk=cutstudy)
    context = {"quiz": study.quiz, "alone": True, **_compared(study)}
    return render(request, "assessments/cut/quiz.html", context)


@club_page(Ability.READ_EVIDENCE)
def evidence_cut_csv(request: HttpRequest, cutstudy: int) -> HttpResponse:
    """A closed round as a file."""
    study = get_object_or_404(studies_of(request.club).exclude(closed_at=None), pk=cutstudy)
    return csv_answer(f"pass-mark-estimates-{study.pk}", *_table(compared(study)))


def _compared(study: CutStudy) -> dict[str, object]:
    found = compared(study)
    return {
        "compared": found,
        "panel": list(zip(found.names, found.figures.score.by_panellist, strict=True)),
        "absent": [seat for seat in study.panellists.all() if seat.given_at is None],
        "items": list(zip(count(1), found.items, found.figures.items)),
    }


def _table(found: Compared) -> Table:
    names = [f"{number} {item.name}" for number, item in enumerate(found.items, start=1)]
    return cut_table(found.names, zip(names, found.figures.items, strict=True))


@club_page(Ability.EDIT_QUIZZES)
@require_POST
def evidence_cut_close(request: HttpRequest, cutstudy: int) -> HttpResponse:
    """Close the round: from now on everybody's estimates are compared, and the cut is kept."""
    study = _study(request, cutstudy)
    with told(request, _("The round is closed and the cut is kept.")):
        close_cut_study(study=study, by=request.user)
    return redirect("evidence-cut", request.club.slug, study.quiz_id)


@club_page(Ability.EDIT_QUIZZES)
@require_POST
def evidence_cut_withdraw(request: HttpRequest, cutstudy: int) -> HttpResponse:
    """Take an open round back."""
    study = _study(request, cutstudy)
    with told(request, _("The round was withdrawn.")):
        withdraw_cut_study(study=study)
    return redirect("evidence-cut", request.club.slug, study.quiz_id)


@club_page(Ability.MARK_AS_PANELLIST)
@require_http_methods(["GET", "HEAD", "POST"])
def cut(request: HttpRequest, cutstudy: int) -> HttpResponse:
    """One's own estimates: kept as often as wanted, given once. Nobody else's are on the page."""
    seats = CutPanellist.objects.select_related("study__quiz").prefetch_related("estimates")
    seat = get_object_or_404(seats, study__pk=cutstudy, member=request.membership)
    items = items_of(seat.study)
    kept = {estimate.item_id: estimate.per_cent for estimate in seat.estimates.all()}
    form = EstimatesForm(request.POST or None, items=items, kept=kept)
    if request.method == "POST" and form.is_valid():
        try:
            return _kept(request, seat, form)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    rows = [
        (number, item, form[f"item-{item.pk}"], _key_words(item), kept.get(item.pk))
        for number, item in enumerate(items, start=1)
    ]
    context = {"seat": seat, "study": seat.study, "rows": rows, "form": form, "left": len(items) - len(kept)}
    return render(request, "assessments/cut/own.html", context, status=422 if form.errors else 200)


def _kept(request: HttpRequest, seat: CutPanellist, form: EstimatesForm) -> HttpResponse:
    keep_estimates(panellist=seat, estimates=form.estimates)
    if "give" in request.POST:
        give_estimates(panellist=seat)
        messages.success(request, _("Given. Thank you: your estimates stand as they are."))
        return redirect("cut", request.club.slug, seat.study_id)
    messages.success(request, _("Kept. Go on whenever you like."))
    return redirect("cut", request.club.slug, seat.study_id)


def _key_words(item: object) -> str:
    """What the key in use holds, where it is one of faults."""
    if item.kind != "mark-the-faults" or not item.in_use:
        return ""
    return faults_in_words(item.in_use[0].entries.all())
