"""The secretary assigns mentors to trainees."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from assessments.actions.mentorship import assign_mentor, end_mentorship
from assessments.forms.mentorship import MentorForm
from assessments.models import Mentorship
from assessments.queries.mentorships import mentorships_of
from assessments.rules import Refused
from shared.accounts.permissions import Ability, club_page
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role


@club_page(Ability.MANAGE_MEMBERS)
@require_http_methods(["GET", "HEAD", "POST"])
def mentorship(request: HttpRequest, member: int) -> HttpResponse:
    """One trainee's mentors, and the choice of another."""
    trainee = get_object_or_404(members_of(request.club, Role.TRAINEE).select_related("club"), pk=member)
    form = MentorForm(request.POST or None, trainee=trainee)
    if request.method == "POST" and form.is_valid():
        try:
            assign_mentor(trainee=trainee, mentor=form.cleaned_data["mentor"])
        except Refused as refusal:
            form.add_error("mentor", str(refusal))
        else:
            names = {"mentor": form.cleaned_data["mentor"].person, "trainee": trainee.person}
            messages.success(request, _("%(mentor)s now sees the answers of %(trainee)s.") % names)
            return redirect("mentorship", request.club.slug, trainee.pk)
    context = {"trainee": trainee, "form": form, "mentorships": mentorships_of([trainee])[trainee.pk]}
    status = 422 if form.errors else 200
    return render(request, "assessments/mentorship/mentorship.html", context, status=status)


@club_page(Ability.MANAGE_MEMBERS)
@require_POST
def mentorship_end(request: HttpRequest, mentorship: int) -> HttpResponse:
    """End one mentorship; it can be assigned again at once."""
    found = get_object_or_404(
        Mentorship.objects.select_related("mentor__person", "trainee__person"),
        pk=mentorship,
        trainee__club=request.club,
    )
    end_mentorship(mentorship=found)
    names = {"mentor": found.mentor.person, "trainee": found.trainee.person}
    messages.success(request, _("%(mentor)s no longer mentors %(trainee)s.") % names)
    return redirect("mentorship", request.club.slug, found.trainee_id)
