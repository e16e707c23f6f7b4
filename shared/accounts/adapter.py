"""How sign-in differs from allauth's own: nobody signs up without an invitation."""

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class InvitedOnly(DefaultAccountAdapter):
    """Accounts are made by accepting an invitation; the open sign-up page stays shut."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False
