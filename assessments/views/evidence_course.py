"""Evidence for educators that goes beyond one quiz: clauses and zones, the mix of exhibits."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext_lazy as _

from assessments.evidence import FEWEST
from assessments.evidence.mix import Mix, Shown, mix_of
from assessments.evidence.shares import SORTS, Row, rows_of, worst_first
from assessments.evidence.tables import mix_table, shares_table
from assessments.forms.evidence import MixForm, WithinForm
from assessments.queries.evidence import (
    called_most,
    clauses_with_plates,
    keys_of,
    people_by_clause,
    plate_exhibits_of,
    quizzes_with_answers,
    tallies,
)
from courses.models.choices import Zone
from courses.queries.severity import ladder_of
from shared.accounts.permissions import Ability, club_page, may
from shared.web.csv_files import csv_answer
from shared.web.limits import PAGE_LENGTH

ALARMS_SHOWN = 15
SORT_WORDS = [("missed", _("Missed")), ("misnamed", _("Misnamed")), ("misweighed", _("Misweighed"))]


@club_page(Ability.READ_EVIDENCE)
def evidence_clauses(request: HttpRequest) -> HttpResponse:
    """Clauses and zones by how often they are missed, misnamed and misweighed, the worst first."""
    form = WithinForm(request.GET, club=request.club)
    context: dict[str, Any] = {"form": form, "fewest": FEWEST}
    if form.is_valid():
        clauses, zones = _shares(request, form)
        page = Paginator(clauses, PAGE_LENGTH).get_page(request.GET.get("page"))
        context |= {
            "told": any(row.told for row in clauses),
            "page": page,
            "rows": _with_clauses(request, page),
            "zones": zones,
            "alarms": _alarms(request, form),
            "sort": _sort(request),
            "sort_words": SORT_WORDS,
            "reviews": may(request.membership, Ability.REVIEW),
        }
    return render(request, "assessments/evidence/clauses.html", context, status=422 if form.errors else 200)


@club_page(Ability.READ_EVIDENCE)
def evidence_clauses_csv(request: HttpRequest) -> HttpResponse:
    """The clauses as a file."""
    clauses, _rows = _shares(request, _valid(request))
    rows = _with_clauses(request, clauses)
    return csv_answer(
        "clauses",
        *shares_table(rows, ["clause", "wording"], lambda row: [row.about.number, row.about.text]),
    )


@club_page(Ability.READ_EVIDENCE)
def evidence_zones_csv(request: HttpRequest) -> HttpResponse:
    """The zones as a file."""
    _rows, zones = _shares(request, _valid(request))
    return csv_answer("zones", *shares_table(zones, ["zone"], lambda row: [row.about]))


@club_page(Ability.READ_EVIDENCE)
def evidence_alarms_csv(request: HttpRequest) -> HttpResponse:
    """What is called where there is nothing, as a file."""
    rows = _alarms(request, _valid(request))
    return csv_answer("called-in-vain", ["fault", "zone", "times", "people"], rows)


def _valid(request: HttpRequest) -> WithinForm:
    form = WithinForm(request.GET, club=request.club)
    if not form.is_valid():
        raise Http404
    return form


def _zone(zone: str) -> str:
    return str(Zone(zone).label) if zone else ""


def _sort(request: HttpRequest) -> str:
    asked = request.GET.get("sort", "")
    return asked if asked in SORTS else "missed"


def _shares(request: HttpRequest, form: WithinForm) -> tuple[list[Row], list[Row]]:
    """Rows of clauses, by their ids, and of zones, by their words, the worst first."""
    counted = tallies(request.club, form.within)
    people = people_by_clause(request.club, form.within)
    by_zone: dict[str, int] = {}
    for tally in counted:
        by_zone[tally.zone] = max(by_zone.get(tally.zone, 0), people[tally.clause])
    clauses = rows_of(counted, lambda tally: tally.clause, people)
    zones = rows_of(counted, lambda tally: tally.zone, by_zone)
    named = [replace(row, about=_zone(row.about)) for row in zones]
    return worst_first(clauses, _sort(request)), worst_first(named, _sort(request))


def _with_clauses(request: HttpRequest, rows: Any) -> list[Row]:
    found = clauses_with_plates(request.club, [row.about for row in rows])
    return [replace(row, about=found[row.about]) for row in rows if row.about in found]


def _alarms(request: HttpRequest, form: WithinForm) -> list[tuple[str, str, int, int]]:
    """Those that enough people called."""
    found = called_most(request.club, form.within, ALARMS_SHOWN)
    return [(fault, _zone(zone), n, people) for fault, zone, n, people in found if people >= FEWEST]


@club_page(Ability.READ_EVIDENCE)
def evidence_mix(request: HttpRequest) -> HttpResponse:
    """How many exhibits are sound, and which faults the others show at which severity."""
    form = MixForm(request.GET, club=request.club)
    labels = ladder_of(request.club).labels
    context: dict[str, Any] = {"form": form, "labels": labels}
    if form.is_valid():
        context["mix"] = _mix(request, form, len(labels))
    return render(request, "assessments/evidence/mix.html", context, status=422 if form.errors else 200)


@club_page(Ability.READ_EVIDENCE)
def evidence_mix_csv(request: HttpRequest) -> HttpResponse:
    """The same as a file."""
    form = MixForm(request.GET, club=request.club)
    if not form.is_valid():
        raise Http404
    labels = ladder_of(request.club).labels
    return csv_answer("mix", *mix_table(_mix(request, form, len(labels)), labels))


def _mix(request: HttpRequest, form: MixForm, levels: int) -> Mix:
    """Keys say more surely than plates what an exhibit shows."""
    keys = keys_of(form.quizzes(quizzes_with_answers(request.club)))
    course = form.cleaned_data["course"]
    plates = plate_exhibits_of(course) if course else {}
    sound: dict[int, bool | None] = {}
    shown = []
    for exhibit in plates.values():
        sound[exhibit.pk] = {"correct": True, "incorrect": False}.get(exhibit.verdict)
        if exhibit.pk not in keys:
            shown += [
                Shown(exhibit.pk, each.fault.name, _zone(each.fault.zone), each.level)
                for each in exhibit.shown_faults.all()
            ]
    for exhibit, key in keys.items():
        sound[exhibit] = key.sound
        shown += [Shown(exhibit, each.fault.name, _zone(each.zone), each.level) for each in key.entries.all()]
    return mix_of(sound, shown, levels)
