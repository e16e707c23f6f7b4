"""Reads about marks for the figures made of them."""

from __future__ import annotations

from assessments.models import Mark, Quiz
from shared.accounts.models import Membership

# A person's figures rest on their newest answers.
NEWEST = 600
# Kinds whose answers say something of the eye for faults: what was seen where, or how a shown fault was weighed.
TELLING_KINDS = ["mark-the-faults", "weigh-the-fault"]


def marks_for_figures(trainee: Membership) -> list[Mark]:
    """A trainee's current marks in practice, the newest 600, oldest first. Those of a paper are the club's."""
    newest = (
        Mark.objects.filter(current=True, answer__sitting__trainee=trainee)
        .filter(answer__item__kind__in=TELLING_KINDS)
        .filter(answer__sitting__quiz__purpose=Quiz.Purpose.PRACTICE)
        .select_related("answer__item__exhibit", "rules")
        .order_by("-answer__handed_in_at", "-pk")[:NEWEST]
    )
    return list(newest)[::-1]
