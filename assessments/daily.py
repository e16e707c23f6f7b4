"""What assessments do once a day."""

from __future__ import annotations

from assessments.actions.paper_sittings import hand_in_overdue
from assessments.models import PaperSitting
from shared.web.daily import every_day


@every_day
def hand_in_papers_whose_time_is_over() -> str:
    """For candidates who did not come back: what they had saved by the end counts."""
    open_ones = PaperSitting.objects.filter(sitting__finished_at=None).exclude(ends_at=None)
    handed_in = hand_in_overdue(sittings=open_ones.select_related("sitting", "candidate").iterator())
    return f"Papers handed in since their time was over: {handed_in}."
