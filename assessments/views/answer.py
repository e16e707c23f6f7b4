"""One item: answering it, saving as one goes, handing it in, and the marked answer."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.reviews import ask_query
from assessments.actions.sittings import Overtaken, hand_in, save_answer
from assessments.forms.review import QueryForm
from assessments.items import kind_of
from assessments.models import Answer, Notice
from assessments.queries.answers import PRACTICE, answers_with_marks, own_answers
from assessments.queries.items import is_withheld
from assessments.queries.sittings import waiting_in
from assessments.results import next_clause, result_of
from assessments.rules import Refused
from assessments.views.saving import NOT_KEPT, answer_overtaken, kept, not_kept, seen_in, sent_in
from assessments.views.sheet import practice_sheet
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.ANSWER)
def answer(request: HttpRequest, pk: int) -> HttpResponse:
    """The item to answer, or the marked answer once it is handed in; a withdrawn picture is passed over."""
    found = get_object_or_404(
        answers_with_marks().filter(PRACTICE, sitting__trainee=request.membership), pk=pk
    )
    count = found.sitting.answers.count()
    if found.handed_in_at:
        return _marked(request, found, count)
    if found.passed_over_at or is_withheld(found.item, timezone.localdate()):
        context = {"answer": found, "count": count, "next": waiting_in(found.sitting).first()}
        return render(request, "assessments/answer/passed_over.html", context)
    kind = kind_of(found.item)
    rules = found.sitting.quiz.rules_versions.first()
    context = {
        "answer": found,
        "count": count,
        "kind": kind,
        "ask": kind.ask(found, rules),
        "words": kind.words(),
        "sheet": practice_sheet(request, found),
    }
    return render(request, f"assessments/items/{kind.templates}/answer.html", context)


def _marked(request: HttpRequest, found: Answer, count: int, form: QueryForm | None = None) -> HttpResponse:
    result = result_of(found) if found.current_marks else None
    Notice.objects.filter(answer=found, member=request.membership, seen_at=None).update(
        seen_at=timezone.now()
    )
    context = {
        "answer": found,
        "count": count,
        "kind": kind_of(found.item),
        "result": result,
        "clause": result and next_clause(result),
        "next": waiting_in(found.sitting).first(),
        "form": form or QueryForm(),
    }
    kind = kind_of(found.item)
    context |= kind.marked_context(found)
    status = 422 if form is not None and form.errors else 200
    return render(request, f"assessments/items/{kind.templates}/marked.html", context, status=status)


@require_POST
@club_page(Ability.ANSWER)
def answer_save(request: HttpRequest, pk: int) -> JsonResponse:
    """Keep what the page sends; 410 says that the answer is handed in, 409 returns what another page saved."""
    found = get_object_or_404(own_answers(request.membership), pk=pk)
    try:
        sent = sent_in(request)
        saved = save_answer(answer=found, sent=sent.content, seen=sent.seen, identity=sent.identity)
    except NOT_KEPT as error:
        return not_kept(error, _("The answer could not be read."))
    except Overtaken as error:
        return answer_overtaken(error)
    return kept(saved)


@require_POST
@club_page(Ability.ANSWER)
def answer_hand_in(request: HttpRequest, pk: int) -> HttpResponse:
    """Hand in what is kept; once handed in, pressing again leads to the same marked answer."""
    found = get_object_or_404(own_answers(request.membership), pk=pk)
    try:
        hand_in(answer=found, seen=seen_in(request))
    except Overtaken:
        return render(request, "assessments/answer/overtaken.html", {"answer": found}, status=409)
    except Refused as refusal:
        return render(
            request, "assessments/refused.html", {"reason": str(refusal), "answer": found}, status=409
        )
    return redirect("answer", request.club.slug, found.pk)


@require_POST
@club_page(Ability.ANSWER)
def answer_query(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask the mentors to look at a mark again."""
    found = get_object_or_404(
        answers_with_marks().filter(PRACTICE, sitting__trainee=request.membership), pk=pk
    )
    if not found.handed_in_at:
        raise Http404
    form = QueryForm(request.POST)
    if not form.is_valid():
        return _marked(request, found, found.sitting.answers.count(), form)
    try:
        ask_query(answer=found, text=form.cleaned_data["text"])
    except Refused as refusal:
        return render(
            request, "assessments/refused.html", {"reason": str(refusal), "answer": found}, status=409
        )
    return redirect("answer", request.club.slug, found.pk)
