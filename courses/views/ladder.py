"""The severity ladder of a club."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from courses.actions.ladder import set_ladder, withdraw_ladder
from courses.forms.standard import LadderForm
from courses.models import SeverityScale
from courses.queries.severity import ladder_of
from courses.refusals import Refused
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import LADDERS_PER_CLUB


@club_page(Ability.EDIT_STANDARD)
def ladder(request: HttpRequest) -> HttpResponse:
    """The ladder in force, those before and to come, and the form for another one."""
    scale = ladder_of(request.club)
    form = LadderForm(request.POST or None, scale=scale)
    if form.is_valid():
        given = form.cleaned_data
        names = ("labels", "weights", "disqualifying", "effective_from")
        try:
            set_ladder(club=request.club, **{name: given[name] for name in names})
        except (ValidationError, Refused) as wrong:
            form.add_error(None, wrong if isinstance(wrong, ValidationError) else str(wrong))
        else:
            return redirect("standard-ladder", request.club.slug)
    context = {
        "form": form,
        "scale": scale,
        "ladders": request.club.severity_scales.all()[:LADDERS_PER_CLUB],
        "today": timezone.localdate(),
    }
    return render(request, "courses/standard/ladder.html", context, status=422 if form.errors else 200)


@require_POST
@club_page(Ability.EDIT_STANDARD)
def withdraw(request: HttpRequest, scale: int) -> HttpResponse:
    """Take back a ladder that has not begun."""
    found = get_object_or_404(SeverityScale, pk=scale, club=request.club)
    try:
        withdraw_ladder(scale=found)
    except Refused as refusal:
        return render(request, "courses/standard/refused.html", {"reason": refusal}, status=409)
    return redirect("standard-ladder", request.club.slug)
