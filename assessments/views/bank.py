"""The item bank: the club's items found and put in order, changed many at a time, copied to work on."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Page, Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.bank import (
    Done,
    add_items,
    bring_back_items,
    copy_item,
    copy_items_to,
    copy_to_edition,
    file_items,
    retire_items,
    take_back,
    title_items,
)
from assessments.actions.facility import bring_facilities_up_to_date
from assessments.forms.bank import BankForm, ChangeForm, ChosenItems
from assessments.models import Item, Quiz
from assessments.queries.bank import bank_row, items_in_bank, narrowed, not_in, sorted_by, ticked, with_rows
from assessments.queries.quizzes import quizzes_of
from assessments.rules import Refused
from assessments.views.item import item_or_404
from courses.models import Edition
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer
from shared.web.limits import PAGE_LENGTH

UNDO = "bank_undo"


@club_page(Ability.EDIT_QUIZZES)
def items(request: HttpRequest) -> HttpResponse:
    """What is looked for, page by page; with `quiz`, what could be added to that quiz."""
    quiz = _quiz(request)
    form = BankForm(request.GET, club=request.club, quiz=quiz)
    bring_facilities_up_to_date(club=request.club)
    page = _page(request, form, quiz)
    chosen, change = ChosenItems(offered=[]), ChangeForm(**_of(request, quiz, page))
    return _show(request, {"quiz": quiz, "form": form, "page": page, "chosen": chosen, "change": change})


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def items_change(request: HttpRequest) -> HttpResponse:
    """Do with the ticked items what was chosen; the page then offers to take it back."""
    quiz = _quiz(request)
    form = BankForm(request.GET, club=request.club, quiz=quiz)
    page = _page(request, form, quiz)
    chosen = ChosenItems(request.POST, offered=[item.pk for item in page])
    change = ChangeForm(request.POST, **_of(request, quiz, page))
    if chosen.is_valid() and change.is_valid():
        try:
            done = _do(request, ticked(request.club, chosen.cleaned_data["item"]), change.cleaned_data)
        except Refused as refusal:
            change.add_error(None, str(refusal))
        else:
            request.session[UNDO] = {"club": request.club.pk, "said": done.said, "back": done.back}
            return _back(request, quiz)
    context = {"quiz": quiz, "form": form, "page": page, "chosen": chosen, "change": change}
    return _show(request, context, status=422)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def items_undo(request: HttpRequest) -> HttpResponse:
    """Take back what was done last with many items, once."""
    kept = request.session.pop(UNDO, None)
    if kept and kept["club"] == request.club.pk:
        take_back(club=request.club, back=kept["back"])
        messages.success(request, _("Taken back."))
    return _back(request, None)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def item_copy(request: HttpRequest, pk: int) -> HttpResponse:
    """A copy to work on, of the same edition or of a newer one."""
    found = item_or_404(request, pk)
    wanted = request.POST.get("edition", "")
    try:
        if wanted:
            editions = Edition.objects.filter(breed__club=request.club)
            edition = get_object_or_404(editions, pk=int(wanted) if wanted.isdecimal() else 0)
            made = copy_to_edition(item=found, edition=edition, by=request.user)
        else:
            made = copy_item(item=found, by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("item", request.club.slug, pk)
    messages.success(request, _("A draft copy. Item %(n)d stays as it is.") % {"n": found.pk})
    return redirect("item", request.club.slug, made.pk)


def _quiz(request: HttpRequest) -> Quiz | None:
    """The quiz to which items are to be added, if the page was opened from one."""
    wanted = request.GET.get("quiz", "")
    if not wanted:
        return None
    return get_object_or_404(quizzes_of(request.club), pk=int(wanted) if wanted.isdecimal() else 0)


def _page(request: HttpRequest, form: BankForm, quiz: Quiz | None) -> Page[Item]:
    found = narrowed(items_in_bank(request.club), form.wanted())
    if quiz is not None:
        found = not_in(found.filter(edition=quiz.edition_id), quiz.pk)
    return Paginator(with_rows(sorted_by(found, form.order())), PAGE_LENGTH).get_page(request.GET.get("page"))


def _of(request: HttpRequest, quiz: Quiz | None, page: Page[Item]) -> dict[str, Any]:
    """Clauses are offered of the edition that all items of the page are of, if it is one."""
    editions = {item.edition_id for item in page}
    return {"club": request.club, "edition": editions.pop() if len(editions) == 1 else None}


def _do(request: HttpRequest, found: list[Item], said: dict[str, Any]) -> Done:
    deeds = {
        "add": lambda: add_items(quiz=said["quiz"], items=found),
        "file": lambda: file_items(items=found, clause=said["clause"]),
        "title": lambda: title_items(items=found, title=said["title"]),
        "edition": lambda: copy_items_to(items=found, edition=said["edition"], by=request.user),
        "retire": lambda: retire_items(items=found),
        "bring back": lambda: bring_back_items(items=found),
    }
    return deeds[said["what"]]()


def _back(request: HttpRequest, quiz: Quiz | None) -> HttpResponse:
    """To the list as it was looked at; after adding from a quiz, to that quiz."""
    if quiz is not None:
        done = request.session.get(UNDO)
        messages.success(request, done["said"] if done else "")
        return redirect("quiz-edit", request.club.slug, quiz.pk)
    looked_for = request.GET.urlencode()
    return redirect(f"{reverse('items', args=[request.club.slug])}{'?' if looked_for else ''}{looked_for}")


def _show(request: HttpRequest, context: dict[str, Any], status: int = 200) -> HttpResponse:
    undo = request.session.get(UNDO)
    context |= {
        "rows": [bank_row(item) for item in context["page"]],
        "undo": undo if undo and undo["club"] == request.club.pk else None,
        "editions": {item.edition_id for item in context["page"]},
        "looked_for": bool(context["form"].wanted()),
        "ticks": {int(pk) for pk in request.POST.getlist("item") if pk.isdecimal()},
    }
    return answer(
        request, "assessments/bank/items.html", "assessments/bank/_items.html", context, status=status
    )
