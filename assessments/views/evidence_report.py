"""A quiz's evidence on paper."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from assessments.queries.cut import pass_line
from assessments.queries.evidence import Within
from assessments.reports.quiz import TEMPLATE, QuizEvidence, quiz_report
from assessments.views.evidence import _item_lines, _quiz
from shared.accounts.permissions import Ability, club_page
from shared.web.pdf_files import pdf_answer


@club_page(Ability.READ_EVIDENCE)
def evidence_quiz_report(request: HttpRequest, quiz: int) -> HttpResponse:
    """The same figures as a PDF; the page itself says why while there are none to be told."""
    found, figures = _quiz(request, quiz)
    if figures is None:
        return redirect("evidence-quiz", request.club.slug, quiz)
    evidence = QuizEvidence(found, figures, _item_lines(found, figures), pass_line(found), Within(quiz=found))
    return pdf_answer(f"report-of-quiz-{quiz}", TEMPLATE, quiz_report(request.club, evidence))
