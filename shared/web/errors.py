"""Pages for when something went wrong: what happened, what was kept, what to do next."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.shortcuts import render


class SentPagesSaySo:
    """An address that can only be sent to, opened by hand or from the history, answers in words, not blank."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if isinstance(response, HttpResponseNotAllowed) and not response.content:
            response.content = render(request, "405.html").content
        return response


def form_expired(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The form's protection against forgery did not hold, mostly because the page stood open too long."""
    return render(request, "403_csrf.html", status=403)
