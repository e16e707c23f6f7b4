"""Whether a picture may be used and seen: the rule for one exhibit beside the filter for many.

The filters and the rules say the same; a test compares them row by row.
"""

from __future__ import annotations

from datetime import date, timedelta

from django.db.models import Exists, OuterRef, Q, QuerySet

from courses.models import Exhibit, PicturePermission
from courses.models.choices import State
from courses.rules import ALLOWING, ENDS_SOON_DAYS, PermissionState, Use, nearest, state_of
from shared.accounts.models import Club, Membership
from shared.accounts.permissions import Ability, may


def permission_state(exhibit: Exhibit, use: Use, on: date) -> PermissionState:
    """What the owners' words on one exhibit allow; reads its prefetched permissions."""
    if exhibit.drawn:
        return PermissionState.NOT_NEEDED
    return nearest({state_of(word, use, on) for word in exhibit.permissions.all()})


def covered(use: Use, on: date) -> Q:
    """Exhibits that may be used so on the day."""
    return Q(kind=Exhibit.Kind.DRAWN) | Q(Exists(_holding(use, on).filter(exhibit=OuterRef("pk"))))


def may_be_shown(exhibit: Exhibit, on: date) -> bool:
    """Published, and with a permission that covers teaching: what a trainee may see."""
    return exhibit.state == State.PUBLISHED and permission_state(exhibit, Use.TEACHING, on) in ALLOWING


def shown(on: date) -> Q:
    """Exhibits that a trainee may see."""
    return Q(state=State.PUBLISHED) & covered(Use.TEACHING, on)


def may_see(membership: Membership, exhibit: Exhibit, on: date) -> bool:
    """Whether a member may see the picture: who prepares pictures sees all, others what is shown."""
    if exhibit.club_id != membership.club_id:
        return False
    return may(membership, Ability.SEE_ALL_PICTURES) or (
        may(membership, Ability.SEE_PICTURES) and may_be_shown(exhibit, on)
    )


def visible_to(membership: Membership, on: date) -> Q:
    """Exhibits whose pictures a member may see."""
    ours = Q(club=membership.club_id)
    if may(membership, Ability.SEE_ALL_PICTURES):
        return ours
    return ours & shown(on) if may(membership, Ability.SEE_PICTURES) else Q(pk__in=[])


def without_permission(club: Club, on: date) -> QuerySet[Exhibit]:
    """Exhibits of the club that no permission lets be taught with."""
    return Exhibit.objects.filter(club=club).exclude(covered(Use.TEACHING, on))


def ending_soon(club: Club, on: date) -> QuerySet[Exhibit]:
    """Exhibits that are shown now and, as things stand, no longer in a fortnight."""
    later = on + timedelta(days=ENDS_SOON_DAYS)
    return Exhibit.objects.filter(shown(on), club=club).exclude(covered(Use.TEACHING, later))


def endings_to_tell(club: Club, on: date) -> QuerySet[PicturePermission]:
    """Permissions that end within a fortnight, take a picture with them, and of which nobody was told yet."""
    later = on + timedelta(days=ENDS_SOON_DAYS)
    holding = _holding(Use.TEACHING, on).filter(exhibit__in=ending_soon(club, on), reminded_at=None)
    return holding.filter(ends_on__lte=later).select_related("exhibit").order_by("ends_on", "exhibit__number")


def _holding(use: Use, on: date) -> QuerySet[PicturePermission]:
    return PicturePermission.objects.filter(
        Q(ends_on=None) | Q(ends_on__gt=on), withdrawn_at=None, starts_on__lte=on, **{use.value: True}
    )
