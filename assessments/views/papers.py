"""Examination papers on the desk: the list, the plan and what the bank can give, the draw, setting the paper."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.papers import (
    describe_paper,
    draw_paper,
    lacking,
    lay_down_regulations,
    make_paper,
    plan_paper,
    remove_paper,
    set_paper,
    swap_item,
    take_back_paper,
)
from assessments.drawable import bank_of, sections_of
from assessments.forms.paper import NewPaperForm, PaperForm, PlanForm, RegulationsForm
from assessments.items import KINDS
from assessments.lots import draw
from assessments.models import Paper, Quiz, QuizItem
from assessments.queries.papers import papers_of, regulations_on
from assessments.rules import NotReady, Refused, plan_of, suggested_minutes
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page, may
from shared.web.limits import PAGE_LENGTH, REGULATIONS_SHOWN


def paper_or_404(request: HttpRequest, pk: int) -> Paper:
    """A paper of the club."""
    return get_object_or_404(papers_of(request.club), pk=pk)


@club_page(Ability.STEWARD_PAPERS)
def papers(request: HttpRequest) -> HttpResponse:
    """The club's papers, and the regulations in force."""
    page = Paginator(papers_of(request.club), PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "sets": may(request.membership, Ability.SET_PAPERS),
        "regulations": regulations_on(request.club, timezone.localdate()),
        "now": timezone.now(),
    }
    return render(request, "assessments/paper/list.html", context)


@club_page(Ability.SET_PAPERS)
def regulations(request: HttpRequest) -> HttpResponse:
    """The versions of the club's regulations for examinations, and a new one."""
    form = RegulationsForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        lay_down_regulations(club=request.club, by=request.user, **form.cleaned_data)
        messages.success(request, _("Laid down. Sittings that have begun keep the version they began under."))
        return redirect("regulations", request.club.slug)
    versions = request.club.regulations.select_related("made_by")[:REGULATIONS_SHOWN]
    context = {
        "form": form,
        "versions": versions,
        "in_force": regulations_on(request.club, timezone.localdate()),
    }
    return render(request, "assessments/paper/regulations.html", context, status=422 if form.errors else 200)


@club_page(Ability.SET_PAPERS)
def paper_new(request: HttpRequest) -> HttpResponse:
    """Make a paper; its plan comes next."""
    form = NewPaperForm(request.POST if request.method == "POST" else None, club=request.club)
    if request.method != "POST" or not form.is_valid():
        status = 422 if form.errors else 200
        return render(request, "assessments/paper/new.html", {"form": form}, status=status)
    made = make_paper(**form.cleaned_data, by=request.user)
    return redirect("paper-plan", request.club.slug, made.pk)


@club_page(Ability.SET_PAPERS)
def paper_plan(request: HttpRequest, pk: int) -> HttpResponse:
    """How many items of which section and kind, beside what the bank holds; htmx asks what a change means."""
    found = paper_or_404(request, pk)
    bank = bank_of(found.quiz.edition, timezone.localdate())
    form = PlanForm(
        request.POST if request.method == "POST" else None,
        bank=bank,
        sections=sections_of(found.quiz.edition),
        plan=plan_of(found.plan),
    )
    valid = request.method == "POST" and form.is_valid()
    context = {"paper": found, "form": form, "bank": bank}
    plan = form.plan() if valid else plan_of(found.plan)
    context["gives"] = _what_the_bank_gives(form, bank, plan)
    status = 422 if form.errors else 200
    if request.htmx:
        return render(request, "assessments/paper/_bank.html", context, status=status)
    if not valid:
        return render(request, "assessments/paper/plan.html", context, status=status)
    try:
        plan_paper(paper=found, plan=plan)
        if request.POST.get("draw"):
            draw_paper(paper=found)
    except NotReady:
        return render(request, "assessments/paper/plan.html", context, status=409)
    except Refused as refusal:
        messages.error(request, str(refusal))
    return redirect("paper-edit", request.club.slug, pk)


def _what_the_bank_gives(form: PlanForm, bank: object, plan: list) -> dict[str, object]:
    """How many are asked for, the time that suggests, and where the bank falls short."""
    items = sum(row.wanted for row in plan)
    short = draw([row.wanted for row in plan], bank.tickets(plan), seed=0).short
    lacks = [(form.label_of(row), row.wanted, lack) for row, lack in zip(plan, short, strict=True) if lack]
    return {
        "items": items,
        "sound": sum(row.wanted for row in plan if row.sound),
        "minutes": suggested_minutes(items),
        "lacks": lacks,
    }


@club_page(Ability.SET_PAPERS)
def paper_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """The draw item by item, the paper's words and times, and what it lacks."""
    found = paper_or_404(request, pk)
    form = PaperForm(request.POST if request.method == "POST" else None, paper=found)
    if request.method == "POST" and form.is_valid():
        with told(request, _("Saved.")):
            describe_paper(paper=found, **form.cleaned_data)
        return redirect("paper-edit", request.club.slug, pk)
    bank = bank_of(found.quiz.edition, timezone.localdate())
    context = {
        "paper": found,
        "form": form,
        "rows": _rows(found),
        "lacks": [] if found.set_at else lacking(found, bank, timezone.now()),
        "suggested": suggested_minutes(len(found.rows)),
        "regulations": regulations_on(request.club, timezone.localdate(found.opens_at or timezone.now())),
    }
    return render(request, "assessments/paper/edit.html", context, status=422 if form.errors else 200)


def _rows(paper: Paper) -> list[dict[str, object]]:
    """The drawn items in order, each with its row of the plan and the practice quizzes that ask it too."""
    practice = Quiz.objects.filter(purpose=Quiz.Purpose.PRACTICE).exclude(state=Quiz.State.DRAFT)
    places = (
        QuizItem.objects.filter(quiz=paper.quiz_id)
        .select_related("item__exhibit", "item__clause")
        .prefetch_related(
            "item__exhibit__renditions",
            "item__exhibit__permissions",
            Prefetch("item__quizzes", practice, to_attr="practised_in"),
        )
    )
    plan = plan_of(paper.plan)
    titles = {section.pk: str(section) for section in sections_of(paper.quiz.edition)}
    rows = []
    for place in places:
        row = plan[paper.rows[str(place.item_id)]]
        where = _("Sound") if row.sound else titles.get(row.section, "")
        rows.append({"item": place.item, "where": where, "kind": KINDS[row.kind].label})
    return rows


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_draw(request: HttpRequest, pk: int) -> HttpResponse:
    """Draw by lot, or draw anew."""
    with told(request, _("Drawn. The seed is kept.")):
        draw_paper(paper=paper_or_404(request, pk))
    return redirect("paper-edit", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_swap(request: HttpRequest, pk: int, item: int) -> HttpResponse:
    """Another item that fits in place of this one."""
    paper = paper_or_404(request, pk)
    with told(request):
        swap_item(paper=paper, item=get_object_or_404(paper.quiz.items, pk=item))
    return redirect("paper-edit", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_set(request: HttpRequest, pk: int) -> HttpResponse:
    """From now on the draw stands, and candidates find the paper."""
    with told(request, _("Set. Candidates see it now; its items stay sealed until each begins.")):
        set_paper(paper=paper_or_404(request, pk), by=request.user)
    return redirect("paper-edit", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Back on the desk, if nobody has begun."""
    with told(request, _("Back on the desk.")):
        take_back_paper(paper=paper_or_404(request, pk))
    return redirect("paper-edit", request.club.slug, pk)


@require_POST
@club_page(Ability.SET_PAPERS)
def paper_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """For good, if it is not set."""
    try:
        remove_paper(paper=paper_or_404(request, pk))
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("paper-edit", request.club.slug, pk)
    messages.success(request, _("Removed. Its items and keys are kept."))
    return redirect("papers", request.club.slug)
