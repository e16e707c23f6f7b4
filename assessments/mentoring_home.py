"""What mentoring puts on the day's page: what is asked of somebody by name, and what waits for a decision."""

from __future__ import annotations

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.queries.mentoring import sessions_to_come
from assessments.queries.panels import panels_of, seats_to_decide
from assessments.queries.second import asked_of, open_second_markings
from shared.accounts.roles import Role
from shared.web.home import Waiting, waiting


@waiting(roles={Role.MENTOR}, order=305)
def asked_by_name(request: HttpRequest) -> list[Waiting]:
    """Second marks to give and panels to decide on."""
    club, found = request.club.slug, []
    seconds, seats = list(asked_of(request.membership)), list(seats_to_decide(request.membership))
    if seconds:
        n = len(seconds)
        what = ngettext("A second marking is asked of you.", "%(n)s second markings are asked of you.", n)
        url = reverse("second", args=[club, seconds[0].pk])
        found.append(Waiting(what=what % {"n": n}, detail=seconds[0].why, url=url, verb=_("Mark it")))
    if seats:
        n = len(seats)
        what = ngettext("A panel waits for your decision.", "%(n)s panels wait for your decision.", n)
        since = date_format(seats[0].panel.asked_at, "j F")
        detail = _("Asked on %(on)s; you decide without the others.") % {"on": since}
        url = reverse("panel", args=[club, seats[0].panel_id])
        found.append(Waiting(what=what % {"n": n}, detail=detail, url=url, verb=_("Look at the answers")))
    return found


@waiting(roles={Role.MENTOR}, order=315)
def sessions_to_record(request: HttpRequest) -> list[Waiting]:
    """Sessions whose day has come and whose end is not recorded."""
    today = timezone.localdate()
    due = [each for each in sessions_to_come(request.membership) if each.planned_for <= today]
    if not due:
        return []
    what = ngettext("A session is to be recorded.", "%(n)s sessions are to be recorded.", len(due))
    return [
        Waiting(
            what=what % {"n": len(due)},
            detail=f"{due[0].subject}, {date_format(due[0].planned_for, 'j F')}.",
            url=reverse("session", args=[request.club.slug, due[0].pk]),
            verb=_("Record how it ended"),
        )
    ]


@waiting(roles={Role.EDUCATOR}, order=242)
def to_be_settled(request: HttpRequest) -> list[Waiting]:
    """Pairs of marks to be compared, and decisions of which the trainee is not told yet."""
    club, member, found = request.club, request.membership, []
    given = open_second_markings(club).exclude(first_at=None).exclude(second_at=None)
    given = given.exclude(second=member).exclude(answer__sitting__trainee=member).prefetch_related(None)
    first, n = given.first(), given.count()
    if first is not None:
        what = ngettext("Two marks of an answer differ or agree.", "%(n)s answers have two marks.", n)
        url = reverse("second", args=[club.slug, first.pk])
        detail = _("Compare them, and say which stands.")
        found.append(Waiting(what=what % {"n": n}, detail=detail, url=url, verb=_("Compare")))
    untold = panels_of(club).exclude(decided_at=None).filter(told_at=None).exclude(sitting__trainee=member)
    panel = untold.prefetch_related(None).first()
    if panel is not None:
        what = _("A panel has decided about %(name)s.") % {"name": panel.sitting.trainee.person}
        detail = _("The trainee hears it when you have worded what the panel says.")
        url = reverse("panel", args=[club.slug, panel.pk])
        found.append(Waiting(what=what, detail=detail, url=url, verb=_("Word it")))
    return found
