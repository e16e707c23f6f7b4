"""What an item asks: choosing a kind, saying what is asked, and seeing it as trainees do."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _

from assessments.actions.items import change_asking, make_item
from assessments.actions.ladder import kept_ladder
from assessments.actions.quizzes import DEFAULT_RULES, add_item
from assessments.forms.quiz import EditionField, ExhibitsToAdd
from assessments.items import KINDS, AskingForm, ItemKind, kind_of
from assessments.models import Answer, Item, Quiz, QuizRules
from assessments.rules import Refused
from assessments.views.item import item_or_404
from assessments.views.sheet import Sheet
from courses.models import Edition
from courses.queries.severity import ladder_of
from shared.accounts.permissions import Ability, club_page

PREVIEW = Sheet(
    save="",
    crumbs="assessments/item/_preview_crumbs.html",
    side="assessments/item/_preview_side.html",
    foot="assessments/item/_preview_foot.html",
)


@club_page(Ability.EDIT_QUIZZES)
def item_new(request: HttpRequest) -> HttpResponse:
    """The kinds of item, each with a sentence, for an edition, and for a quiz if it is made from there."""
    quiz, edition = _for(request)
    context = {"kinds": KINDS.values(), "quiz": quiz, "edition": edition, "editions": EditionField(request)}
    return render(request, "assessments/item/new.html", context)


@club_page(Ability.EDIT_QUIZZES)
def item_ask(request: HttpRequest, kind: str) -> HttpResponse:
    """Say what a new item of this kind asks; its key is next."""
    asked = KINDS.get(kind)
    quiz, edition = _for(request)
    if asked is None or edition is None:
        raise Http404
    form = _form(request, asked, edition)
    if request.method == "POST" and form.is_valid():
        made = make_item(edition=edition, by=request.user, kind=kind, **form.said())
        if quiz is not None:
            add_item(quiz=quiz, item=made)
        return redirect("key", request.club.slug, made.pk)
    return _page(request, asked, form, {"edition": edition, "quiz": quiz})


@club_page(Ability.EDIT_QUIZZES)
def item_asking(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask otherwise while no key was published; afterwards only the title changes."""
    found = item_or_404(request, pk)
    form = _form(request, kind_of(found), found.edition, found)
    if request.method == "POST" and form.is_valid():
        try:
            change_asking(item=found, by=request.user, **form.said())
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, _("Saved."))
            return redirect("item", request.club.slug, pk)
    return _page(request, kind_of(found), form, {"edition": found.edition, "item": found})


@club_page(Ability.EDIT_QUIZZES)
def item_preview(request: HttpRequest, pk: int) -> HttpResponse:
    """The answer page as a trainee sees it; nothing is kept."""
    found = item_or_404(request, pk)
    kind, ladder = kind_of(found), kept_ladder(ladder_of(request.club))
    context = {
        "sheet": PREVIEW,
        "answer": Answer(item=found, position=0),
        "count": 1,
        "kind": kind,
        "ask": kind.ask(Answer(item=found, position=0), QuizRules(rules=DEFAULT_RULES, ladder=ladder)),
        "words": kind.words(),
        "preview": True,
    }
    return render(request, f"assessments/items/{kind.templates}/answer.html", context)


def _for(request: HttpRequest) -> tuple[Quiz | None, Edition | None]:
    """The quiz that the item is made for, if one is named, and its edition; else the edition chosen."""
    wanted = request.GET.get("quiz", "")
    if wanted:
        quizzes = Quiz.objects.filter(edition__breed__club=request.club).select_related("edition__breed")
        quiz = get_object_or_404(quizzes, pk=int(wanted) if wanted.isdecimal() else 0)
        return quiz, quiz.edition
    return None, EditionField(request).chosen


def _form(request: HttpRequest, kind: ItemKind, edition: Edition, item: Item | None = None) -> AskingForm:
    posted = (request.POST, request.FILES) if request.method == "POST" else ()
    ticked = {"ticked": request.GET.getlist("exhibits")} if "exhibits" in request.GET else {}
    return kind.asking_form(
        *posted,
        **ticked,
        edition=edition,
        exhibits=kind.exhibits,
        item=item,
        wanted=ExhibitsToAdd(request.GET).wanted(),
        asked=request.GET,
    )


def _page(request: HttpRequest, kind: ItemKind, form: AskingForm, context: dict[str, object]) -> HttpResponse:
    shown = {"kind": kind, "form": form, "filters": ExhibitsToAdd(request.GET), **context}
    template = f"assessments/items/{kind.templates}/asking.html"
    status = 422 if form.errors else 200
    return render(request, [template, "assessments/item/asking.html"], shown, status=status)
