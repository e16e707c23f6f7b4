"""Pages for when something went wrong: what happened, what was kept, what to do next."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def form_expired(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The form's protection against forgery did not hold, mostly because the page stood open too long."""
    return render(request, "403_csrf.html", status=403)
