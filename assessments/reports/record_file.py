"""A trainee's own record as data, in a shape of our own:

    {"shape": "standpoint-record", "version": 1, "exported_at", "club", "person", "cautions": […],
     "eye": {"answers", "zones": […], "faulting", "weighing", "agreement"},
     "papers": […], "panels": […], "mentoring": {"sessions": […], "sign_offs": […]},
     "sittings": [{"quiz", "edition", "number", "begun_at", "finished_at", "mean", "answers": […]}, …]}

Times are ISO 8601 in the club's time zone, marks points of 100, spots units of the picture's longer side from its
upper left corner, shares fractions of 1; null says that it is not known or not told. The page "Your record as a
file" says what each part means. Whoever changes what a part means gives the shape a new version.

It holds what the trainee's own pages show and nothing else: papers only once their results are released and
without items, marks of practice line by line, but no key's regions, no assessor's decision, no second marker.
"""

from __future__ import annotations

import datetime
import json
import zoneinfo
from collections.abc import Iterator
from typing import Any

from django.utils import timezone, translation

from assessments.eye import Eye, ZoneRow, eye_of
from assessments.models import Answer, AssessorPanel, Candidate, SessionTrainee, SignOff, Sitting
from assessments.queries.marks import marks_for_figures
from assessments.queries.mentoring import all_sessions_of, all_sign_offs_of
from assessments.queries.own_record import released_papers, sittings_in_batches
from assessments.queries.panels import told_panels
from assessments.reports.said import Names, names_in, said
from assessments.reports.words import cautions
from assessments.results import mean_points, result_of
from assessments.statistics.progress import Estimate
from shared.accounts.models import Membership

SHAPE, VERSION = "standpoint-record", 1


def record_file(trainee: Membership, *, now: datetime.datetime, own_words: bool = True) -> Iterator[str]:
    """The file piece by piece, a batch of sittings at a time, however many answers there are.

    `own_words` are those on sessions and mentors, which only the trainee and the club's educators read.
    """
    zone, language = zoneinfo.ZoneInfo(trainee.club.time_zone), translation.get_language() or "en"
    with timezone.override(zone), translation.override(language):
        head = json.dumps(_head(trainee, now, own_words), ensure_ascii=False, indent=1)
    yield head.removesuffix("\n}") + ',\n "sittings": ['
    lead = "\n"
    for batch in sittings_in_batches(trainee):
        with timezone.override(zone), translation.override(language):
            rows = [json.dumps(each, ensure_ascii=False) for each in _sittings(batch)]
        for row in rows:
            yield f"{lead}  {row}"
            lead = ",\n"
    yield "\n ]\n}\n"


def _head(trainee: Membership, now: datetime.datetime, own_words: bool) -> dict[str, Any]:
    return {
        "shape": SHAPE,
        "version": VERSION,
        "exported_at": _time(now),
        "club": trainee.club.name,
        "person": trainee.person.name,
        "cautions": cautions(),
        "eye": _eye(eye_of(marks_for_figures(trainee))),
        "papers": [_paper(each) for each in released_papers(trainee)],
        "panels": [_panel(each) for each in told_panels(trainee)],
        "mentoring": {
            "sessions": [_session(each, own_words) for each in all_sessions_of(trainee)],
            "sign_offs": [_sign_off(each) for each in all_sign_offs_of(trainee)],
        },
    }


def _eye(eye: Eye) -> dict[str, Any]:
    found, bias, kappa = eye.detection, eye.bias, eye.kappa
    low, high = found.criterion_interval if found else (None, None)
    return {
        "answers": eye.answers,
        "zones": [_zone(row) for row in eye.rows],
        "faulting": {"criterion": found.criterion, "low": low, "high": high, "d_prime": found.d_prime}
        if found and found.enough
        else None,
        "weighing": {"levels": bias.mean, "low": bias.low, "high": bias.high}
        if bias and bias.enough
        else None,
        "agreement": {"weighted_kappa": kappa.value, "standard_error": kappa.standard_error}
        if kappa and kappa.enough
        else None,
        "faults_weighed": len(eye.pairs),
    }


def _zone(row: ZoneRow) -> dict[str, Any]:
    return {
        "zone": row.label,
        "see": _share(row.see),
        "name": _share(row.name),
        "weigh": _share(row.weigh),
        "asked": row.asked,
    }


def _share(found: Estimate) -> dict[str, float] | None:
    return {"share": found.mean, "low": found.low, "high": found.high} if found.enough else None


def _paper(candidate: Candidate) -> dict[str, Any]:
    sitting, regulations = candidate.sitting, candidate.sitting.regulations
    result = sitting.released[0]
    told = {"mark": round(result.percent, 1), "pass_mark": float(regulations.pass_mark)}
    return {
        "title": candidate.paper.quiz.title,
        "edition": str(candidate.paper.quiz.edition),
        "candidate": candidate.number,
        "sat_at": _time(sitting.sitting.begun_at),
        "result": result.decision,
        **(told if regulations.discloses_mark else {"mark": None, "pass_mark": None}),
        "released_at": _time(result.released_at),
        "regulations_from": regulations.effective_from.isoformat(),
    }


def _panel(panel: AssessorPanel) -> dict[str, Any]:
    return {
        "quiz": panel.sitting.quiz.title,
        "sitting": panel.sitting.number,
        "passed": panel.passed,
        "assessors": panel.of,
        "needed": panel.needed,
        "told_at": _time(panel.told_at),
        "words": [
            {
                "text": word.text,
                "clause": word.clause.number if word.clause else None,
                "item": word.answer.position + 1 if word.answer else None,
            }
            for word in panel.words.all()
        ],
    }


def _session(row: SessionTrainee, own_words: bool) -> dict[str, Any]:
    session = row.session
    own = {"on_session": row.own_session, "on_mentor": row.own_mentor, "at": _time(row.own_at)}
    struck = {"at": _time(session.struck_at), "reason": session.struck_reason}
    return {
        "subject": session.subject,
        "mentor": session.mentor.person.name,
        "planned_for": session.planned_for and session.planned_for.isoformat(),
        "held_on": session.held_on and session.held_on.isoformat(),
        "minutes": session.minutes,
        "trainees": row.company,
        "group": session.group,
        "ending": row.ending or None,
        "reason": row.reason,
        "struck_out": struck if session.struck_at else None,
        "own_word": own if own_words and row.own_at else None,
    }


def _sign_off(row: SignOff) -> dict[str, Any]:
    taken_back = row.taken_back_at and {
        "at": _time(row.taken_back_at),
        "by": row.taken_back_by.person.name,
        "reason": row.taken_back_reason,
    }
    return {
        "module": row.module.title if row.module else None,
        "course": row.module.course.title if row.module else None,
        "quiz": row.quiz.title if row.quiz else None,
        "mentor": row.mentor.person.name,
        "on": row.on.isoformat(),
        "words": row.words,
        "taken_back": taken_back,
    }


def _sittings(batch: list[Sitting]) -> Iterator[dict[str, Any]]:
    names = names_in(answer for sitting in batch for answer in sitting.handed_in)
    for sitting in batch:
        mean = mean_points(sitting.handed_in)
        yield {
            "quiz": sitting.quiz.title,
            "edition": str(sitting.quiz.edition),
            "number": sitting.number,
            "begun_at": _time(sitting.begun_at),
            "finished_at": _time(sitting.finished_at),
            "mean": None if mean is None else float(mean),
            "answers": [_answer(answer, names) for answer in sitting.handed_in],
        }


def _answer(answer: Answer, names: Names) -> dict[str, Any]:
    mark = next(iter(answer.current_marks), None)
    labels = mark.rules.ladder["labels"] if mark else []
    query = getattr(answer, "query", None)
    return {
        "item": answer.position + 1,
        "kind": answer.item.kind,
        "exhibit": answer.item.exhibit.number if answer.item.exhibit else None,
        "handed_in_at": _time(answer.handed_in_at),
        "passed_over_at": _time(answer.passed_over_at),
        "said": said(answer, names, labels) if answer.handed_in_at else None,
        "mark": _mark(answer) if mark else None,
        "comments": [
            {
                "by": comment.author.person.name,
                "at": _time(comment.made_at),
                "x": comment.x,
                "y": comment.y,
                "text": comment.text,
            }
            for comment in answer.standing_comments
        ],
        "query": query
        and {
            "text": query.text,
            "asked_at": _time(query.asked_at),
            "settled_at": _time(query.settled_at),
            "upheld": query.upheld,
            "reply": query.reply,
        },
    }


def _mark(answer: Answer) -> dict[str, Any]:
    result = result_of(answer)
    mark, adjustment = result.mark, result.adjustment
    return {
        "points": float(result.standing),
        "by_the_rules": float(result.points),
        "see": mark.seeing,
        "name": mark.naming,
        "weigh": mark.weighing,
        "lines": [
            {
                "about": group.title if result.pinned else None,
                "pin": group.pin,
                "text": row.text,
                "of": None if row.of is None else float(row.of),
                "points": float(row.points),
            }
            for group in result.groups
            for row in group.rows
        ],
        # What a mentor gave a critique: the levels reached, and words to each part and to the whole.
        "rubric": mark.detail.get("given"),
        "marked_at": _time(mark.marked_at),
        "key_version": mark.key.version,
        "rules_version": mark.rules.version,
        "adjustment": adjustment
        and {
            # What settled a second marking is the club's, no one person's.
            "by": None if adjustment.second_id else adjustment.made_by.person.name,
            "what": adjustment.what,
            "points": float(adjustment.points),
            "reason": adjustment.reason,
        },
    }


def _time(when: datetime.datetime | None) -> str | None:
    return timezone.localtime(when).isoformat(timespec="seconds") if when else None
