"""How a page that acts and then leads on says what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.contrib import messages
from django.http import HttpRequest

from assessments.rules import NotReady, Refused


@contextmanager
def told(request: HttpRequest, done: str = "") -> Iterator[None]:
    """Says why the act within was refused, else `done`, on the page that comes next.

    For acts that lead to the same page either way.
    """
    try:
        yield
    except (Refused, NotReady) as refusal:
        messages.error(request, str(refusal))
    else:
        if done:
            messages.success(request, done)
