"""What of papers a person has to mark, read by candidates' numbers."""

from __future__ import annotations

from django.db.models import Exists, OuterRef, QuerySet

from assessments.items import KINDS
from assessments.models import Answer, Paper
from assessments.queries.paper_results import unmarked_in
from shared.accounts.models import Membership

BY_HAND = [name for name, kind in KINDS.items() if kind.by_hand]


def waiting_by_hand(paper: Paper) -> QuerySet[Answer]:
    """Its handed-in answers without a mark that only a person can give, item by item."""
    return unmarked_in(paper).filter(item__kind__in=BY_HAND).select_related("item__exhibit", "item__clause")


def papers_to_mark(reader: Membership) -> QuerySet[Paper]:
    """Sealed papers of the club with answers that a person has to mark, for one who is no candidate of them."""
    unmarked = (
        Answer.objects.filter(sitting__quiz=OuterRef("quiz"), item__kind__in=BY_HAND)
        .exclude(handed_in_at=None)
        .exclude(marks__current=True)
    )
    return (
        Paper.objects.filter(Exists(unmarked), quiz__edition__breed__club=reader.club_id, released_at=None)
        .exclude(candidates__member=reader)
        .select_related("quiz")
        .order_by("pk")
    )
