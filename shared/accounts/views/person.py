"""The page on which a person sees to their own account."""

from __future__ import annotations

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared.accounts.actions.members import change_name
from shared.accounts.forms.person import NameForm
from shared.accounts.permissions import outside_clubs
from shared.accounts.queries.members import clubs_of
from shared.web.slots import fillings


@require_http_methods(["GET", "HEAD", "POST"])
@outside_clubs(signed_in=True)
def account(request: HttpRequest) -> HttpResponse:
    """Name, address, password, second factor and clubs; the name is changed here, the rest by a page each."""
    form = NameForm(request.POST or None, instance=request.user)
    if request.method == "POST" and form.is_valid():
        change_name(person=request.user, name=form.cleaned_data["name"])
        messages.success(request, _("Saved. This is how you are named from now on."))
        return redirect("account")
    memberships = list(clubs_of(request.user)[:50])
    filled = fillings("own club", request, memberships)
    context = {
        "form": form,
        "clubs": [(membership, filled[membership]) for membership in memberships],
        "unconfirmed": EmailAddress.objects.filter(user=request.user, verified=False).exists(),
        "second_factor": Authenticator.objects.filter(
            user=request.user, type=Authenticator.Type.TOTP
        ).exists(),
    }
    return render(request, "accounts/person/account.html", context, status=422 if form.errors else 200)
