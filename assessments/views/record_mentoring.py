"""A trainee's own sessions, sign-offs and panels, and their word on a session."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from assessments.actions.mentoring import say_own_word
from assessments.forms.mentoring import OwnWordForm
from assessments.models import SessionTrainee
from assessments.queries.mentorships import mentorships_of
from assessments.queries.panels import told_panels
from assessments.views.mentoring import mentoring_context
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.READ_OWN_RECORD)
def record_mentoring(request: HttpRequest) -> HttpResponse:
    """Sessions planned and held, how many said ready, sign-offs, what panels told."""
    request.membership.notices.filter(answer=None, seen_at=None).update(seen_at=timezone.now())
    context = {
        "mentorships": mentorships_of([request.membership])[request.membership.pk],
        "panels": told_panels(request.membership).prefetch_related(None)[:PAGE_LENGTH],
        **mentoring_context(request.membership),
    }
    return render(request, "assessments/record/mentoring.html", context)


@club_page(Ability.READ_OWN_RECORD)
@require_http_methods(["GET", "HEAD", "POST"])
def record_session(request: HttpRequest, pk: int) -> HttpResponse:
    """The trainee's word on a session that was held, and on its mentor."""
    held = SessionTrainee.objects.select_related("session__mentor__person").exclude(session__held_on=None)
    row = get_object_or_404(held, pk=pk, trainee=request.membership)
    form = OwnWordForm(request.POST or None, instance=row)
    if request.method == "POST" and form.is_valid():
        say_own_word(row=row, **form.cleaned_data)
        messages.success(request, _("Kept. The club’s educators read it; your mentor does not."))
        return redirect("record-mentoring", request.club.slug)
    context = {"row": row, "form": form}
    return render(request, "assessments/record/session.html", context, status=422 if form.errors else 200)
