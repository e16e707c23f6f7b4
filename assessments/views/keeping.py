"""How long the club keeps what is of one person: read by every member, set by the secretary."""

from __future__ import annotations

from django.contrib import messages
from django.forms import model_to_dict
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from assessments.actions.keeping import NOTICE, set_keeping_rules
from assessments.forms.keeping import KeepingForm
from assessments.queries.keeping import count_of, due_on, keeping_past_and_to_come, keeping_rules
from assessments.rules import Refused
from shared.accounts.permissions import Ability, club_page, may
from shared.accounts.queries.members import erasures_of
from shared.web.limits import KEEPING_RULES_SHOWN, PEOPLE_PER_KEEPING_RUN

ERASURES_SHOWN = 12


@club_page(Ability.ENTER)
def keeping(request: HttpRequest) -> HttpResponse:
    """What is in force and to come; for the secretary what the next run will let go, and who was erased when."""
    rules = keeping_rules(request.club)
    versions = keeping_past_and_to_come(request.club)
    context = {"rules": rules, "to_come": versions.filter(effective_from__gt=timezone.localdate())[:3]}
    if may(request.membership, Ability.ERASE_MEMBERS):
        context |= {
            "sets": True,
            "due": count_of(due_on(request.club, timezone.localdate(), rules)),
            "at_once": PEOPLE_PER_KEEPING_RUN,
            "erasures": erasures_of(request.club)[:ERASURES_SHOWN],
        }
    return render(request, "assessments/keeping/keeping.html", context)


@club_page(Ability.ERASE_MEMBERS)
@require_http_methods(["GET", "HEAD", "POST"])
def keeping_set(request: HttpRequest) -> HttpResponse:
    """Months from a day on; members are told of what becomes shorter."""
    rules = keeping_rules(request.club)
    start = model_to_dict(rules, ["answers", "papers", "left"])
    start["effective_from"] = timezone.localdate() + NOTICE
    form = KeepingForm(request.POST or None, initial=start)
    if request.method == "POST" and form.is_valid():
        try:
            set_keeping_rules(club=request.club, by=request.membership, **form.cleaned_data)
        except Refused as refusal:
            form.add_error("effective_from", str(refusal))
        else:
            messages.success(request, _("Kept. Whatever is kept shorter, the members are told of."))
            return redirect("keeping", request.club.slug)
    versions = keeping_past_and_to_come(request.club)[:KEEPING_RULES_SHOWN]
    context = {"form": form, "rules": rules, "versions": versions}
    return render(request, "assessments/keeping/set.html", context, status=422 if form.errors else 200)
