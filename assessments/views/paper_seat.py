"""One sitting of a paper and the addresses of its pages: a candidate's own, or one that a steward types in."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from django.db.models import QuerySet
from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404
from django.urls import reverse

from assessments.actions.paper_sittings import hand_in_if_over
from assessments.models import Answer, Candidate, PaperSitting
from assessments.queries.papers import answers_of_paper, candidatures_of
from assessments.views.candidates import candidate_or_404
from assessments.views.sheet import Sheet
from shared.accounts.models import Membership


@dataclass(frozen=True)
class Seat:
    """Where someone sits: whose answers, who enters them, and how its pages are called."""

    sitting: PaperSitting
    steward: Membership | None
    names: str
    fixed: tuple[object, ...]

    @property
    def candidate(self) -> Candidate:
        """Known by a number."""
        return self.sitting.candidate

    @property
    def finished(self) -> bool:
        """Whether all is handed in."""
        return self.sitting.sitting.finished_at is not None

    @property
    def answers(self) -> QuerySet[Answer]:
        """In the candidate's order."""
        return answers_of_paper(self.sitting)

    def url(self, name: str, *more: object) -> str:
        """The address of one of its pages: "" for the first, "item", "save", "overview", "hand-in", "clock"."""
        return reverse(f"{self.names}-{name}" if name else self.names, args=[*self.fixed, *more])

    def sheet(self, answer: Answer) -> Sheet:
        """What surrounds an item of it."""
        return Sheet(
            save=self.url("save", answer.position + 1),
            crumbs="assessments/paper/sheet/_crumbs.html",
            side="assessments/paper/sheet/_side.html",
            foot="assessments/paper/sheet/_foot.html",
        )

    def left(self, now: datetime.datetime) -> int | None:
        """Seconds until the end, 0 at least; None where no clock runs."""
        ends = self.sitting.ends_at
        return None if ends is None else max(0, int((ends - now).total_seconds()))


def own_candidature(request: HttpRequest, pk: int) -> Candidate:
    """The member's own candidature for a paper that is set; nobody else learns that it exists."""
    return get_object_or_404(candidatures_of(request.membership), paper__pk=pk)


def own_seat(request: HttpRequest, pk: int) -> Seat:
    """The member's own sitting, handed in first if its time is over."""
    candidate = get_object_or_404(candidatures_of(request.membership).prefetch_related(None), paper__pk=pk)
    if not hasattr(candidate, "sitting") or candidate.sitting.ends_at is None:
        raise Http404("Not begun, or written on paper.")
    hand_in_if_over(sitting=candidate.sitting)
    return Seat(candidate.sitting, None, "paper", (request.club.slug, pk))


def typed_seat(request: HttpRequest, pk: int, number: int) -> Seat:
    """A sitting whose answers were given on paper."""
    candidate = candidate_or_404(request, pk, number)
    sitting = getattr(candidate, "sitting", None)
    if sitting is None or sitting.ends_at is not None:
        raise Http404("Nothing to type in.")
    if not sitting.typed_by.filter(pk=request.membership.pk).exists():
        raise Http404("Typing in is begun on the candidates' page.")
    return Seat(sitting, request.membership, "paper-typing", (request.club.slug, pk, number))
