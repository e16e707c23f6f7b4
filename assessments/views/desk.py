"""The quiz desk: making a quiz, putting items in order, opening and closing it."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from assessments.actions.ladder import kept_ladder
from assessments.actions.quizzes import (
    add_exhibits,
    add_item,
    close_quiz,
    describe_quiz,
    give_place,
    make_quiz,
    move_item,
    open_quiz,
    remove_item,
    remove_quiz,
)
from assessments.forms.quiz import ChosenExhibits, ExhibitsToAdd, NewQuizForm, QuizForm, QuizPlaceForm
from assessments.items.rules_words import kinds_in_words
from assessments.models import Item, Quiz, QuizItem
from assessments.queries.quizzes import exhibits_to_add, places_for_quizzes, quizzes_of
from assessments.queries.readiness import on_the_desk
from assessments.queries.remarking import remarking_of_quiz
from assessments.rules import NotReady, Refused
from assessments.views.telling import told
from courses.models import Place
from courses.queries.severity import ladder_of
from shared.accounts.permissions import Ability, club_page
from shared.web.htmx import answer
from shared.web.limits import PAGE_LENGTH


def quiz_or_404(request: HttpRequest, pk: int) -> Quiz:
    """A quiz of the club."""
    return get_object_or_404(quizzes_of(request.club).prefetch_related("rules_versions"), pk=pk)


def _posted(request: HttpRequest) -> QueryDict | None:
    return request.POST if request.method == "POST" else None


@club_page(Ability.EDIT_QUIZZES)
def quiz_new(request: HttpRequest) -> HttpResponse:
    """Make a quiz; with `place`, one for a module's place."""
    place = _place(request)
    form = NewQuizForm(_posted(request), club=request.club, place=place)
    if request.method != "POST" or not form.is_valid():
        context = {"form": form, "place": place}
        return render(request, "assessments/quiz/new.html", context, status=422 if form.errors else 200)
    made = make_quiz(**form.cleaned_data, by=request.user, place=place)
    return redirect("quiz-edit", request.club.slug, made.pk)


def _place(request: HttpRequest) -> Place | None:
    """The place asked for, if it is one of the club's for a quiz and has none yet."""
    wanted = request.GET.get("place", "")
    if not wanted:
        return None
    free = places_for_quizzes(request.club).filter(quiz=None).select_related("module__course")
    return get_object_or_404(free, pk=int(wanted) if wanted.isdecimal() else 0)


@club_page(Ability.EDIT_QUIZZES)
def quiz_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Its words, its items in order, what it lacks."""
    found = quiz_or_404(request, pk)
    form = QuizForm(_posted(request), instance=found)
    if request.method == "POST" and form.is_valid():
        describe_quiz(quiz=found, **form.cleaned_data)
        messages.success(request, _("Saved."))
        return redirect("quiz-edit", request.club.slug, pk)
    if form.errors:
        found.refresh_from_db(fields=["title", "introduction"])
    status = 422 if form.errors else 200
    return render(request, "assessments/quiz/edit.html", _desk(request, found, form), status=status)


def _desk(request: HttpRequest, quiz: Quiz, form: QuizForm | None = None) -> dict[str, object]:
    newest = quiz.rules_versions.all()[0]
    return {
        "quiz": quiz,
        "form": form or QuizForm(instance=quiz),
        "desk": on_the_desk(quiz),
        "removed": _removed(request, quiz),
        "rules_version": newest.version,
        "newer_ladder": newest.ladder != kept_ladder(ladder_of(request.club)),
        "rules_words": kinds_in_words(quiz, newest),
        "remarking": remarking_of_quiz(quiz),
        "begun": quiz.sittings.exists(),
        "place_form": QuizPlaceForm(club=quiz.edition.breed.club).of_quiz(quiz),
    }


def _removed(request: HttpRequest, quiz: Quiz) -> dict[str, object] | None:
    """The item that was just taken out, to be put back where it stood."""
    pk, at = request.GET.get("removed", ""), request.GET.get("at", "")
    if not (pk.isdecimal() and at.isdecimal()):
        return None
    items = Item.objects.filter(edition=quiz.edition_id).exclude(quizzes=quiz).select_related("exhibit")
    found = items.filter(pk=pk).first()
    return {"item": found, "at": int(at)} if found else None


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_item_move(request: HttpRequest, pk: int, item: int) -> HttpResponse:
    """One place up or down."""
    row = _row(request, pk, item)
    move_item(quiz_item=row, by=-1 if request.POST.get("way") == "up" else 1)
    return _items(request, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_item_remove(request: HttpRequest, pk: int, item: int) -> HttpResponse:
    """Out of the quiz, with a way back."""
    row = _row(request, pk, item)
    at = list(row.quiz.quiz_items.values_list("item_id", flat=True)).index(item)
    remove_item(quiz_item=row)
    return redirect(f"{reverse('quiz-edit', args=[request.club.slug, pk])}?removed={item}&at={at}#_items")


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_item_put_back(request: HttpRequest, pk: int, item: int) -> HttpResponse:
    """Where it stood before it was taken out."""
    found = quiz_or_404(request, pk)
    at = request.POST.get("at", "")
    known = get_object_or_404(Item, pk=item, edition=found.edition_id)
    add_item(quiz=found, item=known, at=int(at) if at.isdecimal() else None)
    return _items(request, pk)


def _row(request: HttpRequest, pk: int, item: int) -> QuizItem:
    rows = QuizItem.objects.filter(quiz__in=quizzes_of(request.club)).select_related("quiz")
    return get_object_or_404(rows, quiz__pk=pk, item__pk=item)


def _items(request: HttpRequest, pk: int) -> HttpResponse:
    """The items as they stand now: as a fragment, or the page anew."""
    if not request.htmx:
        return redirect(f"{reverse('quiz-edit', args=[request.club.slug, pk])}#_items")
    return render(request, "assessments/quiz/_items.html", _desk(request, quiz_or_404(request, pk)))


@club_page(Ability.EDIT_QUIZZES)
def quiz_add(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose exhibits from their thumbnails; each becomes an item, or brings the one it has."""
    found = quiz_or_404(request, pk)
    form = ExhibitsToAdd(request.GET)
    page = Paginator(exhibits_to_add(found, form.wanted()), PAGE_LENGTH).get_page(request.GET.get("page"))
    chosen = ChosenExhibits(_posted(request), offered=[each.number for each in page.object_list])
    if request.method == "POST" and chosen.is_valid():
        return _add(request, found, chosen.cleaned_data["exhibit"])
    context = {"quiz": found, "form": form, "page": page, "chosen": chosen}
    page_name, fragment = "assessments/quiz/add.html", "assessments/quiz/_exhibits.html"
    return answer(request, page_name, fragment, context, status=422 if chosen.errors else 200)


def _add(request: HttpRequest, quiz: Quiz, numbers: list[int]) -> HttpResponse:
    exhibits = quiz.edition.breed.exhibits.filter(number__in=numbers).order_by("number")
    try:
        added = add_exhibits(quiz=quiz, exhibits=exhibits, by=request.user)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("quiz-add", request.club.slug, quiz.pk)
    said = ngettext("One item added at the end.", "%(n)d items added at the end.", len(added))
    messages.success(request, said % {"n": len(added)})
    return redirect("quiz-edit", request.club.slug, quiz.pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_place(request: HttpRequest) -> HttpResponse:
    """Let a quiz stand at a module's place for one, or at none."""
    form = QuizPlaceForm(request.POST, club=request.club)
    if not form.is_valid():
        messages.error(request, _("That place is no longer there, or the quiz is not. Choose again."))
        return redirect("quizzes", request.club.slug)
    quiz, place = form.cleaned_data["quiz"], form.cleaned_data["place"]
    where = _("It stands in the module “%(module)s”.") % {"module": place.module} if place else ""
    with told(request, where or _("It stands in no module now.")):
        give_place(quiz=quiz, place=place)
    return redirect("quiz-edit", request.club.slug, quiz.pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_open(request: HttpRequest, pk: int) -> HttpResponse:
    """Let trainees in, or say what is missing."""
    found = quiz_or_404(request, pk)
    try:
        open_quiz(quiz=found)
        messages.success(request, _("Open: trainees find it under Quizzes."))
    except NotReady as refusal:
        messages.error(request, _("Not opened yet. %(missing)s") % {"missing": refusal})
    return redirect("quiz-edit", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_close(request: HttpRequest, pk: int) -> HttpResponse:
    """No new sittings."""
    close_quiz(quiz=quiz_or_404(request, pk))
    messages.success(request, _("Closed: nobody begins it anew; sittings under way may be finished."))
    return redirect("quiz-edit", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def quiz_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """For good, if nobody has begun it."""
    found = quiz_or_404(request, pk)
    try:
        remove_quiz(quiz=found)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("quiz-edit", request.club.slug, pk)
    messages.success(request, _("“%(title)s” is removed. Its items and keys are kept.") % {"title": found})
    return redirect("quizzes", request.club.slug)
