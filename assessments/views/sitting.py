"""A sitting: on to the next item, and what came of it at the end."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from assessments.items import kind_of
from assessments.models import Answer
from assessments.queries.answers import answers_with_marks
from assessments.queries.sittings import own_sittings, waiting_in
from assessments.results import line_of, mean_points
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.ANSWER)
def sitting(request: HttpRequest, pk: int) -> HttpResponse:
    """The first item that is still to be answered; after the last, the sitting's marks."""
    found = get_object_or_404(own_sittings(request.membership), pk=pk)
    waiting = waiting_in(found).first()
    if waiting is not None:
        return redirect("answer", request.club.slug, waiting.pk)
    answers = list(answers_with_marks().filter(sitting=found))
    context = {
        "sitting": found,
        "lines": [_line(answer) for answer in answers],
        "mean": mean_points(answers),
    }
    return render(request, "assessments/sitting/sitting.html", context)


def _line(answer: Answer) -> dict[str, object]:
    line = line_of(answer)
    return {**line, **(kind_of(answer.item).line(line["mark"]) if line["mark"] else {})}
