"""What the pages of a sitting have in common, whoever enters the answers."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.paper_sittings import TimeOver, keep_late, save_paper_answer
from assessments.actions.sittings import Overtaken
from assessments.items import AnswerRefused, kind_of
from assessments.models import Answer
from assessments.queries.items import is_withheld, withheld_in
from assessments.views.paper_seat import Seat
from assessments.views.saving import NOT_KEPT, answer_overtaken, kept, not_kept, sent_in


def give_item(request: HttpRequest, seat: Seat, place: int) -> HttpResponse:
    """The item at a place of the paper, counted from 1."""
    if seat.finished:
        return redirect(seat.url(""))
    found = get_object_or_404(seat.answers, position=place - 1)
    kind = kind_of(found.item)
    count = found.sitting.answers.count()
    context = {
        "answer": found,
        "count": count,
        "candidate": seat.candidate,
        "paper": seat.candidate.paper,
        "front": seat.url(""),
        "overview": seat.url("overview"),
        "earlier": seat.url("item", place - 1) if place > 1 else "",
        "later": seat.url("item", place + 1) if place < count else "",
        **clock(seat),
    }
    if is_withheld(found.item, timezone.localdate()):
        return render(request, "assessments/paper/passed_over.html", context)
    context |= {
        "kind": kind,
        "ask": kind.ask(found, found.sitting.quiz.rules_versions.first()),
        "words": kind.words(),
        "sheet": seat.sheet(found),
    }
    return render(request, f"assessments/items/{kind.templates}/answer.html", context)


def clock(seat: Seat) -> dict[str, object]:
    """What shows the time that is left; nothing where no clock runs."""
    left = seat.left(timezone.now())
    return {
        "left": left,
        "minutes_left": None if left is None else -(-left // 60),
        "ends_at": seat.sitting.ends_at,
        "clock": seat.url("clock") if left is not None else "",
        "clock_words": {
            "minutes": _("{n} minutes left"),
            "minute": _("1 minute left"),
            "over": _("The time is over. What was saved is handed in."),
            "lost": _(
                "The time is over, and there is no connection. What is on this device is sent when it returns; "
                "what comes too late does not count, but is kept for the club to see."
            ),
        },
    }


def give_overview(request: HttpRequest, seat: Seat) -> HttpResponse:
    """Every item with whether it is answered, and the way to hand in."""
    if seat.finished:
        return redirect(seat.url(""))
    withheld = withheld_in(seat.sitting.sitting, timezone.localdate())
    rows = [
        {
            "place": answer.position + 1,
            "url": seat.url("item", answer.position + 1),
            "asked": kind_of(answer.item).label,
            "passed_over": answer.item_id in withheld,
            "answered": not kind_of(answer.item).is_blank(answer.content),
        }
        for answer in seat.answers
    ]
    context = {
        "candidate": seat.candidate,
        "paper": seat.candidate.paper,
        "rows": rows,
        "blank": [row for row in rows if not row["answered"] and not row["passed_over"]],
        "front": seat.url(""),
        "hand_in": seat.url("hand-in"),
        "typing": seat.steward is not None,
        **clock(seat),
    }
    return render(request, "assessments/paper/overview.html", context)


def keep(request: HttpRequest, seat: Seat, place: int) -> JsonResponse:
    """Keep what the page sends.

    409 returns what another page saved, 422 says what is wrong with it or that it came too late.
    """
    found = get_object_or_404(seat.answers.prefetch_related(None), position=place - 1)
    try:
        sent = sent_in(request)
        saved = save_paper_answer(
            answer=found, sent=sent.content, seen=sent.seen, identity=sent.identity, steward=seat.steward
        )
    except TimeOver as over:
        return _late(found, sent.content, over)
    except NOT_KEPT as error:
        return not_kept(error, _("The answer could not be read."), closed=422)
    except Overtaken as error:
        return answer_overtaken(error)
    return kept(saved)


def _late(answer: Answer, content: object, over: TimeOver) -> JsonResponse:
    try:
        keep_late(answer=answer, sent=content)
    except AnswerRefused as refused:
        return JsonResponse({"error": str(refused)}, status=422)
    return JsonResponse({"error": str(over)}, status=422)
