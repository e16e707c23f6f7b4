"""A paper as its candidate meets it: the declaration, item after item, the overview, handing in, the result."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.paper_sittings import (
    begin_paper,
    hand_in_if_over,
    hand_in_paper,
)
from assessments.forms.paper import DeclarationForm
from assessments.items.rules_words import kinds_in_words
from assessments.models import Candidate
from assessments.queries.papers import refusal_to_sit, regulations_on
from assessments.rules import GRACE, Refused
from assessments.views.paper_answering import give_item, give_overview, keep
from assessments.views.paper_seat import own_candidature, own_seat
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.ANSWER)
def paper(request: HttpRequest, pk: int) -> HttpResponse:
    """Before it: what to expect and the declaration. During: the way on. After: that it is sealed, or the result."""
    return _front(request, own_candidature(request, pk), DeclarationForm())


def _front(
    request: HttpRequest, candidate: Candidate, form: DeclarationForm, refusal: str = "", status: int = 200
) -> HttpResponse:
    sitting, now = getattr(candidate, "sitting", None), timezone.now()
    if sitting is not None:
        hand_in_if_over(sitting=sitting, now=now)
    quiz = candidate.paper.quiz
    newest = quiz.rules_versions.first()
    context = {
        "candidate": candidate,
        "paper": candidate.paper,
        "sitting": sitting,
        "result": next(iter(sitting.released), None) if sitting else None,
        "time_is_over": bool(sitting and sitting.ends_at and now >= sitting.ends_at),
        "items": quiz.quiz_items.count(),
        "said": sitting.sitting.answers.filter(revision__gt=0).count() if sitting else 0,
        "minutes": round(candidate.time.total_seconds() / 60),
        "declaration": declaration_words(),
        "rules": kinds_in_words(quiz, newest),
        "refusal": refusal or (_why_not(candidate) if sitting is None else ""),
        "form": form,
        "now": now,
        "grace": int(GRACE.total_seconds()),
    }
    return render(request, "assessments/paper/front.html", context, status=status)


def _why_not(candidate: Candidate) -> str:
    today = timezone.localdate()
    regulations = regulations_on(candidate.paper.quiz.edition.breed.club, today)
    return (refusal_to_sit(candidate, regulations, today) or "") if regulations else ""


def declaration_words() -> list[str]:
    """What a candidate accepts before the time starts."""
    return [
        _("I answer by myself, without the written standard, notes, or anybody’s help."),
        _("I keep the items to myself: I make no copy of them and tell nobody of them."),
        _(
            "I know that a result here approves nobody. The club’s own kennel club or registry decides who may "
            "judge."
        ),
        _(
            "I know that health and welfare come before type, and that a concern about a dog’s health belongs to "
            "a veterinary surgeon."
        ),
        _("I know that a photograph is evidence, not a measurement of the dog."),
        _("I have told the club beforehand of anything that I need, such as more time or a reader."),
    ]


@require_POST
@club_page(Ability.ANSWER)
def paper_begin(request: HttpRequest, pk: int) -> HttpResponse:
    """The declaration is accepted, and the time starts."""
    candidate = own_candidature(request, pk)
    form = DeclarationForm(request.POST)
    if not form.is_valid():
        return _front(request, candidate, form, status=422)
    try:
        begin_paper(candidate=candidate, declaration="\n".join(declaration_words()))
    except Refused as refusal:
        return _front(request, candidate, form, refusal=str(refusal), status=409)
    return redirect("paper-item", request.club.slug, pk, 1)


@club_page(Ability.ANSWER)
def paper_item(request: HttpRequest, pk: int, place: int) -> HttpResponse:
    """One item of the candidate's own paper."""
    return give_item(request, own_seat(request, pk), place)


@require_POST
@club_page(Ability.ANSWER)
def paper_save(request: HttpRequest, pk: int, place: int) -> JsonResponse:
    """Keep what the page sends."""
    return keep(request, own_seat(request, pk), place)


@club_page(Ability.ANSWER)
def paper_overview(request: HttpRequest, pk: int) -> HttpResponse:
    """What is answered and what is not, and the way to hand all of it in."""
    return give_overview(request, own_seat(request, pk))


@club_page(Ability.ANSWER)
def paper_clock(request: HttpRequest, pk: int) -> JsonResponse:
    """How many seconds are left by the server's clock."""
    seat = own_seat(request, pk)
    return JsonResponse({"left": 0 if seat.finished else seat.left(timezone.now())})


@require_POST
@club_page(Ability.ANSWER)
def paper_hand_in(request: HttpRequest, pk: int) -> HttpResponse:
    """All at once; pressed twice, once."""
    hand_in_paper(sitting=own_seat(request, pk).sitting)
    return redirect("paper", request.club.slug, pk)
