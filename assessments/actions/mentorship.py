"""Who mentors whom."""

from __future__ import annotations

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.models import Mentorship
from assessments.rules import Refused
from shared.accounts.models import Membership
from shared.web.limits import MENTORS_PER_TRAINEE


@transaction.atomic
def assign_mentor(*, trainee: Membership, mentor: Membership) -> Mentorship:
    """From now on the mentor sees the trainee's answers. Both are present members in these roles."""
    if trainee.club_id != mentor.club_id or not (trainee.trainee and mentor.mentor):
        raise Refused(_("A mentor and a trainee of the same club are needed."))
    if trainee == mentor:
        raise Refused(_("Nobody mentors themselves."))
    Membership.objects.select_for_update().get(pk=trainee.pk)
    if trainee.mentors_of.filter(ended_at=None).count() >= MENTORS_PER_TRAINEE:
        raise Refused(
            _("A trainee has at most %(n)s mentors. End one mentorship first.") % {"n": MENTORS_PER_TRAINEE}
        )
    try:
        with transaction.atomic():
            return Mentorship.objects.create(trainee=trainee, mentor=mentor)
    except IntegrityError as error:
        raise Refused(_("%(name)s is a mentor of this trainee already.") % {"name": mentor.person}) from error


@transaction.atomic
def end_mentorship(*, mentorship: Mentorship) -> None:
    """The mentor no longer sees the trainee's answers; what was said and adjusted stays."""
    Mentorship.objects.filter(pk=mentorship.pk, ended_at=None).update(ended_at=timezone.now())
