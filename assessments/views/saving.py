"""What a page that saves as one goes sends, and the answers it gets; a script of the page does the rest."""

from __future__ import annotations

import datetime
import json
import uuid
from dataclasses import dataclass
from typing import Any, Protocol

from django.http import HttpRequest, JsonResponse
from django.utils import timezone

from assessments.actions.sittings import Overtaken
from assessments.items import AnswerRefused, KeyRefused
from assessments.queries.answers import last_identity
from assessments.rules import Refused

# All that reading what a browser sent may raise, and what the state of things or the kind of item refuses.
NOT_KEPT = (ValueError, KeyError, TypeError, OverflowError, RecursionError)


@dataclass(frozen=True)
class Sent:
    """What is to be kept, the revision that the page has seen, the save's identity; `body` is all that came."""

    content: Any
    seen: int
    identity: uuid.UUID
    body: dict[str, Any]


class Saved(Protocol):
    """A save that was acknowledged."""

    @property
    def revision(self) -> int: ...

    @property
    def saved_at(self) -> datetime.datetime: ...


def sent_in(request: HttpRequest) -> Sent:
    """JSON {content, seen, identity}; one of NOT_KEPT where it is something else."""
    body = json.loads(request.body)
    return Sent(body["content"], int(body["seen"]), uuid.UUID(str(body["identity"])), body)


def kept(saved: Saved, **said: object) -> JsonResponse:
    """It is kept, since when, as which revision."""
    at = timezone.localtime(saved.saved_at).strftime("%H:%M")
    return JsonResponse({"revision": saved.revision, "saved_at": at, **said})


def not_kept(error: Exception, unreadable: str, closed: int = 410) -> JsonResponse:
    """422 says what is wrong, `unreadable` where only that is known; `closed` that nothing is taken any more."""
    if isinstance(error, Refused):
        return JsonResponse({"error": str(error)}, status=closed)
    if isinstance(error, KeyRefused):
        return JsonResponse({"error": str(error), "wrong": error.wrong}, status=422)
    words = str(error) if isinstance(error, AnswerRefused) else unreadable
    return JsonResponse({"error": words}, status=422)


def overtaken(error: Exception, *, content: object, revision: int, last: object) -> JsonResponse:
    """409 with what another page saved meanwhile, and the identity of that save."""
    held = {"content": content, "revision": revision, "last": last}
    return JsonResponse({"error": str(error), **held}, status=409)


def answer_overtaken(error: Overtaken) -> JsonResponse:
    """The same of an answer."""
    held = error.answer
    return overtaken(error, content=held.content, revision=held.revision, last=last_identity(held))


def seen_in(request: HttpRequest) -> int | None:
    """The revision that was looked at, of a form that hands in or publishes what is kept."""
    seen = request.POST.get("seen", "")
    return int(seen) if seen.isdecimal() else None
