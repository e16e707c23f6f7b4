"""How long a club keeps what is of one person: set from a day on, told to those affected, carried out."""

from __future__ import annotations

import datetime
import zoneinfo
from dataclasses import dataclass

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from assessments.actions.detaching import detach_sittings
from assessments.models import KeepingRules, Notice, Sitting
from assessments.queries.keeping import due_on, keeping_rules
from assessments.rules import Refused
from shared.accounts import rules as club_rules
from shared.accounts.actions.erasure import erase_member
from shared.accounts.models import Club, Membership
from shared.accounts.queries.members import members_of
from shared.accounts.rules import lock_members
from shared.web.limits import PEOPLE_PER_KEEPING_RUN

# So long before it begins a shorter period is made known.
NOTICE = datetime.timedelta(days=30)
PERIODS = ("answers", "papers", "left")


@transaction.atomic
def set_keeping_rules(
    *,
    club: Club,
    by: Membership,
    effective_from: datetime.date,
    answers: int | None,
    papers: int | None,
    left: int | None,
) -> KeepingRules:
    """Lay down how long things are kept from a day on; what was laid down before stays on record.

    Refused where something would be kept shorter sooner than NOTICE from today. Members are told of that. A club in
    which nobody has sat anything yet takes anything from nobody: it begins as it likes.
    """
    lock_members(club.pk)
    made = KeepingRules(
        club=club, made_by=by, effective_from=effective_from, answers=answers, papers=papers, left=left
    )
    if effective_from < timezone.localdate():
        raise Refused(_("This day is past."))
    shorter = shortened(made) and Sitting.objects.filter(trainee__club=club).exists()
    if shorter and effective_from < timezone.localdate() + NOTICE:
        raise Refused(_("What is kept shorter is told 30 days before: choose a later day."))
    made.save()
    if shorter:
        _tell(made, by)
    return made


def shortened(made: KeepingRules) -> list[str]:
    """The periods that are shorter in these rules than in those that they follow."""
    before = keeping_rules(made.club, made.effective_from)
    return [name for name in PERIODS if _is_shorter(getattr(made, name), getattr(before, name))]


def _is_shorter(now: int | None, before: int | None) -> bool:
    return now is not None and (before is None or now < before)


def _tell(made: KeepingRules, by: Membership) -> None:
    text = _("From %(day)s the club keeps things shorter. See what is kept, and for how long.") % {
        "day": date_format(made.effective_from, "j F Y")
    }
    Notice.objects.bulk_create(
        [Notice(member=member, by=by.person, text=text) for member in members_of(made.club)], 500
    )


@dataclass(frozen=True)
class Done:
    """How many people's sittings were taken from them, how many left the club's rows, and how many could not."""

    sittings: int = 0
    erased: int = 0
    waiting: int = 0


def let_go(*, club: Club, today: datetime.date | None = None) -> Done:
    """Carry out what is due in a club, some hundred people at a time; again, it goes on where it stopped.

    Each person is one transaction, so that nobody is left half there.
    """
    zone = zoneinfo.ZoneInfo(club.time_zone)
    with timezone.override(zone):
        due = due_on(club, today or timezone.localdate())
        sittings = _detach(due.practice) + _detach(due.papers)
        erased, waiting = _erase(due.left)
    return Done(sittings, erased, waiting)


def _detach(due: QuerySet[Sitting]) -> int:
    people = due.order_by("trainee").values_list("trainee", flat=True).distinct()[:PEOPLE_PER_KEEPING_RUN]
    trainees = Membership.objects.filter(pk__in=list(people)).select_related("club")
    return sum(
        detach_sittings(trainee=trainee, sittings=due.filter(trainee=trainee), goes_on=True)
        for trainee in trainees
    )


def _erase(due: QuerySet[Membership]) -> tuple[int, int]:
    erased = waiting = 0
    for membership in due.order_by("left_at")[:PEOPLE_PER_KEEPING_RUN]:
        try:
            erase_member(membership=membership, by=None)
            erased += 1
        except club_rules.Refused:
            waiting += 1
    return erased, waiting
