"""What assessments put on the day's page."""

from __future__ import annotations

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.queries.mentorships import trainees_without_mentor
from shared.accounts.roles import Role
from shared.web.home import Waiting, waiting


@waiting(roles={Role.SECRETARY}, order=405)
def nobody_looks(request: HttpRequest) -> list[Waiting]:
    """Trainees at whose answers nobody looks, since no mentor is assigned."""
    without = trainees_without_mentor(request.club)
    first = without.first()
    if first is None:
        return []
    count = without.count()
    what = ngettext("%(name)s has no mentor.", "%(n)s trainees have no mentor.", count)
    return [
        Waiting(
            what=what % {"n": count, "name": first.person},
            detail=_("Nobody looks at what they answer until one is assigned."),
            url=reverse("mentorship", args=[request.club.slug, first.pk])
            if count == 1
            else f"{reverse('members', args=[request.club.slug])}?role=trainee",
            verb=_("Assign a mentor") if count == 1 else _("See whom"),
        )
    ]
