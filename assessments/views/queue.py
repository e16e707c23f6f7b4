"""The mentor's queue: what waits, why, and in what order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.formats import date_format
from django.utils.text import Truncator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from assessments.forms.queue import QueueForm
from assessments.models import Answer
from assessments.queries.queue import (
    DISQUALIFICATION,
    NEAR,
    NEEDS,
    QUERY,
    REST,
    UNMARKED,
    Queue,
    asked_by_name,
    queue_of,
)
from assessments.rules import adjusted_points
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH

WORDS = {
    "": gettext_lazy("all"),
    QUERY: gettext_lazy("queries"),
    UNMARKED: gettext_lazy("no mark yet"),
    DISQUALIFICATION: gettext_lazy("disqualification"),
    NEAR: gettext_lazy("near the club’s mark"),
    REST: gettext_lazy("the rest"),
}


class Counted(Paginator):
    """A paginator that is told how many rows there are."""

    def __init__(self, rows: object, count: int) -> None:
        super().__init__(rows, PAGE_LENGTH)
        self.count = count


@dataclass(frozen=True)
class Row:
    """One answer of the queue: why it is there, and its mark as it stands, if it has one."""

    answer: Answer
    reasons: list[str]
    points: Decimal | None


@club_page(Ability.REVIEW)
def reviews(request: HttpRequest) -> HttpResponse:
    """Answers of the mentor's trainees that wait for a person, each with the reason."""
    form = QueueForm(request.GET, mentor=request.membership)
    wanted = form.wanted
    queue = queue_of(request.membership, wanted)
    page = Counted(queue.answers, queue.counts[wanted.need]).get_page(request.GET.get("page"))
    context = {
        "form": form,
        "queue": queue,
        "page": page,
        "rows": [Row(answer, list(reasons(answer, queue)), _points(answer)) for answer in page],
        "needs": [(need, WORDS[need], queue.counts[need]) for need in ("", *NEEDS)],
        "need": wanted.need,
        **asked_by_name(request.membership),
        "narrowed": bool(wanted.days or wanted.trainee),
    }
    return render(request, "assessments/review/queue.html", context)


def reasons(answer: Answer, queue: Queue) -> Iterator[str]:
    """Why a person should look at the answer, in words, the most urgent first."""
    if answer.asks:
        yield _("Asks you to look again: “%(text)s”") % {"text": Truncator(answer.query.text).words(14)}
    if answer.unmarked:
        yield _("Waits for your mark: no rule can give one.")
    elif answer.wrong:
        yield {
            "missed": _("A disqualifying fault was missed."),
            "not weighed": _("A disqualifying fault was weighed lower."),
            "overclaimed": _("Called disqualifying what the key does not."),
        }[answer.wrong]
    near = queue.near.get(answer.sitting_id)
    if near is not None:
        yield _("The whole quiz came to %(points).1f of 100, near the club’s mark of %(cut).1f.") % {
            "points": near.points,
            "cut": near.cut,
        }
    if answer.rank == len(NEEDS) - 1:
        yield _("Nothing stands out; nobody has returned it yet.")
    if hasattr(answer, "review"):
        yield _("%(name)s opened it on %(when)s.") % {
            "name": answer.review.mentor.person,
            "when": date_format(answer.review.opened_at, "j F"),
        }


def _points(answer: Answer) -> Decimal | None:
    return None if answer.score is None else adjusted_points(answer.score, answer.adjustment)
