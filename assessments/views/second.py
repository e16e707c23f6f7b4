"""Blind second marking: asking for it, giving the second mark, comparing and settling the two."""

from __future__ import annotations

from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessments.actions.second import (
    ask_second_marking,
    give_second_mark,
    pin_second_comment,
    settle_second_marking,
    withdraw_second_marking,
)
from assessments.forms.review import CommentForm
from assessments.forms.second import AskSecondForm, GiveSecondForm, SettleForm
from assessments.items import kind_of
from assessments.models import Answer, SecondMarking
from assessments.queries.quizzes import published_key
from assessments.queries.second import (
    answer_for_comparison,
    answers_for_second,
    asked_of,
    changes_of,
    second_markings_for,
)
from assessments.rules import Refused, points_of
from assessments.views.review import by_hand_form, review_template, shown_answer
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.MARK_TWICE)
@require_http_methods(["GET", "HEAD", "POST"])
def review_second(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask another mentor for their own mark of an answer."""
    answer = get_object_or_404(answers_for_second(request.membership), pk=pk)
    form = AskSecondForm(request.POST or None, answer=answer)
    if request.method == "POST" and form.is_valid():
        try:
            marking = ask_second_marking(answer=answer, by=request.membership, **form.cleaned_data)
        except Refused as refusal:
            form.add_error("second", str(refusal))
        else:
            words = _("%(name)s is asked, and sees nothing of what was said so far.")
            messages.success(request, words % {"name": marking.second.person})
            return redirect("second", request.club.slug, marking.pk)
    context = {"answer": answer, "form": form, "anyone": form.fields["second"].queryset.exists()}
    status = 422 if form.errors else 200
    return render(request, "assessments/second/ask.html", context, status=status)


@club_page(Ability.MARK_TWICE)
def second(request: HttpRequest, pk: int) -> HttpResponse:
    """To the second mentor the answer to mark; to others how far it is; both marks once both are there."""
    found = get_object_or_404(second_markings_for(request.membership), pk=pk)
    if _is_to_mark(request, found):
        return _blind(request, found)
    return _compared(request, found) if found.given else _waiting(request, found)


def _is_to_mark(request: HttpRequest, marking: SecondMarking) -> bool:
    return marking.second_id == request.membership.pk and marking.second_at is None and marking.open


def _blind(
    request: HttpRequest,
    marking: SecondMarking,
    *,
    form: GiveSecondForm | None = None,
    comment: CommentForm | None = None,
    rubric: Form | None = None,
    status: int = 200,
) -> HttpResponse:
    answer = _blindly(marking)
    context = shown_answer(answer) | {
        "sheet": "assessments/second/mark.html",
        "pins": True,
        "marking": marking,
        "form": form or GiveSecondForm(),
        "rubric": rubric or by_hand_form(answer),
        "comment": comment or CommentForm(),
        "others": [each for each in asked_of(request.membership) if each.pk != marking.pk],
    }
    return render(request, review_template(answer), context, status=status)


def _blindly(marking: SecondMarking) -> Answer:
    """The answer as the second mentor sees it. A mark given by hand is the first mentor's own: it is hidden."""
    answer = answer_for_comparison(marking, blind=True)
    if kind_of(answer.item).by_hand:
        answer.current_marks = []
    return answer


def _waiting(request: HttpRequest, marking: SecondMarking) -> HttpResponse:
    return render(request, "assessments/second/waiting.html", {"marking": marking})


def _compared(
    request: HttpRequest, marking: SecondMarking, form: SettleForm | None = None, status: int = 200
) -> HttpResponse:
    answer = answer_for_comparison(marking, blind=False)
    firsts = [comment for comment in answer.standing_comments if comment.second_id is None]
    context = shown_answer(answer) | {
        "sheet": "assessments/second/compared.html",
        "marking": marking,
        "difference": marking.second_points - marking.first_points,
        "first_comments": firsts,
        "settles": marking.open and marking.second_id != request.membership.pk,
        "form": form or SettleForm(marking=marking),
        "changes": changes_of(answer),
    }
    return render(request, review_template(answer), context, status=status)


@require_POST
@club_page(Ability.MARK_TWICE)
def second_comment(request: HttpRequest, pk: int) -> HttpResponse:
    """The second mentor pins a comment, or says it of the answer as a whole."""
    found = get_object_or_404(second_markings_for(request.membership), pk=pk, second=request.membership)
    form = CommentForm(request.POST)
    if not _is_to_mark(request, found):
        return _over(request, found)
    if not form.is_valid():
        return _blind(request, found, comment=form, status=422)
    with told(request):
        pin_second_comment(marking=found, **form.cleaned_data)
    return _back(request, found)


@require_POST
@club_page(Ability.MARK_TWICE)
def second_give(request: HttpRequest, pk: int) -> HttpResponse:
    """The second mentor's mark: given once, then compared."""
    found = get_object_or_404(second_markings_for(request.membership), pk=pk, second=request.membership)
    if not _is_to_mark(request, found):
        return _over(request, found)
    rubric = by_hand_form(_blindly(found), request.POST)
    if rubric is not None:
        return _give_by_hand(request, found, rubric)
    form = GiveSecondForm(request.POST)
    if not form.is_valid():
        return _blind(request, found, form=form, status=422)
    with told(request):
        give_second_mark(marking=found, **form.cleaned_data)
    return _back(request, found)


def _give_by_hand(request: HttpRequest, found: SecondMarking, rubric: Form) -> HttpResponse:
    """Points and words from a form that is filled in in place of them."""
    if not rubric.is_valid():
        return _blind(request, found, rubric=rubric, status=422)
    item = found.answer.item
    key, given = published_key(item), rubric.given()
    points = points_of(kind_of(item).mark_given(key, given).score)
    words = kind_of(item).given_in_words(key, given)
    with told(request):
        give_second_mark(marking=found, points=points, words=words)
    return _back(request, found)


@require_POST
@club_page(Ability.MARK_TWICE)
def second_settle(request: HttpRequest, pk: int) -> HttpResponse:
    """Say which mark stands."""
    found = get_object_or_404(second_markings_for(request.membership), pk=pk)
    form = SettleForm(request.POST, marking=found)
    if not (found.given and found.open):
        return _over(request, found)
    if not form.is_valid():
        return _compared(request, found, form, status=422)
    with told(request):
        settle_second_marking(marking=found, by=request.membership, **form.cleaned_data)
    return _back(request, found)


@require_POST
@club_page(Ability.MARK_TWICE)
def second_withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Do without the second marking."""
    found = get_object_or_404(
        second_markings_for(request.membership).exclude(second=request.membership), pk=pk
    )
    with told(request):
        withdraw_second_marking(marking=found, by=request.membership)
    return _back(request, found)


def _over(request: HttpRequest, marking: SecondMarking) -> HttpResponse:
    messages.error(request, _("Nothing was changed: this is not to be done now."))
    return _back(request, marking)


def _back(request: HttpRequest, marking: SecondMarking) -> HttpResponse:
    return redirect("second", request.club.slug, marking.pk)
