"""Invitations as the secretary sees them: made, listed, withdrawn."""

from __future__ import annotations

from allauth.core.ratelimit import consume_or_429
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from shared.accounts.actions.invitations import invite, send_invitation, withdraw_invitation
from shared.accounts.forms.invitations import InviteForm
from shared.accounts.models import Invitation
from shared.accounts.permissions import Ability, club_page
from shared.accounts.queries.invitations import invitations_of
from shared.accounts.rules import Refused
from shared.web import limits


@club_page(Ability.MANAGE_MEMBERS)
def invitations(request: HttpRequest) -> HttpResponse:
    """All of the club's invitations and what became of them."""
    page = Paginator(invitations_of(request.club), limits.PAGE_LENGTH).get_page(request.GET.get("page"))
    return render(request, "accounts/invitation/list.html", {"page": page})


@require_http_methods(["GET", "HEAD", "POST"])
@never_cache
@club_page(Ability.MANAGE_MEMBERS)
def invitation_new(request: HttpRequest) -> HttpResponse:
    """Ask for the role; answer with the link, which is shown this once."""
    form = InviteForm(request.POST or None, initial={"role": request.GET.get("role", "trainee")})
    if request.method == "POST" and form.is_valid():
        return consume_or_429(request, action="invite") or _invite(request, form)
    context = {"form": form, "days": limits.INVITATION_DAYS}
    return render(request, "accounts/invitation/new.html", context, status=422 if form.errors else 200)


def _invite(request: HttpRequest, form: InviteForm) -> HttpResponse:
    given = form.cleaned_data
    try:
        invitation, token = invite(
            club=request.club, role=given["role"], invited_by=request.user, email=given["email"]
        )
    except Refused as refusal:
        form.add_error(None, str(refusal))
        context = {"form": form, "days": limits.INVITATION_DAYS}
        return render(request, "accounts/invitation/new.html", context, status=422)
    link = request.build_absolute_uri(reverse("invitation", args=[token]))
    sent = send_invitation(invitation=invitation, link=link) if given["send"] else None
    return render(
        request, "accounts/invitation/made.html", {"invitation": invitation, "link": link, "sent": sent}
    )


@require_POST
@club_page(Ability.MANAGE_MEMBERS)
def invitation_withdraw(request: HttpRequest, invitation: int) -> HttpResponse:
    """Make a link useless."""
    found = get_object_or_404(Invitation, pk=invitation, club=request.club)
    try:
        withdraw_invitation(invitation=found)
    except Refused as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, _("Withdrawn. Whoever opens the link is told so."))
    return redirect("invitations", request.club.slug)
