"""One size of one exhibit's picture, for members who may see it today."""

from __future__ import annotations

import inspect
from urllib.parse import urlsplit

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.files.storage import default_storage
from django.http import (
    FileResponse,
    Http404,
    HttpRequest,
    HttpResponse,
    HttpResponseNotModified,
    HttpResponseRedirect,
)
from django.utils import timezone
from django.utils.http import parse_etags
from django.views.decorators.http import require_safe

from courses.models import Exhibit, Rendition
from courses.queries.permission import visible_to
from shared.accounts.permissions import Ability, club_page
from shared.pictures.renditions import MEDIA_TYPES
from shared.web.limits import PICTURE_LINK_SECONDS


@club_page(Ability.SEE_PICTURES)
@require_safe
def picture(request: HttpRequest, name: str) -> HttpResponse:
    """Asked for anew each time, so that a withdrawn picture is gone at once; unchanged, it is not resent."""
    visible = Exhibit.objects.filter(visible_to(request.membership, timezone.localdate()))
    found = Rendition.objects.filter(name=name, exhibit__in=visible).first()
    if found is None:
        raise Http404("No such picture.")
    if settings.PICTURES_LINKED_FROM:
        return _linked(found)
    etag = f'"{found.name}"'
    known = parse_etags(request.headers.get("If-None-Match", ""))
    response = HttpResponseNotModified() if etag in known or "*" in known else _sent(found)
    response["ETag"] = etag
    response["Cache-Control"] = "private, no-cache"
    return response


def _linked(rendition: Rendition) -> HttpResponse:
    """To object storage, by a link that lives a few minutes. Browsers ask for a new one each time."""
    response = HttpResponseRedirect(signed_link(rendition.file))
    response["Cache-Control"] = "private, no-store"
    return response


def signed_link(path: str) -> str:
    """The storage's own signed address of a file. A storage that gives another is a misconfiguration."""
    takes_life = "expire" in inspect.signature(default_storage.url).parameters
    life = {"expire": PICTURE_LINK_SECONDS} if takes_life else {}
    url = default_storage.url(path, **life)
    if not url.startswith(settings.PICTURES_LINKED_FROM + "/") or not urlsplit(url).query:
        raise ImproperlyConfigured(
            f"The storage gives no signed link from {settings.PICTURES_LINKED_FROM}: look at STORAGE_OPTIONS."
        )
    return url


def _sent(rendition: Rendition) -> HttpResponse:
    kind = MEDIA_TYPES[rendition.format]
    if not settings.PICTURES_ACCEL_PREFIX:
        return FileResponse(default_storage.open(rendition.file), content_type=kind)
    response = HttpResponse(content_type=kind)
    response["X-Accel-Redirect"] = settings.PICTURES_ACCEL_PREFIX.rstrip("/") + "/" + rendition.file
    return response
