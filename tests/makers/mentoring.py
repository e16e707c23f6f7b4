"""Mentors and their trainees: sessions held and quizzes signed off."""

from __future__ import annotations

import datetime
from typing import Any

from django.utils import timezone

from assessments.models import MentoringSession, Mentorship, Quiz, SignOff
from shared.accounts.models import Membership


def make_mentorship(mentor: Membership, trainee: Membership) -> Mentorship:
    return Mentorship.objects.create(mentor=mentor, trainee=trainee)


def make_session(mentor: Membership, *trainees: Membership, **fields: Any) -> MentoringSession:
    """Held yesterday for 50 minutes and ended ready, unless said otherwise; `held_on=None` is planned."""
    day = timezone.localdate() - datetime.timedelta(days=1)
    end = {"ending": fields.pop("ending", "ready"), "reason": fields.pop("reason", "Saw it unprompted.")}
    given = {"subject": "Lay of shoulder", "planned_for": day, "held_on": day} | fields
    held = given["held_on"] is not None
    made = MentoringSession.objects.create(mentor=mentor, minutes=50 if held else None, **given)
    for trainee in trainees:
        made.trainees.create(trainee=trainee, **(end if held else {}))
    return made


def make_sign_off(trainee: Membership, mentor: Membership, quiz: Quiz) -> SignOff:
    """Of a quiz, today."""
    on = timezone.localdate()
    return SignOff.objects.create(trainee=trainee, mentor=mentor, quiz=quiz, on=on, words="Seen it all.")
