"""The report of a quiz or paper for those who teach: the page of its evidence, on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _

from assessments.evidence import FEWEST
from assessments.evidence.paper import PaperFigures, borderline
from assessments.evidence.plots import WIDE, WIDE_MARKS, band_counts, item_plot, marks_plot
from assessments.evidence.shares import Row, rows_of, worst_first
from assessments.evidence.words import flags_in_words
from assessments.models import Quiz
from assessments.queries.cut import PassLine, rounds_of
from assessments.queries.evidence import Within, people_by_clause, tallies
from assessments.reports.drawings import drawings
from assessments.reports.words import at_time, cautions, on_day, page_words
from assessments.templatetags.evidence import decimals, in_hundredths, interval
from assessments.templatetags.ledger import per_cent, points
from courses.models import Clause
from courses.queries.severity import readings_of
from shared.accounts.models import Club
from shared.printing import Document
from shared.prose.markdown import clause_parts

TEMPLATE = "assessments/reports/quiz.typ"
CLAUSES_SHOWN = 8


@dataclass(frozen=True)
class QuizEvidence:
    """What the page of a quiz's evidence is made of; `lines` are its items in order.

    `chosen` says in words which people and days are counted, where not all are.
    """

    quiz: Quiz
    figures: PaperFigures
    lines: Sequence[dict[str, Any]]
    line: PassLine
    within: Within
    chosen: str = ""


def quiz_report(club: Club, evidence: QuizEvidence) -> Document:
    """All of it in words and figures. Its date is that of the figures: unchanged, they give the same file."""
    quiz, figures = evidence.quiz, evidence.figures
    counted_at = quiz.figures.computed_at
    clauses = _most_missed(club, evidence.within)
    return Document(
        title=_("How the items of “%(quiz)s” behave") % {"quiz": quiz.title},
        author=club.name,
        language=get_language() or "en",
        made_at=counted_at,
        foot=_("%(club)s. A result here approves nobody: who may judge is for the registry.")
        % {"club": club.name},
        pages=page_words(),
        data={
            "club": club.name,
            "under": _under(evidence),
            "counted": _counted(evidence, at_time(counted_at)),
            "figures": _figures(figures),
            "few": ""
            if figures.enough
            else _("Few yet: 30 people are asked before an item is changed for its figures."),
            "items": _items(evidence),
            "marks": _marks(evidence),
            "pass": _pass_mark(evidence),
            "clauses": _clauses(quiz, clauses),
            "cautions": cautions(),
        },
        drawings=_drawings(club, evidence),
    )


def _under(evidence: QuizEvidence) -> str:
    quiz = evidence.quiz
    kind = _("Examination paper") if quiz.purpose == Quiz.Purpose.PAPER else _("Quiz")
    return _("%(kind)s. %(edition)s. %(people)d first sittings, %(items)d items, to %(when)s.") % {
        "kind": kind,
        "edition": quiz.edition,
        "people": evidence.figures.people,
        "items": len(evidence.lines),
        "when": on_day(quiz.last_at),
    }


def _counted(evidence: QuizEvidence, when: str) -> list[str]:
    return [
        *([evidence.chosen] if evidence.chosen else []),
        _(
            "Each person counts once, with their finished first sitting, over the items that the quiz holds now."
        ),
        _("Marks are those by the rules and the key that hold now; what a mentor adjusts does not enter."),
        _("Worked out on %(when)s. Of fewer than %(n)d people nothing is told.")
        % {"when": when, "n": FEWEST},
    ]


def _figures(found: PaperFigures) -> list[tuple[str, str, str]]:
    return [
        (
            str(found.people),
            _("people"),
            _("30 or more are asked before an item is changed for its figures."),
        ),
        (
            in_hundredths(found.mean),
            _("mean mark"),
            _("of 100; far from both ends leaves room to tell people apart."),
        ),
        (in_hundredths(found.sd), _("standard deviation"), _("of people’s mean marks, in points of 100.")),
        (decimals(found.alpha), _("reliability"), _("alpha; 0.80 is asked of an examination.")),
        (
            in_hundredths(found.sem),
            _("points either way"),
            _(
                "standard error of a mark: two of three people would score within it, sitting a paper just like this."
            ),
        ),
        (
            str(found.flagged),
            ngettext("item to look at", "items to look at", found.flagged),
            _("too easy, too hard, weak, or missed by good judges; named below."),
        ),
    ]


def _items(evidence: QuizEvidence) -> dict[str, Any]:
    rows = []
    for line in evidence.lines:
        found = line["figures"]
        told = (
            [
                str(found.presented),
                per_cent(found.facility),
                decimals(found.discrimination),
                decimals(found.upper_lower),
                flags_in_words(found.flags),
            ]
            if found
            else ["", "", "", "", _("too few answers yet")]
        )
        rows.append([str(line["number"]), line["faults"], *told])
    undrawn = [
        str(line["number"])
        for line in evidence.lines
        if line["figures"] and line["figures"].discrimination is None
    ]
    return {
        "title": _("Items"),
        "heads": [
            _("Item"),
            _("Fault"),
            _("Answers"),
            _("Facility"),
            _("Discrimination"),
            _("Upper − lower"),
            _("Look at"),
        ],
        "rows": rows,
        "alt": _("Items by facility and discrimination; the table below holds the same figures."),
        "key": _(
            "Facility is the share of the marks that was won. Discrimination tells good judges from poor. "
            "Items on the hatched ground should be looked at before they are used again."
        ),
        "undrawn": _("Not drawn, since everybody got the same: %(items)s.") % {"items": ", ".join(undrawn)}
        if undrawn
        else "",
    }


def _marks(evidence: QuizEvidence) -> dict[str, Any]:
    counts = band_counts(evidence.figures.marks)
    last = len(counts) - 1
    words = [_("%(low)d to below %(high)d"), _("%(low)d to %(high)d")]
    return {
        "title": _("Distribution of marks"),
        "alt": _("People by ten points of their mean mark; the table below holds the same figures."),
        "heads": [_("Marks"), _("People")],
        "rows": [
            [words[band == last] % {"low": 10 * band, "high": 10 * band + 10}, str(n)]
            for band, n in enumerate(counts)
        ],
    }


def _pass_mark(evidence: QuizEvidence) -> dict[str, Any]:
    """Where marks are divided, and upon what that rests."""
    line, figures = evidence.line, evidence.figures
    said: list[str] = []
    if line.study is not None:
        asked, rounds = rounds_of(line.study)
        said.append(
            _("The panel’s cut of %(when)s is %(cut)s of 100, its standard error %(se)s.")
            % {
                "when": on_day(line.study.closed_at),
                "cut": in_hundredths(line.study.cut),
                "se": in_hundredths(line.study.standard_error),
            }
        )
        said.append(
            _("%(people)s, each alone, by the modified Angoff method; %(rounds)s.")
            % {
                "people": ngettext("%(n)d panellist estimated", "%(n)d panellists estimated", asked)
                % {"n": asked},
                "rounds": ngettext("%(n)d round so far", "%(n)d rounds so far", rounds) % {"n": rounds},
            }
        )
    if line.regulations is not None and (line.study is None or line.elsewhere):
        said.append(
            _("The pass mark of the regulations from %(when)s is %(mark)s of 100.")
            % {"when": on_day(line.regulations.effective_from), "mark": points(line.regulations.pass_mark)}
        )
    if line.at is None:
        said.append(_("Neither a panel nor regulations say where marks are divided."))
    else:
        near = borderline(figures, line.at)
        said.append(
            ngettext(
                "%(n)d of %(of)d marks lies within one standard error of measurement of it, in the tinted band: "
                "borderline, for a person to look at.",
                "%(n)d of %(of)d marks lie within one standard error of measurement of it, in the tinted band: "
                "borderline, for a person to look at.",
                near,
            )
            % {"n": near, "of": figures.people}
        )
    return {"title": _("The pass mark and its basis"), "said": said}


def _most_missed(club: Club, within: Within) -> list[tuple[Clause, Row]]:
    people = people_by_clause(club, within)
    rows = worst_first(rows_of(tallies(club, within), lambda tally: tally.clause, people))
    told = [row for row in rows if row.told and row.missed.enough and row.missed.n][:CLAUSES_SHOWN]
    clauses = Clause.objects.in_bulk([row.about for row in told])
    return [(clauses[row.about], row) for row in told if row.about in clauses]


def _clauses(quiz: Quiz, rows: list[tuple[Clause, Row]]) -> dict[str, Any]:
    readings = dict(readings_of(quiz.edition.breed))
    return {
        "title": _("Clauses most missed"),
        "heads": [_("Clause"), _("Missed"), _("of"), _("Share"), _("likely between")],
        "rows": [
            {
                "number": clause.number,
                "parts": clause_parts(clause.text, readings=readings),
                "cells": [
                    str(row.missed.n),
                    str(row.missed.of),
                    per_cent(row.missed.share),
                    interval(row.missed.estimate),
                ],
            }
            for clause, row in rows
        ],
        "hint": _(
            "Of all times that a fault of the clause was asked at a first sitting, with its 90 % interval."
        ),
    }


def _drawings(club: Club, evidence: QuizEvidence) -> dict[str, str]:
    figures, line = evidence.figures, evidence.line
    spots = [(str(each["number"]), each["figures"]) for each in evidence.lines if each["figures"]]
    given = {"name": "wide", "club": club, "quiz": evidence.quiz, "study": line.study}
    marks = marks_plot(figures.marks, figures.mean or 0.0, WIDE_MARKS, line.at, figures.sem)
    return {
        "items": _plot("assessments/evidence/_item_plot.html", {**given, "plot": item_plot(spots, WIDE, 15)}),
        "marks": _plot("assessments/evidence/_marks_plot.html", {**given, "plot": marks}),
    }


def _plot(template: str, context: dict[str, Any]) -> str:
    return drawings(template, context)["plot"][0]
