"""What courses do once a day."""

from __future__ import annotations

import zoneinfo

from django.utils import timezone

from courses.actions.reminders import remind_of_endings
from shared.accounts.models import Club
from shared.web.daily import every_day


@every_day
def remind_of_permissions() -> str:
    """Tell educators and secretaries of permissions that end soon, each once."""
    told = 0
    for club in Club.objects.order_by("pk").iterator():
        today = timezone.localdate(timezone=zoneinfo.ZoneInfo(club.time_zone))
        told += remind_of_endings(club=club, on=today)
    return f"Permissions that end soon, newly told of: {told}."
