"""When the club was founded, its members were invited and joined, and mentors took on their trainees."""

from __future__ import annotations

from assessments.models import KeepingRules, Mentorship
from media_demo.dates.calendar import DAY, FIRST_ANSWERS, FOUNDED, MINUTE, Calendar
from media_demo.dates.rows import set_times, write_times
from media_demo.loading import Scenario
from shared.accounts.models import Invitation, Person


def date_members(scenario: Scenario, calendar: Calendar) -> int:
    """Officers join in the club's first days, trainees shortly before their first answers."""
    club = calendar.people.club
    club.created_at = calendar.day(FOUNDED)
    club.save(update_fields=["created_at"])
    members = list(calendar.people.by_email.values())
    officers = len(scenario.members)
    days = [FOUNDED - place for place in range(officers)]
    days += [FIRST_ANSWERS + 14 - place * 0.4 for place in range(len(members) - officers)]
    moments = [calendar.evening(day) for day in days]
    joined = {member.person_id: moment for member, moment in zip(members, moments, strict=True)}
    changed = set_times(members, moments, "joined_at")
    changed += set_times(
        Person.objects.filter(pk__in=joined), [joined[pk] for pk in sorted(joined)], "date_joined"
    )
    for invitation in Invitation.objects.filter(club=club, accepted_at=None):
        left = next(row["days_left"] for row in scenario.club["invited"] if row["email"] == invitation.email)
        lasts = invitation.expires_at - invitation.created_at
        invitation.expires_at = calendar.now + left * DAY + 2 * MINUTE
        invitation.created_at = invitation.expires_at - lasts
        changed += write_times([invitation], "expires_at", "created_at")
    taken = list(Invitation.objects.filter(club=club).exclude(accepted_at=None))
    for invitation in taken:
        invitation.accepted_at = joined[invitation.accepted_by_id]
        invitation.created_at = invitation.accepted_at - 2 * DAY
        invitation.expires_at = invitation.created_at + 14 * DAY
    changed += write_times(taken, "accepted_at", "created_at", "expires_at")
    mentorships = Mentorship.objects.filter(mentor__club=club).select_related("trainee")
    begun = [joined[row.trainee.person_id] + DAY for row in mentorships]
    changed += set_times(mentorships, begun, "begun_at")
    kept = list(KeepingRules.objects.filter(club=club))
    for rules in kept:
        rules.made_at = calendar.evening(FOUNDED - 1)
        rules.effective_from = rules.made_at.date()
    return changed + write_times(kept, "made_at", "effective_from")
