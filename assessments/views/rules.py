"""The marking rules of a quiz, changed by its educator."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments import snapshots
from assessments.actions.ladder import planned_move, take_ladder
from assessments.actions.quizzes import change_rules, mark_the_rest
from assessments.forms.quiz import RulesForm
from assessments.items.rules_words import KindInWords, kinds_in_words
from assessments.models import QuizRules
from assessments.queries.remarking import consequences_of_rules, remarking_of_quiz
from assessments.rules import NotReady, Refused
from assessments.views.desk import quiz_or_404
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer


@club_page(Ability.EDIT_QUIZZES)
def quiz_rules_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """What a fault's parts earn, what a false alarm costs; a change is a new version."""
    found = quiz_or_404(request, pk)
    newest = found.rules_versions.all()[0]
    given = request.POST if request.method == "POST" else (request.GET if request.htmx else None)
    form = RulesForm(given, initial=newest.rules, ladder=snapshots.ladder(newest))
    if request.method == "POST" and form.is_valid():
        return _change(request, newest, form)
    context = {
        "quiz": found,
        "form": form,
        "newest": newest,
        "words": _words(newest, form),
        "consequences": consequences_of_rules(found),
        "versions": found.rules_versions.select_related("made_by")[:20],
    }
    page, fragment = "assessments/quiz/rules_edit.html", "assessments/quiz/_rules_words.html"
    return answer(request, page, fragment, context, status=422 if request.method == "POST" else 200)


def _words(newest: QuizRules, form: RulesForm) -> list[KindInWords]:
    """The rules in words: as they would read if the form were saved, else as they stand."""
    if form.is_bound and form.is_valid():
        return kinds_in_words(newest.quiz, QuizRules(rules=form.kept(), ladder=newest.ladder))
    return kinds_in_words(newest.quiz, newest)


def _change(request: HttpRequest, newest: QuizRules, form: RulesForm) -> HttpResponse:
    if form.kept() == newest.rules:
        messages.info(request, _("The rules are as they were; no new version was made."))
        return redirect("quiz-edit", request.club.slug, newest.quiz_id)
    made = change_rules(
        quiz=newest.quiz,
        rules=form.cleaned_data["rules"],
        reach_in_heights=form.cleaned_data["reach_in_heights"],
        by=request.user,
    )
    messages.success(request, _("Rules version %(n)d is in use.") % {"n": made.version})
    return redirect("quiz-edit", request.club.slug, newest.quiz_id)


@club_page(Ability.EDIT_QUIZZES)
def quiz_ladder(request: HttpRequest, pk: int) -> HttpResponse:
    """The quiz's severity ladder beside the one that the club has now, and the move from one to the other."""
    found = quiz_or_404(request, pk)
    refusal = ""
    if request.method == "POST":
        try:
            made = take_ladder(quiz=found, by=request.user, renamed=bool(request.POST.get("renamed")))
        except (Refused, NotReady) as error:
            refusal = str(error)
        else:
            messages.success(request, _("Rules version %(n)d has the club’s ladder.") % {"n": made.version})
            return redirect("quiz-edit", request.club.slug, pk)
    context = {
        "quiz": found,
        "move": planned_move(found),
        "consequences": consequences_of_rules(found),
        "refusal": refusal,
    }
    return render(request, "assessments/quiz/ladder.html", context, status=409 if refusal else 200)


@club_page(Ability.EDIT_QUIZZES)
def quiz_remarking(request: HttpRequest, pk: int) -> HttpResponse:
    """How far marking anew has got: a fragment that asks again until it is done."""
    found = quiz_or_404(request, pk)
    if not request.htmx:
        return redirect("quiz-edit", request.club.slug, pk)
    context = {"quiz": found, "remarking": remarking_of_quiz(found)}
    return render(request, "assessments/quiz/_remarking.html", context)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_mark_rest(request: HttpRequest, pk: int) -> HttpResponse:
    """Set marking anew going again."""
    mark_the_rest(quiz=quiz_or_404(request, pk))
    return redirect("quiz-edit", request.club.slug, pk)
