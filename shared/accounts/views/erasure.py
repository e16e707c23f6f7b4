"""Erasing somebody from the club for good, and a member's own wish to be erased."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from shared.accounts.actions.erasure import (
    ask_to_be_erased,
    decline_request,
    erase_member,
    reasons_against,
    withdraw_request,
)
from shared.accounts.forms.erasure import DeclineForm, EraseForm
from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, club_page
from shared.accounts.queries.members import known_members, waiting_requests
from shared.accounts.rules import Refused
from shared.web.slots import fillings


@club_page(Ability.ERASE_MEMBERS)
@require_http_methods(["GET", "HEAD", "POST"])
def member_erase(request: HttpRequest, member: int) -> HttpResponse:
    """What goes, what stays and why; the name is typed to confirm it."""
    found = get_object_or_404(known_members(request.club), pk=member)
    form = EraseForm(request.POST or None, person=found.person)
    if request.method == "POST" and form.is_valid():
        oneself = found.person == request.user
        try:
            erase_member(membership=found, by=request.membership)
        except Refused as refusal:
            messages.error(request, str(refusal))
            return redirect("member-erase", request.club.slug, found.pk)
        messages.success(request, _("Erased. Figures stay as they were; nobody can bring the person back."))
        return redirect("home") if oneself else redirect("members", request.club.slug)
    return _erase_page(request, found, form, DeclineForm(), bool(form.errors))


@club_page(Ability.ERASE_MEMBERS)
@require_POST
def member_erase_decline(request: HttpRequest, member: int) -> HttpResponse:
    """Say to a member who asked why they are not erased."""
    found = get_object_or_404(known_members(request.club), pk=member)
    get_object_or_404(waiting_requests(request.club), membership=found)
    form = DeclineForm(request.POST)
    if not form.is_valid():
        return _erase_page(request, found, EraseForm(person=found.person), form, True)
    decline_request(membership=found, by=request.membership, reason=form.cleaned_data["reason"])
    messages.success(request, _("%(name)s reads why on their own page.") % {"name": found.person})
    return redirect("club", request.club.slug)


@club_page(Ability.ENTER)
@require_http_methods(["GET", "HEAD", "POST"])
def erasure(request: HttpRequest) -> HttpResponse:
    """A member's own page: what goes and what stays, asking for it, and how that stands."""
    if request.method == "POST":
        ask_to_be_erased(membership=request.membership)
        messages.success(request, _("Asked. The secretary sees it among what waits for them."))
        return redirect("erasure", request.club.slug)
    last = request.membership.erasure_requests.first()
    return render(request, "accounts/erasure/own.html", {"last": last, **_what_of(request.membership)})


@club_page(Ability.ENTER)
@require_POST
def erasure_withdraw(request: HttpRequest) -> HttpResponse:
    """Think better of it."""
    withdraw_request(membership=request.membership)
    messages.success(request, _("Withdrawn. You stay as you are."))
    return redirect("erasure", request.club.slug)


def _what_of(member: Membership) -> dict[str, object]:
    """In how many other clubs the person is, and whether the account stays: for those, or to run the site."""
    elsewhere = member.person.memberships.exclude(pk=member.pk).count()
    runs_the_site = member.person.is_staff or member.person.is_superuser
    return {"elsewhere": elsewhere, "keeps_account": bool(elsewhere) or runs_the_site}


def _erase_page(
    request: HttpRequest, member: Membership, form: EraseForm, decline: DeclineForm, wrong: bool
) -> HttpResponse:
    context = {
        "member": member,
        "form": form,
        "decline": decline,
        "against": reasons_against(member),
        "asked": waiting_requests(request.club).filter(membership=member).first(),
        "records": fillings("former member", request, [member])[member] if member.left_at else [],
        **_what_of(member),
    }
    return render(request, "accounts/erasure/member.html", context, status=422 if wrong else 200)
