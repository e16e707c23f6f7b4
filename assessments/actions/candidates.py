"""Candidates of a paper: invited, numbered, granted more time."""

from __future__ import annotations

import secrets
from collections.abc import Iterable

from django.db import transaction
from django.utils.translation import gettext as _

from assessments.models import Candidate, Paper
from assessments.rules import Refused
from shared.accounts.models import Membership, Person
from shared.web.limits import CANDIDATES_PER_PAPER

NUMBERS = range(100, 1000)


@transaction.atomic
def invite_candidates(*, paper: Paper, members: Iterable[Membership], by: Person) -> list[Candidate]:
    """Give each a number by lot, which tells nothing of who they are; who is invited already keeps theirs."""
    Paper.objects.select_for_update().get(pk=paper.pk)
    there = dict(paper.candidates.values_list("member", "number"))
    new = [member for member in members if member.pk not in there]
    if paper.released_at is not None and new:
        raise Refused(_("The results are released: nobody can be invited any more."))
    if len(there) + len(new) > CANDIDATES_PER_PAPER:
        raise Refused(_("A paper has at most %(n)d candidates.") % {"n": CANDIDATES_PER_PAPER})
    free = sorted(set(NUMBERS) - set(there.values()))
    made = []
    for member in new:
        number = free.pop(secrets.randbelow(len(free)))
        made.append(Candidate(paper=paper, member=member, number=number, invited_by=by))
    return Candidate.objects.bulk_create(made)


@transaction.atomic
def grant_time(*, candidate: Candidate, minutes: int, percent: int) -> None:
    """More time than the paper gives, granted before the candidate begins."""
    held = _not_begun(candidate, _("The candidate has begun: time is granted beforehand."))
    held.extra_minutes, held.extra_percent = minutes, percent
    held.save(update_fields=["extra_minutes", "extra_percent"])


@transaction.atomic
def withdraw_candidate(*, candidate: Candidate) -> None:
    """Take back an invitation that was not used."""
    _not_begun(candidate, _("The candidate has begun: the sitting stays on record.")).delete()


def _not_begun(candidate: Candidate, words: str) -> Candidate:
    held = Candidate.objects.select_for_update().get(pk=candidate.pk)
    if hasattr(held, "sitting"):
        raise Refused(words)
    return held
