"""Mentoring sessions planned, held and struck out; the trainee's own word; sign-offs."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from assessments.models import (
    MentoringRules,
    MentoringSession,
    Mentorship,
    Notice,
    Quiz,
    SessionTrainee,
    SignOff,
)
from assessments.rules import Refused
from courses.models import Module
from shared.accounts.models import Club, Membership
from shared.web.limits import TRAINEES_PER_SESSION

# Up to two trainees a session is no group: the trade's "one to one or one to two" (common practice).
NO_GROUP = 2
Ending = SessionTrainee.Ending


@dataclass(frozen=True)
class End:
    """How a session ended for one trainee."""

    ending: str
    reason: str


@transaction.atomic
def plan_session(
    *,
    mentor: Membership,
    trainees: Sequence[Membership],
    subject: str,
    planned_for: datetime.date,
    group: bool = False,
) -> MentoringSession:
    """A session of a mentor with trainees of theirs, who are told of the day."""
    if not 1 <= len(trainees) <= TRAINEES_PER_SESSION:
        raise Refused(_("Choose at least one trainee, and at most %(n)d.") % {"n": TRAINEES_PER_SESSION})
    if len(trainees) > NO_GROUP and not group:
        raise Refused(_("With more than two trainees it is a group session."))
    mentored = Mentorship.objects.filter(mentor=mentor, ended_at=None, trainee__in=trainees)
    if mentored.count() < len({trainee.pk for trainee in trainees}):
        raise Refused(_("A session is with trainees whom you mentor."))
    session = MentoringSession.objects.create(
        mentor=mentor, subject=subject, planned_for=planned_for, group=group
    )
    SessionTrainee.objects.bulk_create(
        SessionTrainee(session=session, trainee=trainee) for trainee in trainees
    )
    if planned_for >= timezone.localdate():
        words = _("%(name)s plans a session with you on %(day)s: %(subject)s.")
        _tell(trainees, mentor, words, day=date_format(planned_for, "j F Y"), subject=subject)
    return session


@transaction.atomic
def hold_session(
    *, session: MentoringSession, held_on: datetime.date, minutes: int, ends: Mapping[int, End]
) -> MentoringSession:
    """Record that it was held and how it ended for each trainee, by the id of their row, once."""
    held = _hold(session)
    if held.held_on:
        raise Refused(_("This session is recorded. Strike it out, with the reason, to record it anew."))
    if held_on > timezone.localdate():
        raise Refused(_("A session that is still to come is not recorded as held."))
    held.held_on, held.minutes, held.recorded_at = held_on, minutes, timezone.now()
    held.save(update_fields=["held_on", "minutes", "recorded_at"])
    for row in held.trainees.select_related("trainee"):
        end = ends.get(row.pk)
        if end is None or end.ending not in Ending.values or not end.reason.strip():
            raise Refused(_("Say for each trainee how it ended, with the reason."))
        row.ending, row.reason = end.ending, end.reason
        row.save(update_fields=["ending", "reason"])
        words = _("Your session with %(name)s ended: %(ending)s. The reason is in your record.")
        _tell([row.trainee], held.mentor, words, ending=row.get_ending_display())
    return held


@transaction.atomic
def strike_session(*, session: MentoringSession, reason: str) -> None:
    """It does not count any more, or does not take place; it stays on record with the reason."""
    held = _hold(session)
    held.struck_at, held.struck_reason = timezone.now(), reason
    held.save(update_fields=["struck_at", "struck_reason"])
    trainees = [row.trainee for row in held.trainees.select_related("trainee")]
    words = _("%(name)s struck out a session with you, “%(subject)s”: %(reason)s")
    _tell(trainees, held.mentor, words, subject=held.subject, reason=reason)


@transaction.atomic
def say_own_word(*, row: SessionTrainee, own_session: str, own_mentor: str) -> None:
    """The trainee's words on a session that was held and on its mentor; they may be changed or emptied."""
    if row.session.held_on is None:
        raise Refused(_("The session was not held yet."))
    row.own_session, row.own_mentor = own_session, own_mentor
    row.own_at = timezone.now() if own_session or own_mentor else None
    row.save(update_fields=["own_session", "own_mentor", "own_at"])


@transaction.atomic
def sign_off(
    *,
    trainee: Membership,
    mentor: Membership,
    of: Module | Quiz,
    on: datetime.date,
    words: str,
) -> SignOff:
    """A mentor confirms that their trainee has done with a module or a quiz."""
    if not Mentorship.objects.filter(mentor=mentor, trainee=trainee, ended_at=None).exists():
        raise Refused(_("You sign off for trainees whom you mentor."))
    if on > timezone.localdate():
        raise Refused(_("A sign-off is not dated ahead."))
    which = {"module": of} if isinstance(of, Module) else {"quiz": of}
    try:
        with transaction.atomic():
            made = SignOff.objects.create(trainee=trainee, mentor=mentor, on=on, words=words, **which)
    except IntegrityError as error:
        raise Refused(_("%(title)s is signed off already.") % {"title": of.title}) from error
    _tell([trainee], mentor, _("%(name)s signed off %(title)s."), title=of.title)
    return made


@transaction.atomic
def take_back_sign_off(*, signed: SignOff, by: Membership, reason: str) -> None:
    """It no longer stands; it stays on record with who took it back and why."""
    held = SignOff.objects.select_for_update().get(pk=signed.pk)
    if held.taken_back_at:
        raise Refused(_("This sign-off was taken back."))
    held.taken_back_at, held.taken_back_by, held.taken_back_reason = timezone.now(), by, reason
    held.save(update_fields=["taken_back_at", "taken_back_by", "taken_back_reason"])
    words = _("%(name)s took back the sign-off of %(title)s: %(reason)s")
    _tell([held.trainee], by, words, title=held.of.title, reason=reason)


@transaction.atomic
def set_mentoring_rules(*, club: Club, by: Membership, **fields: Any) -> MentoringRules:
    """New rules of the club from a day on; earlier ones stay on record, results keep what they were made by."""
    return MentoringRules.objects.create(club=club, made_by=by, **fields)


def _hold(session: MentoringSession) -> MentoringSession:
    held = (
        MentoringSession.objects.select_for_update(of=("self",))
        .select_related("mentor__person")
        .get(pk=session.pk)
    )
    if held.struck_at:
        raise Refused(_("This session was struck out."))
    return held


def _tell(trainees: Sequence[Membership], mentor: Membership, words: str, **names: object) -> None:
    text = words % {"name": mentor.person, **names}
    Notice.objects.bulk_create(
        Notice(member=trainee, by=mentor.person, text=text[:300]) for trainee in trainees
    )
