"""A trainee's own record: sittings and what has been said of them."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from assessments.queries.sittings import own_sittings
from shared.accounts.permissions import Ability, club_page
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.READ_OWN_RECORD)
def record(request: HttpRequest) -> HttpResponse:
    """Sittings newest first, and the latest notices."""
    page = Paginator(own_sittings(request.membership), PAGE_LENGTH).get_page(request.GET.get("page"))
    notices = request.membership.notices.select_related("answer__sitting__quiz")[:20]
    return render(request, "assessments/record/record.html", {"page": page, "notices": notices})
