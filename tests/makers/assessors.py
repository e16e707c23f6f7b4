"""Second markings of an answer, and panels of assessors on a sitting."""

from __future__ import annotations

from django.utils import timezone

from assessments.actions.panels import Reason, decide, tell_trainee
from assessments.models import Answer, AssessorPanel, SecondMarking, Sitting
from shared.accounts.models import Membership


def make_second_marking(answer: Answer, second: Membership, by: Membership) -> SecondMarking:
    """Asked for, neither mark given."""
    return SecondMarking.objects.create(answer=answer, second=second, asked_by=by, why="Near the mark.")


def make_panel(sitting: Sitting, assessor: Membership, by: Membership, of: int = 1) -> AssessorPanel:
    """Asked about a finished sitting, with one seat taken."""
    Sitting.objects.filter(pk=sitting.pk, finished_at=None).update(finished_at=timezone.now())
    made = AssessorPanel.objects.create(sitting=sitting, asked_by=by, of=of, needed=of)
    made.seats.create(assessor=assessor)
    return made


def make_told(panel: AssessorPanel, by: Membership) -> AssessorPanel:
    """A panel whose one assessor said pass, and whose trainee was told."""
    reasons = [Reason("Seen at once.", answer=panel.sitting.answers.first())]
    decide(seat=panel.seats.get(), passes=True, reasons=reasons)
    return tell_trainee(panel=panel, words=reasons, by=by)
