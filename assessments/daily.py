"""What assessments do once a day."""

from __future__ import annotations

import logging

from assessments.actions.keeping import let_go
from assessments.actions.paper_sittings import hand_in_overdue
from assessments.models import PaperSitting
from shared.accounts.models import Club
from shared.web.daily import every_day

logger = logging.getLogger(__name__)


@every_day
def hand_in_papers_whose_time_is_over() -> str:
    """For candidates who did not come back: what they had saved by the end counts."""
    open_ones = PaperSitting.objects.filter(sitting__finished_at=None).exclude(ends_at=None)
    handed_in = hand_in_overdue(sittings=open_ones.select_related("sitting", "candidate").iterator())
    return f"Papers handed in since their time was over: {handed_in}."


@every_day
def let_go_of_what_is_kept_no_longer() -> str:
    """As each club has laid it down; a club that fails stops no other, and is told of at the end."""
    sittings = erased = waiting = 0
    failed = []
    for club in Club.objects.filter(keeping_rules__isnull=False).distinct().order_by("pk"):
        try:
            done = let_go(club=club)
        except Exception:
            logger.exception("What %s keeps no longer could not be let go of.", club.slug)
            failed.append(club.slug)
            continue
        sittings, erased, waiting = sittings + done.sittings, erased + done.erased, waiting + done.waiting
    if failed:
        raise RuntimeError(f"Failed in {', '.join(failed)}; the other clubs are done.")
    return (
        f"Sittings that are nobody's any more: {sittings}. People erased after leaving: {erased}"
        f"{f', {waiting} wait for something to be settled first' if waiting else ''}."
    )
