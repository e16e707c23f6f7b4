"""A trainee's own record to take along, as data and on paper; what each part of the file means."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone

from assessments.queries.own_record import former_trainees
from assessments.reports.record import TEMPLATE, record_on_paper
from assessments.reports.record_file import record_file
from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, club_page
from shared.web.pdf_files import pdf_answer


@club_page(Ability.READ_OWN_RECORD)
def record_json(request: HttpRequest) -> HttpResponse:
    """All of it, piece by piece."""
    return _file(request.membership, own_words=True)


@club_page(Ability.READ_OWN_RECORD)
def record_pdf(request: HttpRequest) -> HttpResponse:
    """The figures of the eye, sittings, papers, sessions and sign-offs."""
    document = record_on_paper(request.membership, now=timezone.now())
    return pdf_answer("record", TEMPLATE, document)


@club_page(Ability.READ_OWN_RECORD)
def record_shape(request: HttpRequest) -> HttpResponse:
    """What each part of the file means."""
    return render(request, "assessments/record/shape.html", {})


@club_page(Ability.MANAGE_MEMBERS)
def member_record_json(request: HttpRequest, member: int) -> HttpResponse:
    """The record of somebody who has left the club, for the secretary to hand over.

    Their own words on sessions and mentors were said to the club's educators alone and are not in it.
    """
    return _file(get_object_or_404(former_trainees(request.membership), pk=member), own_words=False)


def _file(trainee: Membership, *, own_words: bool) -> StreamingHttpResponse:
    pieces = record_file(trainee, now=timezone.now(), own_words=own_words)
    response = StreamingHttpResponse(pieces, content_type="application/json")
    response.headers["Content-Disposition"] = 'attachment; filename="record.json"'
    return response
