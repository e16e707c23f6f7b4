"""What assessments put into the slots of other apps' pages."""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest
from django.utils.translation import gettext as _

from assessments.queries.mentorships import mentorships_of
from shared.accounts.models import Membership
from shared.web.slots import Context, fills


@fills("member", "assessments/mentorship/_mentors.html")
def mentors(request: HttpRequest, members: Sequence[Membership]) -> dict[Membership, Context]:
    """A trainee's mentors, with the way to assign one."""
    trainees = [member for member in members if member.trainee]
    found = mentorships_of(trainees)
    return {
        trainee: {"title": _("Mentors"), "trainee": trainee, "mentorships": found[trainee.pk]}
        for trainee in trainees
    }
