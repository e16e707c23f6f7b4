"""What the day's page shows a secretary."""

from __future__ import annotations

import datetime

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.accounts.queries.invitations import open_invitations
from shared.accounts.queries.members import members_by_role, waiting_requests
from shared.accounts.roles import Role
from shared.web.home import ROWS, Part, Waiting, empty, part, waiting

SOON = datetime.timedelta(days=3)


@waiting(roles={Role.SECRETARY}, order=405)
def requests_to_be_erased(request: HttpRequest) -> list[Waiting]:
    """Members who ask the club to erase what it holds of them."""
    return [
        Waiting(
            what=_("%(name)s asks to be erased.") % {"name": asked.membership.person},
            detail=_("Asked on %(day)s. See what goes, what stays, and what comes first.")
            % {"day": date_format(timezone.localdate(asked.asked_at), "j F Y")},
            url=reverse("member-erase", args=[request.club.slug, asked.membership_id]),
            verb=_("See to it"),
        )
        for asked in waiting_requests(request.club)[:ROWS]
    ]


@waiting(roles={Role.SECRETARY}, order=410)
def invitations_that_run_out(request: HttpRequest) -> list[Waiting]:
    """Links that nobody has used and that are about to lapse."""
    count = open_invitations(request.club).filter(expires_at__lte=timezone.now() + SOON).count()
    if not count:
        return []
    what = ngettext(
        "An invitation runs out within three days.", "%(n)s invitations run out within three days.", count
    )
    return [
        Waiting(
            what=what % {"n": count},
            detail=_("Nobody has used the link. Ask, or make a new one."),
            url=reverse("invitations", args=[request.club.slug]),
            verb=_("See which"),
        )
    ]


@part(roles={Role.SECRETARY}, order=420)
def invitations_out(request: HttpRequest) -> Part:
    """Links that can still be used."""
    found = list(open_invitations(request.club)[: ROWS + 1])
    new = reverse("invitation-new", args=[request.club.slug])
    if not found:
        words = _("Links that you give out will be here until somebody uses them.")
        return empty(_("Invitations"), words, new, _("Invite someone"))
    return Part("accounts/home/_invitations.html", {"invitations": found[:ROWS], "more": len(found) > ROWS})


@part(roles={Role.SECRETARY}, order=430, column="side")
def members_in_roles(request: HttpRequest) -> Part:
    """How many hold each role."""
    return Part("accounts/home/_members.html", {"counts": list(members_by_role(request.club).items())})
