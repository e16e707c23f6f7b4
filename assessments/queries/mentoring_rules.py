"""How a club mentors, on a day."""

from __future__ import annotations

import datetime

from django.db.models import QuerySet
from django.utils import timezone

from assessments.models import MentoringRules
from shared.accounts.models import Club


def mentoring_rules(club: Club, on: datetime.date | None = None) -> MentoringRules:
    """The rules in force on a day, today if none is given; the usual ones until a club sets its own."""
    day = on or timezone.localdate()
    kept = MentoringRules.objects.filter(club=club, effective_from__lte=day).first()
    return kept or MentoringRules(club=club, effective_from=day)


def rules_past_and_to_come(club: Club) -> QuerySet[MentoringRules]:
    """All that were set, the newest first."""
    return MentoringRules.objects.filter(club=club).select_related("made_by__person")
