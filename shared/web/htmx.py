"""What every answer to an htmx request has in common."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django_htmx.http import HttpResponseClientRedirect


class HtmxAnswers:
    """Caches tell page from fragment; a redirect asked for by htmx moves the whole page."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        patch_vary_headers(response, ["HX-Request"])
        if request.htmx and isinstance(response, HttpResponseRedirect):
            return HttpResponseClientRedirect(response.url)
        return response


def answer(
    request: HttpRequest, page: str, fragment: str, context: dict[str, object], *, status: int = 200
) -> HttpResponse:
    """The fragment for htmx, the page that includes it for everyone else."""
    return render(request, fragment if request.htmx else page, context, status=status)
