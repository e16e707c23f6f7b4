"""One size of one exhibit's picture, for members who may see it today."""

from __future__ import annotations

from django.conf import settings
from django.core.files.storage import default_storage
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseNotModified
from django.utils import timezone
from django.utils.http import parse_etags
from django.views.decorators.http import require_safe

from courses.models import Exhibit, Rendition
from courses.queries.permission import visible_to
from shared.accounts.permissions import Ability, club_page
from shared.pictures.renditions import MEDIA_TYPES


@club_page(Ability.SEE_PICTURES)
@require_safe
def picture(request: HttpRequest, name: str) -> HttpResponse:
    """Asked for anew each time, so that a withdrawn picture is gone at once; unchanged, it is not resent."""
    visible = Exhibit.objects.filter(visible_to(request.membership, timezone.localdate()))
    found = Rendition.objects.filter(name=name, exhibit__in=visible).first()
    if found is None:
        raise Http404("No such picture.")
    etag = f'"{found.name}"'
    known = parse_etags(request.headers.get("If-None-Match", ""))
    response = HttpResponseNotModified() if etag in known or "*" in known else _sent(found)
    response["ETag"] = etag
    response["Cache-Control"] = "private, no-cache"
    return response


def _sent(rendition: Rendition) -> HttpResponse:
    kind = MEDIA_TYPES[rendition.format]
    if not settings.PICTURES_ACCEL_PREFIX:
        return FileResponse(default_storage.open(rendition.file), content_type=kind)
    response = HttpResponse(content_type=kind)
    response["X-Accel-Redirect"] = settings.PICTURES_ACCEL_PREFIX.rstrip("/") + "/" + rendition.file
    return response
