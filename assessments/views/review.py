"""The mentor's side: the answer on its picture, comments, the adjusted mark, the return."""

from __future__ import annotations

from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from assessments.actions.by_hand import mark_by_hand
from assessments.actions.reviews import (
    adjust_mark,
    open_review,
    pin_comment,
    remove_comment,
    return_answer,
    take_back_adjustment,
)
from assessments.forms.review import CommentForm, ReturnForm
from assessments.items import kind_of
from assessments.models import Answer
from assessments.queries.answers import reviewable_by
from assessments.queries.queue import next_in_queue
from assessments.queries.quizzes import published_key
from assessments.queries.second import changes_of, second_markings_of
from assessments.results import result_of
from assessments.rules import Refused
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.REVIEW)
def review(request: HttpRequest, pk: int) -> HttpResponse:
    """One answer on its picture, beside the key, with all that has been said."""
    found = get_object_or_404(reviewable_by(request.membership), pk=pk)
    if not hasattr(found, "review"):
        open_review(answer=found, mentor=request.membership)
    return _page(request, found)


def _page(
    request: HttpRequest,
    found: Answer,
    *,
    comment: CommentForm | None = None,
    back: ReturnForm | None = None,
    rubric: Form | None = None,
    status: int = 200,
) -> HttpResponse:
    standing = next(iter(found.standing_adjustments), None)
    waiting, following = next_in_queue(request.membership, besides=found)
    context = shown_answer(found) | {
        "pins": True,
        "changes": changes_of(found),
        "seconds": second_markings_of(found) if found.marked_twice else [],
        "comment": comment or CommentForm(),
        "back": back or ReturnForm(standing=standing, asks=found.asks_again),
        "rubric": rubric or by_hand_form(found),
        "waiting": waiting,
        "next": following.pk if following else None,
    }
    return render(request, review_template(found), context, status=status)


def shown_answer(answer: Answer) -> dict[str, object]:
    """What a kind's review template shows of an answer, whatever page it stands on."""
    kind = kind_of(answer.item)
    return {
        "answer": answer,
        "kind": kind,
        "result": result_of(answer) if answer.current_marks else None,
        "notes": [
            (number, mark["note"])
            for number, mark in enumerate(answer.content.get("marks", []), start=1)
            if mark.get("note")
        ],
        **kind.marked_context(answer),
    }


def by_hand_form(answer: Answer, *data: object) -> Form | None:
    """The form in which a mentor marks it, with the marking that stands; None for what the rules mark."""
    kind = kind_of(answer.item)
    if not kind.by_hand:
        return None
    standing = next(iter(answer.current_marks), None)
    given = standing.detail.get("given") if standing else None
    return kind.marking_form(published_key(answer.item), *data, given=given)


def review_template(answer: Answer) -> str:
    """The kind's way of showing an answer; the page around it is the context's `sheet`."""
    return f"assessments/items/{kind_of(answer.item).templates}/review.html"


@require_POST
@club_page(Ability.REVIEW)
def review_comment(request: HttpRequest, pk: int) -> HttpResponse:
    """Pin a comment to a spot, or say it of the answer as a whole."""
    found = get_object_or_404(reviewable_by(request.membership), pk=pk)
    form = CommentForm(request.POST)
    if not form.is_valid():
        return _page(request, found, comment=form, status=422)
    pin_comment(answer=found, author=request.membership, **form.cleaned_data)
    return redirect("review", request.club.slug, found.pk)


@require_POST
@club_page(Ability.REVIEW)
def review_comment_remove(request: HttpRequest, pk: int, comment: int) -> HttpResponse:
    """Take one's own comment away."""
    found = get_object_or_404(reviewable_by(request.membership), pk=pk)
    remove_comment(comment=get_object_or_404(found.comments, pk=comment, author=request.membership))
    return redirect("review", request.club.slug, found.pk)


@require_POST
@club_page(Ability.REVIEW)
def review_return(request: HttpRequest, pk: int) -> HttpResponse:
    """Return the answer to the trainee, adjusted if points were given, and go on with the queue."""
    found = get_object_or_404(reviewable_by(request.membership), pk=pk)
    form = ReturnForm(request.POST, asks=found.asks_again)
    if not form.is_valid():
        return _page(request, found, back=form, status=422)
    try:
        if form.change:
            adjust_mark(answer=found, mentor=request.membership, **form.change)
        return_answer(answer=found, mentor=request.membership, **form.settles)
    except Refused as refusal:
        form.add_error("points", str(refusal))
        return _page(request, found, back=form, status=422)
    return redirect("reviews", request.club.slug)


@require_POST
@club_page(Ability.REVIEW)
def review_mark(request: HttpRequest, pk: int) -> HttpResponse:
    """Mark by hand what no rule marks, return it, and go on with the queue."""
    found = get_object_or_404(reviewable_by(request.membership), pk=pk)
    form, back = by_hand_form(found, request.POST), ReturnForm(request.POST, asks=found.asks_again)
    if form is None:
        raise Http404
    if not all([form.is_valid(), back.is_valid()]):
        return _page(request, found, rubric=form, back=back, status=422)
    try:
        mark_by_hand(answer=found, mentor=request.membership, given=form.given())
        return_answer(answer=found, mentor=request.membership, **back.settles)
    except Refused as refusal:
        form.add_error(None, str(refusal))
        return _page(request, found, rubric=form, back=back, status=422)
    return redirect("reviews", request.club.slug)


@require_POST
@club_page(Ability.REVIEW)
def review_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Let the mark by the rules stand again."""
    found = get_object_or_404(reviewable_by(request.membership), pk=pk)
    with told(request):
        take_back_adjustment(answer=found, by=request.membership)
    return redirect("review", request.club.slug, found.pk)
