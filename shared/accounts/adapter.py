"""How sign-in differs from allauth's own: by invitation, in our words, not stopped by a mail server."""

from __future__ import annotations

import logging

from allauth.account.adapter import DefaultAccountAdapter
from allauth.account.models import EmailAddress
from allauth.mfa.adapter import DefaultMFAAdapter
from django.contrib import messages
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from shared.accounts.models import Person

logger = logging.getLogger(__name__)
WAIT = _("That was tried too often. Wait a few minutes, then try again.")


class InvitedOnly(DefaultAccountAdapter):
    """Accounts are made by accepting an invitation; the open sign-up page stays shut."""

    error_messages = DefaultAccountAdapter.error_messages | {
        "account_inactive": _("This account has been closed."),
        "duplicate_email": _("This is your address already."),
        "email_password_mismatch": _("This address and this password do not belong together."),
        "enter_current_password": _("This is not your present password."),
        "incorrect_code": _("This code is not right, or no longer good."),
        "incorrect_password": _("This is not your password."),
        "too_many_login_attempts": WAIT,
        "rate_limited": WAIT,
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def get_password_change_redirect_url(self, request: HttpRequest) -> str:
        return reverse("account")

    def send_mail(self, template_prefix: str, email: str, context: dict) -> None:
        """A mail server that is down costs a message, not the page: the account is made all the same."""
        try:
            super().send_mail(template_prefix, email, context)
        except OSError:
            logger.exception("%s could not be mailed.", template_prefix)
            messages.error(
                self.request, _("A mail could not be sent just now. Try again later, or tell your club.")
            )

    def confirm_email(self, request: HttpRequest, email_address: EmailAddress) -> bool:
        """Refuse an address with which someone else signs in, whether they confirmed it or not."""
        others = Person.objects.exclude(pk=email_address.user_id)
        if others.filter(email__iexact=email_address.email).exists():
            told = "account/messages/email_confirmation_failed.txt"
            self.add_message(request, messages.ERROR, told, {"email": email_address.email})
            return False
        return super().confirm_email(request, email_address)


class SecondFactor(DefaultMFAAdapter):
    """The words of the second factor."""

    error_messages = DefaultMFAAdapter.error_messages | {
        "add_email_blocked": _(
            "Turn the second factor off first, change the address, then turn it on again."
        ),
        "incorrect_code": _("This code is not right, or no longer good."),
        "unverified_email": _(
            "Confirm your email address first: otherwise a lost phone would lock you out for good."
        ),
    }
