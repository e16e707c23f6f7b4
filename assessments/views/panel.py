"""Panels of assessors: asked by an educator, decided by each assessor alone, told to the trainee as one."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessments.actions.panels import (
    ask_assessors,
    decide,
    replace_assessor,
    tell_trainee,
    withdraw_panel,
)
from assessments.forms.panel import AssessorsForm, DecisionForm, Reasons, ReasonSet, ReplaceForm, WordSet
from assessments.models import Answer, AssessorPanel, PanelSeat, Quiz
from assessments.queries.mentoring_rules import mentoring_rules
from assessments.queries.panels import (
    answers_of_sitting,
    clauses_for_reasons,
    panels_for,
    panels_of,
    sittings_for_panels,
    told_panels,
    with_means,
)
from assessments.queries.second import changes_of_sitting
from assessments.results import line_of
from assessments.rules import Refused
from assessments.views.review import review_template, shown_answer
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page, may
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.LEAD_MENTORING)
def panels(request: HttpRequest) -> HttpResponse:
    """The club's panels, and finished sittings about which one could be asked."""
    found = panels_of(request.club).exclude(sitting__trainee=request.membership)
    page = Paginator(sittings_for_panels(request.club), PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {
        "rules": mentoring_rules(request.club),
        "sittings": with_means(page),
        "panels": Paginator(found, PAGE_LENGTH).get_page(request.GET.get("panels")),
        "page": page,
    }
    return render(request, "assessments/panel/list.html", context)


@club_page(Ability.LEAD_MENTORING)
@require_http_methods(["GET", "HEAD", "POST"])
def panel_ask(request: HttpRequest, sitting: int) -> HttpResponse:
    """Choose the assessors who decide about a sitting."""
    found = get_object_or_404(sittings_for_panels(request.club), pk=sitting)
    rules = mentoring_rules(request.club)
    form = AssessorsForm(request.POST or None, sitting=found, of=rules.panel_of)
    if request.method == "POST" and form.is_valid():
        try:
            made = ask_assessors(sitting=found, by=request.membership, **form.cleaned_data)
        except Refused as refusal:
            form.add_error("assessors", str(refusal))
        else:
            messages.success(request, _("The assessors are asked. Each decides without the others."))
            return redirect("panel", request.club.slug, made.pk)
    context = {"sitting": found, "rules": rules, "form": form}
    status = 422 if form.errors else 200
    return render(request, "assessments/panel/ask.html", context, status=status)


@club_page(Ability.ASSESS)
def panel(request: HttpRequest, pk: int) -> HttpResponse:
    """To an assessor the sitting to decide about; to an educator how it stands; once decided, what was found."""
    found = get_object_or_404(panels_for(request.membership), pk=pk)
    seat = _own_seat(request, found)
    if seat is not None and seat.decided_at is None:
        return _to_decide(request, found)
    return _standing(request, found)


def _own_seat(request: HttpRequest, panel: AssessorPanel) -> PanelSeat | None:
    return next((seat for seat in panel.seats.all() if seat.assessor_id == request.membership.pk), None)


def _to_decide(
    request: HttpRequest,
    panel: AssessorPanel,
    form: DecisionForm | None = None,
    reasons: Reasons | None = None,
    status: int = 200,
) -> HttpResponse:
    answers = answers_of_sitting(panel.sitting)
    context = {
        "panel": panel,
        "lines": [line_of(answer) for answer in answers],
        "form": form or DecisionForm(),
        "reasons": reasons or _reasons(panel),
    }
    return render(request, "assessments/panel/decide.html", context, status=status)


def _reasons(panel: AssessorPanel, data: object = None) -> Reasons:
    return ReasonSet(data, form_kwargs=_rests_on(panel), prefix="reasons")


def _words(panel: AssessorPanel, data: object = None) -> Reasons:
    """What the trainee is told begins as all that the assessors found."""
    found = [reason for seat in panel.seats.all() for reason in seat.reasons.all()]
    initial = [{"text": each.text, "clause": each.clause_id, "answer": each.answer_id} for each in found]
    return WordSet(data, form_kwargs=_rests_on(panel) | {"drops": True}, initial=initial, prefix="words")


def _rests_on(panel: AssessorPanel) -> dict[str, object]:
    answers = Answer.objects.filter(sitting=panel.sitting).order_by("position", "pk")
    return {"clauses": list(clauses_for_reasons(panel.sitting)), "answers": list(answers)}


def _standing(
    request: HttpRequest, panel: AssessorPanel, words: Reasons | None = None, status: int = 200
) -> HttpResponse:
    leads = may(request.membership, Ability.LEAD_MENTORING)
    tells = leads and panel.decided_at is not None and panel.told_at is None
    context = {
        "panel": panel,
        "leads": leads,
        "words": (words or _words(panel)) if tells else None,
        "told": panel.words.select_related("clause__edition__breed", "answer") if panel.told_at else [],
        "replace": ReplaceForm(sitting=panel.sitting) if leads and panel.decided_at is None else None,
        "changes": changes_of_sitting(panel.sitting) if leads else [],
    }
    return render(request, "assessments/panel/panel.html", context, status=status)


@club_page(Ability.ASSESS)
def panel_answer(request: HttpRequest, pk: int, answer: int) -> HttpResponse:
    """One answer of the sitting on its picture, by the rules alone."""
    found = get_object_or_404(panels_for(request.membership), pk=pk)
    answers = answers_of_sitting(found.sitting)
    place = next((n for n, each in enumerate(answers) if each.pk == answer), None)
    if place is None:
        raise Http404
    context = shown_answer(answers[place]) | {
        "sheet": "assessments/panel/answer.html",
        "panel": found,
        "before": answers[place - 1] if place else None,
        "after": answers[place + 1] if place + 1 < len(answers) else None,
    }
    return render(request, review_template(answers[place]), context)


@require_POST
@club_page(Ability.ASSESS)
def panel_decide(request: HttpRequest, pk: int) -> HttpResponse:
    """One assessor's decision with its reasons."""
    found = get_object_or_404(panels_for(request.membership), pk=pk)
    seat = _own_seat(request, found)
    if seat is None:
        raise Http404
    form, reasons = DecisionForm(request.POST), _reasons(found, request.POST)
    if not (form.is_valid() & reasons.is_valid()):
        return _to_decide(request, found, form, reasons, status=422)
    with told(request):
        decide(seat=seat, passes=form.cleaned_data["passes"], reasons=reasons.said)
    return redirect("panel", request.club.slug, found.pk)


@require_POST
@club_page(Ability.LEAD_MENTORING)
def panel_replace(request: HttpRequest, pk: int, seat: int) -> HttpResponse:
    """Somebody else takes a seat."""
    found = get_object_or_404(panels_for(request.membership), pk=pk)
    held = get_object_or_404(found.seats, pk=seat)
    form = ReplaceForm(request.POST, sitting=found.sitting)
    if form.is_valid():
        with told(request):
            replace_assessor(seat=held, by=request.membership, **form.cleaned_data)
    else:
        messages.error(request, _("Choose a mentor of the club."))
    return redirect("panel", request.club.slug, found.pk)


@require_POST
@club_page(Ability.LEAD_MENTORING)
def panel_tell(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the trainee the panel's words."""
    found = get_object_or_404(panels_for(request.membership), pk=pk)
    words = _words(found, request.POST)
    if not words.is_valid():
        return _standing(request, found, words, status=422)
    try:
        tell_trainee(panel=found, words=words.said, by=request.membership)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return _standing(request, found, words, status=422)
    messages.success(request, _("The trainee has the panel’s words."))
    return redirect("panel", request.club.slug, found.pk)


@require_POST
@club_page(Ability.LEAD_MENTORING)
def panel_withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Do without the panel."""
    found = get_object_or_404(panels_for(request.membership), pk=pk)
    try:
        withdraw_panel(panel=found, by=request.membership)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("panel", request.club.slug, found.pk)
    return redirect("panels", request.club.slug)


@club_page(Ability.READ_OWN_RECORD)
def record_panel(request: HttpRequest, pk: int) -> HttpResponse:
    """What the panel as one tells the trainee."""
    found = get_object_or_404(told_panels(request.membership), pk=pk)
    own = found.sitting.quiz.purpose == Quiz.Purpose.PRACTICE
    return render(request, "assessments/panel/told.html", {"panel": found, "own": own})
