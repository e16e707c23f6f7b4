"""The club's severity ladder."""

from __future__ import annotations

import datetime

from django.utils import timezone

from courses.models import SeverityScale
from shared.accounts.models import Club


def ladder_of(club: Club, on: datetime.date | None = None) -> SeverityScale:
    """The ladder in force on a day, today if none is given; the usual four levels until a club sets its own."""
    day = on or timezone.localdate()
    kept = SeverityScale.objects.filter(club=club, effective_from__lte=day).first()
    return kept or SeverityScale(
        club=club,
        labels=["Minor", "Moderate", "Serious", "Disqualifying"],
        weights=[1, 2, 4, 8],
        disqualifying=True,
        effective_from=day,
    )
