"""The invitation as the invited person sees it. Whoever holds the link may open these pages."""

from __future__ import annotations

from allauth.account import app_settings
from allauth.account.utils import perform_login
from allauth.core.ratelimit import consume_or_429
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST, require_safe

from shared.accounts.actions.invitations import accept_invitation, join_as_new_person
from shared.accounts.forms.invitations import JoinForm
from shared.accounts.models import Invitation
from shared.accounts.permissions import outside_clubs
from shared.accounts.queries.invitations import invitation_by_token
from shared.accounts.queries.members import holds
from shared.accounts.rules import Refused


@require_safe
@never_cache
@outside_clubs(signed_in=False)
def invitation(request: HttpRequest, token: str) -> HttpResponse:
    """Join in one press if signed in; else make an account, or sign in and come back."""
    found = invitation_by_token(token)
    if found is None:
        return _unknown(request)
    return _page(request, found, token, JoinForm(initial={"email": found.email}))


@require_POST
@outside_clubs(signed_in=True)
def invitation_accept(request: HttpRequest, token: str) -> HttpResponse:
    """The one press of someone who is signed in."""
    found = invitation_by_token(token)
    if found is None:
        return _unknown(request)
    try:
        accept_invitation(invitation=found, person=request.user)
    except Refused:
        return redirect("invitation", token)
    return _welcome(request, found)


@never_cache
@sensitive_post_parameters("password")
@outside_clubs(signed_in=False)
def invitation_account(request: HttpRequest, token: str) -> HttpResponse:
    """A new account that joins the club; its owner is signed in."""
    found = invitation_by_token(token)
    if found is None:
        return _unknown(request)
    if request.method != "POST" or request.user.is_authenticated or found.state != Invitation.State.OPEN:
        return redirect("invitation", token)
    form = JoinForm(request.POST)
    too_often = consume_or_429(request, action="new_account")
    if too_often or not form.is_valid():
        return too_often or _page(request, found, token, form)
    try:
        person = join_as_new_person(invitation=found, **form.cleaned_data)
    except Refused as refusal:
        form.add_error(None, str(refusal))
        found.refresh_from_db()
        return _page(request, found, token, form)
    perform_login(request, person, email_verification=app_settings.EMAIL_VERIFICATION, signup=True)
    return _welcome(request, found)


def _welcome(request: HttpRequest, found: Invitation) -> HttpResponse:
    words = _("Welcome. You are a %(role)s of %(club)s.")
    messages.success(request, words % {"role": found.get_role_display(), "club": found.club})
    return redirect("club", found.club.slug)


def _unknown(request: HttpRequest) -> HttpResponse:
    """No such link. Whoever tries many is made to wait."""
    too_often = consume_or_429(request, action="wrong_token", limit_get=True)
    return too_often or render(request, "accounts/invitation/unknown.html", status=404)


def _page(request: HttpRequest, found: Invitation, token: str, form: JoinForm) -> HttpResponse:
    context = {"invitation": found, "token": token, "form": form, "club_invites": found.club}
    if found.state != Invitation.State.OPEN:
        context["joined_by_you"] = request.user.is_authenticated and found.accepted_by_id == request.user.pk
        return render(request, "accounts/invitation/closed.html", context, status=410)
    if request.user.is_authenticated:
        context["holds_already"] = holds(request.user, found.club, found.role)
    else:
        back = reverse("invitation", args=[token])
        context["sign_in_url"] = f"{reverse('account_login')}?next={back}"
    return render(request, "accounts/invitation/open.html", context, status=422 if form.errors else 200)
