"""Quizzes as the trainee meets them: the list, the page before the first item, the rules."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from assessments import snapshots
from assessments.actions.sittings import begin_sitting
from assessments.items.rules_words import kinds_in_words
from assessments.models import Quiz
from assessments.queries.papers import candidatures_of
from assessments.queries.quizzes import quizzes_of
from assessments.queries.readiness import desk_of
from assessments.queries.sittings import own_sittings, with_own_progress
from assessments.rules import Refused
from shared.accounts.permissions import Ability, club_page, may
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.SEE_QUIZZES)
def quizzes(request: HttpRequest) -> HttpResponse:
    """What can be answered, and for educators what is being made."""
    every = quizzes_of(request.club)
    edits = may(request.membership, Ability.EDIT_QUIZZES)
    context = {
        "open_quizzes": with_own_progress(every.filter(state="open"), request.membership)[:PAGE_LENGTH],
        "answers": may(request.membership, Ability.ANSWER),
        "edits": edits,
        "papers": candidatures_of(request.membership)[:PAGE_LENGTH],
        "now": timezone.now(),
        "desk": desk_of(request.club, PAGE_LENGTH) if edits else [],
    }
    return render(request, "assessments/quiz/list.html", context)


@club_page(Ability.SEE_QUIZZES)
def quiz(request: HttpRequest, pk: int) -> HttpResponse:
    """What a quiz asks, how it is marked, and the way in."""
    found = get_object_or_404(quizzes_of(request.club), pk=pk)
    if found.state == Quiz.State.DRAFT and not may(request.membership, Ability.EDIT_QUIZZES):
        return redirect("quizzes", request.club.slug)
    sittings = list(own_sittings(request.membership).filter(quiz=found)[:20])
    context = {
        "quiz": found,
        "rules": _rules(found),
        "sittings": sittings,
        "edits": may(request.membership, Ability.EDIT_QUIZZES),
        "going_on": next((sitting for sitting in sittings if not sitting.finished_at), None),
    }
    return render(request, "assessments/quiz/quiz.html", context)


@club_page(Ability.ENTER)
def quiz_rules(request: HttpRequest, pk: int) -> HttpResponse:
    """How answers to this quiz are marked, in words and with a worked example."""
    found = get_object_or_404(quizzes_of(request.club).exclude(state=Quiz.State.DRAFT), pk=pk)
    return render(request, "assessments/quiz/rules.html", {"quiz": found, "rules": _rules(found)})


@require_POST
@club_page(Ability.ANSWER)
def quiz_begin(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin, or go on with, one's sitting."""
    found = get_object_or_404(quizzes_of(request.club), pk=pk)
    try:
        sitting = begin_sitting(quiz=found, trainee=request.membership)
    except Refused as refusal:
        return render(request, "assessments/refused.html", {"reason": str(refusal)}, status=409)
    return redirect("sitting", request.club.slug, sitting.pk)


def _rules(quiz: Quiz) -> dict[str, object]:
    newest = quiz.rules_versions.first()
    kinds = kinds_in_words(quiz, newest)
    return {"version": newest.version, "kinds": kinds, "ladder": snapshots.ladder(newest)}
