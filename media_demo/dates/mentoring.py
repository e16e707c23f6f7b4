"""When mentors and trainees met and signed, and when marks were given twice, by a panel or anew."""

from __future__ import annotations

import datetime as dt

from assessments.models import (
    AssessorPanel,
    MarkChange,
    MentoringRules,
    MentoringSession,
    Notice,
    SecondMarking,
    SignOff,
)
from media_demo.dates.calendar import ASKED_TWICE, DAY, FOUNDED, PANEL_ASKED, REVISED, Calendar
from media_demo.dates.rows import set_times, write_times
from media_demo.loading import Scenario


def date_mentoring(scenario: Scenario, calendar: Calendar) -> int:
    """Sessions and sign-offs are recorded on their evening; what is marked twice or by a panel, of late."""
    club = calendar.people.club
    rules = list(MentoringRules.objects.filter(club=club))
    changed = set_times(rules, [calendar.evening(FOUNDED - 5) for _ in rules], "made_at")
    for session in MentoringSession.objects.filter(mentor__club=club):
        evening = calendar.evening(0 if session.held_on is None else _days_ago(calendar, session.held_on))
        session.made_at = session.recorded_at = evening
        if session.held_on is None:
            session.made_at, session.recorded_at = calendar.evening(ASKED_TWICE), None
        changed += write_times([session], "made_at", "recorded_at")
        rows = list(session.trainees.exclude(own_at=None))
        changed += set_times(rows, [evening + DAY for _ in rows], "own_at")
    for signed in SignOff.objects.filter(trainee__club=club):
        signed.made_at = calendar.evening(_days_ago(calendar, signed.on))
        signed.taken_back_at = signed.taken_back_at and signed.made_at + 3 * DAY
        changed += write_times([signed], "made_at", "taken_back_at")
    lot = scenario.mentoring["lot"]
    for marking in SecondMarking.objects.filter(answer__sitting__trainee__club=club):
        of_lot = marking.second_words == lot["words"]
        marking.asked_at = calendar.evening(lot["days_ago"] if of_lot else ASKED_TWICE)
        marking.first_at = marking.first_at and marking.asked_at
        marking.second_at = marking.second_at and marking.asked_at + DAY
        marking.settled_at = marking.settled_at and marking.asked_at + 3 * DAY
        changed += write_times([marking], "asked_at", "first_at", "second_at", "settled_at")
    for panel in AssessorPanel.objects.filter(sitting__trainee__club=club):
        panel.asked_at = calendar.evening(PANEL_ASKED)
        panel.decided_at, panel.told_at = panel.asked_at + 4 * DAY, panel.asked_at + 6 * DAY
        changed += write_times([panel], "asked_at", "decided_at", "told_at")
    told = list(Notice.objects.filter(member__club=club, answer=None).exclude(by=None))
    changed += set_times(told, [calendar.evening(ASKED_TWICE) for _ in told], "made_at")
    return changed + _mark_changes(calendar)


def _mark_changes(calendar: Calendar) -> int:
    """The record of marks has the times of what it tells of."""
    rows = list(
        MarkChange.objects.filter(answer__sitting__trainee__club=calendar.people.club).select_related(
            "answer__review"
        )
    )
    revised, asked = calendar.evening(REVISED), calendar.evening(ASKED_TWICE)
    second = {marking.answer_id: marking for marking in SecondMarking.objects.all()}
    kind = MarkChange.Kind

    def moment(row: MarkChange) -> dt.datetime:
        if row.kind == kind.MARKED:
            return row.answer.handed_in_at
        if row.kind == kind.MARKED_ANEW:
            return max(row.answer.handed_in_at, revised)
        if row.kind in (kind.ADJUSTED, kind.TAKEN_BACK, kind.BY_HAND) and hasattr(row.answer, "review"):
            return row.answer.review.returned_at or row.answer.review.opened_at
        marking = second.get(row.answer_id)
        if marking is None:
            return asked
        later = {kind.SECOND_GIVEN: marking.second_at, kind.SETTLED: marking.settled_at}
        return later.get(row.kind) or marking.asked_at

    return set_times(rows, [moment(row) for row in rows], "at")


def _days_ago(calendar: Calendar, day: dt.date) -> int:
    return (calendar.day(0).date() - day).days
