"""A mentor's sessions and sign-offs for their trainees."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessments.actions.mentoring import (
    hold_session,
    plan_session,
    sign_off,
    strike_session,
    take_back_sign_off,
)
from assessments.forms.mentoring import HoldForm, PlanForm, SignOffForm, StrikeForm
from assessments.models import MentoringSession, SignOff
from assessments.queries.mentoring import sessions_given, sessions_to_come
from assessments.queries.mentorships import mentees_of
from assessments.rules import Refused
from assessments.views.mentoring import mentoring_context
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.REVIEW)
def trainee_mentoring(request: HttpRequest, pk: int) -> HttpResponse:
    """One trainee's sessions with all their mentors, and sign-offs."""
    found = get_object_or_404(mentees_of(request.membership).select_related("club", "person"), pk=pk)
    context = {"trainee": found, "leads": False, **mentoring_context(found)}
    return render(request, "assessments/mentoring/trainee.html", context)


@club_page(Ability.REVIEW)
def sessions(request: HttpRequest) -> HttpResponse:
    """The mentor's sessions that are planned and still to be recorded."""
    context = {"sessions": sessions_to_come(request.membership)}
    return render(request, "assessments/mentoring/sessions.html", context)


@club_page(Ability.REVIEW)
@require_http_methods(["GET", "HEAD", "POST"])
def session_new(request: HttpRequest) -> HttpResponse:
    """Plan a session; one on a day that is past goes on to be recorded."""
    start = {"trainees": request.GET.getlist("trainee")}
    form = PlanForm(request.POST or None, mentor=request.membership, initial=start)
    if request.method == "POST" and form.is_valid():
        try:
            made = plan_session(mentor=request.membership, **form.cleaned_data)
        except Refused as refusal:
            form.add_error("trainees", str(refusal))
        else:
            return redirect("session", request.club.slug, made.pk)
    context = {"form": form, "anyone": form.fields["trainees"].queryset.exists()}
    return render(
        request, "assessments/mentoring/session_new.html", context, status=422 if form.errors else 200
    )


@club_page(Ability.REVIEW)
@require_http_methods(["GET", "HEAD", "POST"])
def session(request: HttpRequest, pk: int) -> HttpResponse:
    """One session of the mentor's: to be recorded as held, or as it was recorded."""
    found = get_object_or_404(sessions_given(request.membership), pk=pk)
    form = HoldForm(request.POST or None, session=found)
    if request.method == "POST" and form.is_valid():
        when = {"held_on": form.cleaned_data["held_on"], "minutes": form.cleaned_data["minutes"]}
        with told(request, _("Recorded. Each trainee is told how it ended and why.")):
            hold_session(session=found, ends=form.ends, **when)
        return redirect("session", request.club.slug, found.pk)
    return _page(request, found, form=form)


def _page(
    request: HttpRequest, found: MentoringSession, form: HoldForm, strike: StrikeForm | None = None
) -> HttpResponse:
    context = {"session": found, "form": form, "strike": strike or StrikeForm()}
    status = 422 if form.errors or (strike and strike.errors) else 200
    return render(request, "assessments/mentoring/session.html", context, status=status)


@require_POST
@club_page(Ability.REVIEW)
def session_strike(request: HttpRequest, pk: int) -> HttpResponse:
    """Strike a session out, with the reason."""
    found = get_object_or_404(sessions_given(request.membership), pk=pk)
    strike = StrikeForm(request.POST)
    if not strike.is_valid():
        return _page(request, found, HoldForm(session=found), strike)
    with told(request):
        strike_session(session=found, **strike.cleaned_data)
    return redirect("session", request.club.slug, found.pk)


@club_page(Ability.REVIEW)
@require_http_methods(["GET", "HEAD", "POST"])
def trainee_sign_off(request: HttpRequest, pk: int) -> HttpResponse:
    """Sign a module, a quiz or a paper off for one of the mentor's trainees."""
    trainee = get_object_or_404(mentees_of(request.membership).select_related("club", "person"), pk=pk)
    form = SignOffForm(request.POST or None, trainee=trainee)
    if request.method == "POST" and form.is_valid():
        said = {name: form.cleaned_data[name] for name in ("on", "words")}
        try:
            made = sign_off(trainee=trainee, mentor=request.membership, of=form.of, **said)
        except Refused as refusal:
            form.add_error("module", str(refusal))
        else:
            messages.success(request, _("%(title)s is signed off.") % {"title": made.of.title})
            return redirect("trainee-mentoring", request.club.slug, trainee.pk)
    context = {"trainee": trainee, "form": form}
    return render(request, "assessments/mentoring/sign_off.html", context, status=422 if form.errors else 200)


@club_page(Ability.REVIEW)
@require_http_methods(["GET", "HEAD", "POST"])
def signoff_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a sign-off back, with the reason."""
    found = get_object_or_404(
        SignOff.objects.select_related("trainee__person", "mentor__person", "module", "quiz"),
        pk=pk,
        trainee__in=mentees_of(request.membership),
    )
    form = StrikeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with told(request):
            take_back_sign_off(signed=found, by=request.membership, **form.cleaned_data)
        return redirect("trainee-mentoring", request.club.slug, found.trainee_id)
    context = {"signed": found, "form": form}
    return render(
        request, "assessments/mentoring/take_back.html", context, status=422 if form.errors else 200
    )
