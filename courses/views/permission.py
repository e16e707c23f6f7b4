"""The owner's permission for one exhibit: recorded, withdrawn, and its signed form."""

from __future__ import annotations

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from courses.actions.permission import record_permission, withdraw_permission
from courses.forms.permission import RecordPermission
from courses.models import Exhibit
from courses.queries.exhibit import marked_with_permission
from courses.queries.permission import may_be_shown
from courses.queries.uses import uses_of_exhibit
from courses.refusals import Refused
from courses.views.exhibit import exhibit_or_404
from shared.accounts.permissions import Ability, club_page, may
from shared.web.slots import fillings


@club_page(Ability.RECORD_PERMISSIONS)
def exhibit_permission(request: HttpRequest, number: int) -> HttpResponse:
    """Record an owner's permission."""
    exhibit = exhibit_or_404(request, number)
    form = RecordPermission(
        request.POST or None, request.FILES or None, initial={"starts_on": timezone.localdate()}
    )
    if request.method == "POST" and form.is_valid() and _recorded(request, exhibit, form):
        messages.success(request, _("The permission is recorded."))
        return redirect("exhibit", request.club.slug, number)
    marked_with_permission([exhibit], timezone.localdate())
    status = 422 if request.method == "POST" else 200
    return render(
        request, "courses/exhibit/permission.html", {"exhibit": exhibit, "form": form}, status=status
    )


def _recorded(request: HttpRequest, exhibit: Exhibit, form: RecordPermission) -> bool:
    said = {**form.cleaned_data, "uses": set(form.cleaned_data["uses"])}
    try:
        record_permission(exhibit=exhibit, recorded_by=request.user, **said)
    except Refused as error:
        form.add_error(None, str(error))
    return form.is_valid()


@club_page(Ability.RECORD_PERMISSIONS)
@require_POST
def exhibit_permission_withdraw(request: HttpRequest, number: int) -> HttpResponse:
    """The owner took the word back."""
    withdraw_permission(exhibit=exhibit_or_404(request, number))
    messages.success(request, _("Noted. The picture has left every plate, quiz and handout."))
    return redirect("exhibit-uses", request.club.slug, number)


@club_page(Ability.RECORD_PERMISSIONS)
@require_GET
def exhibit_uses(request: HttpRequest, number: int) -> HttpResponse:
    """What loses its picture when the owner's word ends: plates, modules, quizzes."""
    exhibit = exhibit_or_404(request, number)
    today = timezone.localdate()
    marked_with_permission([exhibit], today)
    context = {
        "exhibit": exhibit,
        "shown": may_be_shown(exhibit, today),
        "uses": uses_of_exhibit(exhibit),
        "quizzes": fillings("exhibit uses", request, [exhibit])[exhibit],
        "may_edit": may(request.membership, Ability.EDIT_EXHIBITS),
    }
    return render(request, "courses/exhibit/uses.html", context)


@club_page(Ability.RECORD_PERMISSIONS)
@require_GET
def exhibit_permission_form(request: HttpRequest, number: int, permission: int) -> HttpResponse:
    """The signed form, to be kept by whoever asks for it and never shown within the page."""
    found = get_object_or_404(exhibit_or_404(request, number).permissions, pk=permission)
    if not found.form:
        raise Http404("No form was kept.")
    return FileResponse(
        found.form.open(),
        as_attachment=True,
        filename=_("permission exhibit %(number)s") % {"number": number},
        content_type="application/octet-stream",
    )
