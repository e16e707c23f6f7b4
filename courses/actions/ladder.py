"""The club's severity ladder."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.models import SeverityScale
from courses.queries.severity import USUAL_LABELS
from courses.refusals import Refused
from courses.validators import check_ladder
from shared.accounts.models import Club
from shared.web.limits import LADDERS_PER_CLUB


@transaction.atomic
def set_ladder(
    *,
    club: Club,
    labels: Sequence[str],
    weights: Sequence[float],
    disqualifying: bool,
    effective_from: datetime.date,
) -> SeverityScale:
    """A ladder from a day on, today at the earliest. What is marked already keeps its own.

    Clauses, faults and keys name a level by its place, so a ladder has at least as many as those before it.
    """
    check_ladder(labels, weights)
    if effective_from < timezone.localdate():
        raise ValidationError({"effective_from": _("A ladder begins today or later.")})
    kept = list(club.severity_scales.all())
    if len(kept) >= LADDERS_PER_CLUB:
        raise Refused(_("A club keeps at most %(n)d ladders.") % {"n": LADDERS_PER_CLUB})
    fewest = max(map(len, kept), default=len(USUAL_LABELS))
    if len(labels) < fewest:
        raise ValidationError(
            _("Clauses and faults name a level by its place, so a ladder keeps at least %(n)d levels."),
            params={"n": fewest},
        )
    return SeverityScale.objects.create(
        club=club,
        labels=[label.strip() for label in labels],
        weights=list(weights),
        disqualifying=disqualifying,
        effective_from=effective_from,
    )


def withdraw_ladder(*, scale: SeverityScale) -> None:
    """Take back a ladder that has not begun."""
    if scale.effective_from <= timezone.localdate():
        raise Refused(_("This ladder has begun; set another one instead."))
    scale.delete()
