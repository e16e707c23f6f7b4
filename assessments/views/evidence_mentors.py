"""Evidence of those who mark: against the keys, with one another, and how they adjust marks."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from assessments.evidence import FEWEST
from assessments.evidence.agreement import KeyRow, PairRow, Together, key_rows, pair_rows, together
from assessments.evidence.agreement_plots import bias_plot, kappa_plot
from assessments.evidence.agreement_tables import key_table, pairs_table
from assessments.evidence.mentors import MentorRow, mentor_rows
from assessments.evidence.tables import mentors_table
from assessments.forms.evidence import BehindMentorForm, MentorsForm
from assessments.models import KeyPanel
from assessments.queries.evidence import Within, returned_by_mentor, standing_adjustments
from assessments.queries.mentor_agreement import (
    beside_keys,
    compared,
    judging,
    markings_behind,
    marks_behind,
    marks_given_twice,
    marks_twice,
    with_keyed,
)
from courses.queries.severity import ladder_of
from shared.accounts.models import Club
from shared.accounts.permissions import Ability, club_page
from shared.web.csv_files import csv_answer
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.READ_EVIDENCE)
def evidence_mentors(request: HttpRequest) -> HttpResponse:
    """Against the keys and with one another; how often mentors adjust marks, and by how much."""
    form = MentorsForm(request.GET, club=request.club)
    context: dict[str, Any] = {"form": form, "fewest": FEWEST}
    if form.is_valid():
        keyed, pairs, all_of_them = _agreement(request.club, form.within)
        context |= {
            "keyed": keyed,
            "plots": [kappa_plot(keyed), bias_plot(keyed)] if any(row.told for row in keyed) else [],
            "pairs": pairs,
            "together": all_of_them,
            "rows": _mentors(request.club, form.within),
        }
    return render(request, "assessments/evidence/mentors.html", context, status=422 if form.errors else 200)


@club_page(Ability.READ_EVIDENCE)
def evidence_mentors_csv(request: HttpRequest) -> HttpResponse:
    """How they adjust marks as a file."""
    return csv_answer("mentors", *mentors_table(_mentors(request.club, _within(request))))


@club_page(Ability.READ_EVIDENCE)
def evidence_mentors_keys_csv(request: HttpRequest) -> HttpResponse:
    """Their agreement with the keys as a file."""
    keyed, _pairs, _together = _agreement(request.club, _within(request))
    return csv_answer("mentors-and-keys", *key_table(keyed))


@club_page(Ability.READ_EVIDENCE)
def evidence_mentors_pairs_csv(request: HttpRequest) -> HttpResponse:
    """Their agreement with one another as a file."""
    _keyed, pairs, _together = _agreement(request.club, _within(request))
    return csv_answer("mentors-together", *pairs_table(pairs))


def _within(request: HttpRequest) -> Within:
    form = MentorsForm(request.GET, club=request.club)
    if not form.is_valid():
        raise Http404
    return form.within


def _agreement(club: Club, within: Within) -> tuple[list[KeyRow], list[PairRow], Together]:
    labels = ladder_of(club).labels
    found = compared(club, within, labels)
    marks, gave = marks_twice(club, within)
    names = gave | found.names
    return (
        key_rows(names, found.markings, len(labels)),
        pair_rows(names, found.panels, marks, levels=len(labels)),
        together(names, found.panels),
    )


def _mentors(club: Club, within: Within) -> list[MentorRow]:
    return mentor_rows(returned_by_mentor(club, within), standing_adjustments(club, within))


@club_page(Ability.READ_EVIDENCE)
def evidence_mentor(request: HttpRequest, member: int) -> HttpResponse:
    """What lies behind somebody's figures: panels on which they marked, marks given twice; in numbers alone.

    The markings themselves are read on the panels' own pages, which keep a record of who looked.
    """
    found = get_object_or_404(judging(request.club), pk=member)
    form = BehindMentorForm(request.GET, club=request.club)
    if not form.is_valid():
        raise Http404
    other = form.cleaned_data["beside"]
    seats = markings_behind(request.club, form.within, found, other)
    page = Paginator(seats, PAGE_LENGTH).get_page(request.GET.get("page"))
    asked = with_keyed(KeyPanel.objects.filter(pk__in=[seat.panel_id for seat in page])).defer("result")
    marks = marks_behind(marks_given_twice(request.club, form.within), found, other)
    context = {
        "member": found,
        "other": other,
        "page": page,
        "lines": beside_keys(list(page), asked.in_bulk()),
        "marks": marks.exclude(answer__sitting__trainee=request.membership)[:PAGE_LENGTH],
    }
    return render(request, "assessments/evidence/mentor.html", context)
