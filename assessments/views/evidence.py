"""Evidence for educators: quizzes, a quiz as a paper, one item as the room saw it, the answers behind."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from assessments.actions.figures import bring_up_to_date, figures_of, lags_behind
from assessments.evidence import FEWEST
from assessments.evidence.paper import PaperFigures, borderline
from assessments.evidence.plots import (
    NARROW,
    NARROW_MARKS,
    WIDE,
    WIDE_MARKS,
    band_counts,
    item_plot,
    marks_plot,
)
from assessments.evidence.room import Room, room_of
from assessments.evidence.tables import items_table, marks_table, quizzes_table, room_table
from assessments.evidence.words import faults_in_words
from assessments.forms.evidence import BehindForm
from assessments.items import kind_of
from assessments.models import Quiz, QuizItem
from assessments.queries.answers import reviewable_by
from assessments.queries.cut import pass_line
from assessments.queries.evidence import (
    Within,
    alarms_of,
    answers_behind,
    details_in_room,
    entries_in_use,
    item_of_club,
    items_in_quiz,
    quizzes_with_answers,
    results_of,
    upheld_queries,
)
from assessments.reports.quiz import TEMPLATE, QuizEvidence, quiz_report
from assessments.results import line_of
from assessments.rules import letter
from shared.accounts.permissions import Ability, club_page, may
from shared.web.csv_files import csv_answer
from shared.web.limits import PAGE_LENGTH
from shared.web.pdf_files import pdf_answer


@club_page(Ability.READ_EVIDENCE)
def evidence(request: HttpRequest) -> HttpResponse:
    """Every quiz that was opened, with its figures, and the ways to all other evidence."""
    page = Paginator(quizzes_with_answers(request.club), PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {"page": page, "lines": _quiz_lines(list(page)), "fewest": FEWEST}
    return render(request, "assessments/evidence/evidence.html", context)


@club_page(Ability.READ_EVIDENCE)
def evidence_csv(request: HttpRequest) -> HttpResponse:
    """The same as a file, of all quizzes."""
    return csv_answer("quizzes", *quizzes_table(_quiz_lines(list(quizzes_with_answers(request.club)))))


def _quiz_lines(quizzes: list[Quiz]) -> list[dict[str, Any]]:
    bring_up_to_date(quizzes=quizzes)
    return [{"quiz": quiz, "figures": _told(quiz)} for quiz in quizzes]


def _told(quiz: Quiz) -> PaperFigures | None:
    """The quiz's figures if they are of enough people to be told."""
    found = figures_of(quiz)
    return found if found and found.people >= FEWEST else None


@club_page(Ability.READ_EVIDENCE)
def evidence_quiz(request: HttpRequest, quiz: int) -> HttpResponse:
    """Four figures, the plot of its items beside their table, the distribution of marks."""
    found, figures = _quiz(request, quiz)
    context: dict[str, Any] = {"quiz": found, "figures": figures, "fewest": FEWEST}
    if figures is not None:
        lines = _item_lines(found, figures)
        line = pass_line(found)
        cut = line.at
        spots = [(str(line["number"]), line["figures"]) for line in lines if line["figures"]]
        context |= {
            "lines": lines,
            "plots": [("wide", item_plot(spots, WIDE, 15)), ("narrow", item_plot(spots, NARROW, 12))],
            "undrawn": [line for line in lines if line["figures"] and line["figures"].discrimination is None],
            "marks": [
                (name, marks_plot(figures.marks, figures.mean, frame, cut, figures.sem))
                for name, frame in (("wide", WIDE_MARKS), ("narrow", NARROW_MARKS))
            ],
            "bands": [(10 * band, 10 * band + 10, n) for band, n in enumerate(band_counts(figures.marks))],
            "behind": lags_behind(found),
            "pass_line": line,
            "study": line.study,
            "borderline": borderline(figures, cut) if cut is not None else None,
        }
    return render(request, "assessments/evidence/quiz.html", context)


@club_page(Ability.READ_EVIDENCE)
def evidence_quiz_csv(request: HttpRequest, quiz: int) -> HttpResponse:
    """The items of a quiz as a file; heads alone while too few people have finished it."""
    found, figures = _quiz(request, quiz)
    return csv_answer(f"items-of-quiz-{quiz}", *items_table(_item_lines(found, figures) if figures else []))


@club_page(Ability.READ_EVIDENCE)
def evidence_quiz_marks_csv(request: HttpRequest, quiz: int) -> HttpResponse:
    """The distribution of marks as a file."""
    _found, figures = _quiz(request, quiz)
    none = PaperFigures(0, None, None, None, None, (), ())
    return csv_answer(f"marks-of-quiz-{quiz}", *marks_table(figures or none))


@club_page(Ability.READ_EVIDENCE)
def evidence_quiz_report(request: HttpRequest, quiz: int) -> HttpResponse:
    """The page on paper; where no figures are told, the page itself says why."""
    found, figures = _quiz(request, quiz)
    if figures is None:
        return redirect("evidence-quiz", request.club.slug, quiz)
    lines, line = _item_lines(found, figures), pass_line(found)
    evidence = QuizEvidence(found, figures, lines, line, Within(quiz=found))
    return pdf_answer(f"report-of-quiz-{quiz}", TEMPLATE, quiz_report(request.club, evidence))


def _quiz(request: HttpRequest, pk: int) -> tuple[Quiz, PaperFigures | None]:
    found = get_object_or_404(quizzes_with_answers(request.club), pk=pk)
    bring_up_to_date(quizzes=[found])
    return found, _told(found)


def _item_lines(quiz: Quiz, figures: PaperFigures) -> list[dict[str, Any]]:
    by_item = {each.item: each for each in figures.items}
    lines = []
    for number, row in enumerate(items_in_quiz(quiz), start=1):
        entries = row.item.in_use[0].entries.all() if row.item.in_use else []
        found = by_item.get(row.item_id)
        told = found if found and found.presented >= FEWEST else None
        kind = kind_of(row.item)
        words = faults_in_words(entries) if kind.pinned else kind.named(row.item)
        lines.append({"number": number, "item": row.item, "faults": words, "figures": told})
    return lines


@club_page(Ability.READ_EVIDENCE)
def evidence_item(request: HttpRequest, quiz: int, item: int) -> HttpResponse:
    """All pins on the exhibit, and what the room saw, named and weighed."""
    row, room = _room(request, quiz, item)
    figures = _told(row.quiz)
    kind = kind_of(row.item)
    context = {
        "row": row,
        "room": room if kind.pinned else None,
        "said": kind.said_in_room(details_in_room(row)) if room and not kind.pinned else None,
        "pinned": kind.pinned,
        "regions": [{"letter": letter(i), "regions": each.regions} for i, each in enumerate(row.entries)],
        "figures": next((each for each in figures.items if each.item == item), None) if figures else None,
        "upheld": upheld_queries(request.club).filter(answer__item=item) if row.upheld else [],
        "fewest": FEWEST,
        "reviews": may(request.membership, Ability.REVIEW),
    }
    return render(request, "assessments/evidence/item.html", context)


@club_page(Ability.READ_EVIDENCE)
def evidence_item_csv(request: HttpRequest, quiz: int, item: int) -> HttpResponse:
    """What the room saw as a file; heads alone while too few people have answered."""
    row, room = _room(request, quiz, item)
    none = Room(0, 0, [], [], [])
    return csv_answer(f"item-{row.number}-of-quiz-{quiz}", *room_table(room or none, row.ladder["labels"]))


def _room(request: HttpRequest, quiz: int, item: int) -> tuple[QuizItem, Room | None]:
    row = get_object_or_404(item_of_club(request.club), quiz__pk=quiz, item__pk=item)
    row.entries = entries_in_use(row.item)
    if (row.people or 0) < FEWEST:
        return row, None
    room = room_of(row.people, row.entries, row.ladder["labels"], results_of(row), alarms_of(row))
    return row, room


@club_page(Ability.READ_EVIDENCE)
def evidence_answers(request: HttpRequest) -> HttpResponse:
    """The answers behind a figure: those that the reader may see as their trainees' mentor."""
    form = BehindForm(request.GET, club=request.club)
    if not form.is_valid():
        raise Http404
    answers = answers_behind(reviewable_by(request.membership), **form.cleaned_data)
    page = Paginator(answers.order_by("-handed_in_at", "-pk"), PAGE_LENGTH).get_page(request.GET.get("page"))
    context = {"page": page, "lines": [line_of(answer) for answer in page], **form.cleaned_data}
    return render(request, "assessments/evidence/answers.html", context)


@club_page(Ability.READ_EVIDENCE)
def evidence_method(request: HttpRequest) -> HttpResponse:
    """How each figure is worked out, in words."""
    return render(request, "assessments/evidence/method.html", {"fewest": FEWEST})
