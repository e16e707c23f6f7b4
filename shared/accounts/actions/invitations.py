"""Invitations: made, withdrawn, accepted once."""

from __future__ import annotations

import datetime
import logging
import secrets

from allauth.account.models import EmailAddress
from django.core.mail import send_mail
from django.db import IntegrityError, transaction
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.accounts.models import Club, Invitation, Membership, Person
from shared.accounts.queries.invitations import open_invitations
from shared.accounts.queries.members import holds
from shared.accounts.roles import Role
from shared.accounts.rules import Refused, hash_of, lock_members
from shared.web import limits

logger = logging.getLogger(__name__)


@transaction.atomic
def invite(*, club: Club, role: Role, invited_by: Person | None, email: str = "") -> tuple[Invitation, str]:
    """Make an invitation. The token is given here once and cannot be had again."""
    now = timezone.now()
    lock_members(club.pk)
    if open_invitations(club).count() >= limits.OPEN_INVITATIONS:
        raise Refused(
            _("%(n)s invitations are open, and no more can be. Withdraw some that nobody uses.")
            % {"n": limits.OPEN_INVITATIONS}
        )
    token = secrets.token_urlsafe(32)
    invitation = Invitation.objects.create(
        club=club,
        role=role,
        email=email,
        invited_by=invited_by,
        token_hash=hash_of(token),
        created_at=now,
        expires_at=now + datetime.timedelta(days=limits.INVITATION_DAYS),
    )
    return invitation, token


def send_invitation(*, invitation: Invitation, link: str) -> bool:
    """Mail the link to the invitation's address, at once, since a task waiting to run would keep the token.

    False if the mail server would not take it; the link is good all the same.
    """
    words = {"invitation": invitation, "link": link}
    subject = _("%(club)s invites you") % {"club": invitation.club.name}
    text = render_to_string("accounts/invitation/mail.txt", words)
    try:
        send_mail(subject, text, None, [invitation.email])
    except OSError:
        logger.exception("An invitation could not be mailed.")
        return False
    return True


@transaction.atomic
def withdraw_invitation(*, invitation: Invitation) -> None:
    """Make the link useless, unless someone has used it first."""
    changed = Invitation.objects.filter(pk=invitation.pk, accepted_at=None, withdrawn_at=None).update(
        withdrawn_at=timezone.now()
    )
    invitation.refresh_from_db()
    if not changed and invitation.state == Invitation.State.ACCEPTED:
        raise Refused(_("Someone has used this invitation already."))


@transaction.atomic
def accept_invitation(*, invitation: Invitation, person: Person) -> Membership:
    """Make the person a member in the invitation's role; of two who press at once, one is refused.

    A member gains the role beside those already held. Someone who had left comes back with this role alone.
    """
    now = timezone.now()
    if holds(person, invitation.club, invitation.role):
        raise Refused(_("You hold this role already. The invitation is still good for someone else."))
    taken = Invitation.objects.filter(
        pk=invitation.pk, accepted_at=None, withdrawn_at=None, expires_at__gt=now
    ).update(accepted_at=now, accepted_by=person)
    invitation.refresh_from_db()
    if not taken:
        raise Refused(_("This invitation can no longer be used."))
    lock_members(invitation.club_id)
    membership, _made = Membership.objects.get_or_create(
        club=invitation.club, person=person, defaults={invitation.role: True}
    )
    if membership.left_at:
        for role in Role:
            setattr(membership, role.value, False)
        membership.left_at, membership.joined_at = None, now
    setattr(membership, invitation.role, True)
    membership.save()
    return membership


@transaction.atomic
def join_as_new_person(*, invitation: Invitation, name: str, email: str, password: str | None) -> Person:
    """Make an account and accept the invitation with it: both happen or neither.

    Without a password the person signs in by a code that is mailed.
    """
    try:
        with transaction.atomic():
            person = Person.objects.create_user(email, password, name=name)
    except IntegrityError as error:
        raise Refused(_("There is an account with this address already. Sign in with it.")) from error
    EmailAddress.objects.create(user=person, email=person.email, primary=True, verified=False)
    accept_invitation(invitation=invitation, person=person)
    return person
