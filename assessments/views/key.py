"""The answer key of an item: drawn up, saved as one goes, published, and marking anew watched."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.key_panels import look_at_markings
from assessments.actions.keys import (
    DraftOvertaken,
    discard_draft,
    mark_the_rest,
    publish_key,
    save_draft,
    start_draft,
    take_back_draft,
)
from assessments.items import kind_of
from assessments.items.panel import departures
from assessments.models import Item, Key
from assessments.queries.evidence import upheld_of
from assessments.queries.items import versions_of
from assessments.queries.quizzes import discarded_key, draft_key, published_key
from assessments.queries.remarking import consequences_of_key, remarking_of_item
from assessments.rules import NotReady, Refused
from assessments.views.item import item_or_404
from assessments.views.saving import NOT_KEPT, Sent, kept, not_kept, overtaken, seen_in, sent_in
from assessments.views.telling import told
from courses.queries.severity import ladder_of
from shared.accounts.permissions import Ability, club_page


@club_page(Ability.EDIT_QUIZZES)
def key(request: HttpRequest, pk: int) -> HttpResponse:
    """The draft to draw up if there is one, else the key in use to look at."""
    found = item_or_404(request, pk)
    draft, in_use = draft_key(found), published_key(found)
    if draft is not None:
        return _draft(request, found, draft)
    if in_use is None:
        raise Http404
    return _version(request, found, in_use)


def _draft(
    request: HttpRequest, item: Item, draft: Key, missing: list[str] | None = None, status: int = 200
) -> HttpResponse:
    kind = kind_of(item)
    draft.item = item
    context = _of_the_panel(request, draft) | {
        "item": item,
        "draft": draft,
        "in_use": published_key(item),
        "drawn_up": kind.draw_up(draft),
        "words": kind.key_words(),
        "warned": kind.warned(draft),
        "scale": ladder_of(request.club),
        "missing": missing,
        "consequences": consequences_of_key(item),
        "upheld": upheld_of(item),
        "versions": versions_of(item),
    }
    return render(request, f"assessments/items/{kind.templates}/key.html", context, status=status)


def _of_the_panel(request: HttpRequest, draft: Key) -> dict[str, object]:
    """What the draft's panel marked lies on the picture; whoever opens the page has seen it."""
    method = kind_of(draft.item).panel
    if method is None or draft.panel is None:
        return {}
    look_at_markings(panel=draft.panel, by=request.membership)
    return {"departs": departures(method, draft), "outlines": method.outlines(draft.panel)}


def _version(request: HttpRequest, item: Item, shown: Key) -> HttpResponse:
    kind = kind_of(item)
    shown.item = item
    shown_key = kind.show_key(shown)
    context = {
        "departs": departures(kind.panel, shown),
        "item": item,
        "shown": shown,
        "in_use": published_key(item),
        "draft": draft_key(item),
        "discarded": discarded_key(item),
        "shown_key": shown_key,
        "drawn": _drawn(shown_key),
        "scale": ladder_of(request.club),
        "remarking": remarking_of_item(item),
        "upheld": upheld_of(item),
        "versions": versions_of(item),
    }
    return render(request, f"assessments/items/{kind.templates}/key_version.html", context)


def _drawn(shown_key: object) -> list[dict[str, object]]:
    """What of a key is drawn on the picture: the entries that have a place, of kinds that show entries."""
    rows = shown_key if isinstance(shown_key, list) else []
    return [{part: row[part] for part in ("letter", "regions")} for row in rows if "regions" in row]


@club_page(Ability.EDIT_QUIZZES)
def key_version(request: HttpRequest, pk: int, version: int) -> HttpResponse:
    """One published version as it was, never to be edited."""
    found = item_or_404(request, pk)
    shown = next((each for each in found.keys.all() if each.version == version and each.published_at), None)
    if shown is None:
        raise Http404
    return _version(request, found, shown)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def key_save(request: HttpRequest, pk: int) -> JsonResponse:
    """Keep the draft that the page sends; `draft` is named besides.

    409 returns what another window saved, 410 says that the draft is no longer open, 422 what is wrong.
    """
    found = item_or_404(request, pk)
    kind = kind_of(found)
    try:
        sent = sent_in(request)
        content = kind.read_key(found, len(ladder_of(request.club)), sent.content)
        draft = _draft_sent(found, sent)
        saved = save_draft(key=draft, **content, by=request.user, seen=sent.seen, identity=sent.identity)
    except NOT_KEPT as error:
        return not_kept(error, _("The key could not be read."))
    except DraftOvertaken as error:
        held = error.key
        content = kind.draw_up(held)["content"]
        return overtaken(error, content=content, revision=held.revision, last=held.last_save)
    saved.item = found
    return kept(saved, departs=departures(kind.panel, saved), warned=kind.warned(saved))


def _draft_sent(item: Item, sent: Sent) -> Key:
    """The draft that the page was opened on, which may have been discarded since."""
    wanted = sent.body["draft"]
    found = next((key for key in item.keys.all() if key.pk == wanted), None)
    if found is None:
        raise Refused(_("This draft is no longer there."))
    return found


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def key_publish(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the draft in use as it was looked at; what is missing is said on its page."""
    found = item_or_404(request, pk)
    try:
        published = publish_key(item=found, by=request.user, seen=seen_in(request))
    except NotReady as refusal:
        return _draft(request, found, draft_key(found), refusal.missing, status=422)
    except DraftOvertaken as error:
        words = [_("%(what)s Look at it below, then publish.") % {"what": error}]
        return _draft(request, found, draft_key(found), words, status=409)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("key", request.club.slug, pk)
    messages.success(request, _("Version %(n)d is in use.") % {"n": published.version})
    return redirect("key", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def key_start(request: HttpRequest, pk: int) -> HttpResponse:
    """A new draft that begins as the key in use."""
    start_draft(item=item_or_404(request, pk), by=request.user)
    return redirect("key", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def key_discard(request: HttpRequest, pk: int) -> HttpResponse:
    """Leave the draft be; the page of the key in use has the way back."""
    with told(request):
        discard_draft(item=item_or_404(request, pk))
    return redirect("key", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def key_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Go on with the draft that was discarded."""
    with told(request):
        take_back_draft(item=item_or_404(request, pk))
    return redirect("key", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def key_mark_rest(request: HttpRequest, pk: int) -> HttpResponse:
    """Set marking anew going again."""
    mark_the_rest(item=item_or_404(request, pk))
    return redirect("key", request.club.slug, pk)


@club_page(Ability.EDIT_QUIZZES)
def key_remarking(request: HttpRequest, pk: int) -> HttpResponse:
    """How far marking anew has got: a fragment that asks again until it is done."""
    found = item_or_404(request, pk)
    if not request.htmx:
        return redirect("key", request.club.slug, pk)
    context = {"item": found, "remarking": remarking_of_item(found)}
    return render(request, "assessments/key/_remarking.html", context)
