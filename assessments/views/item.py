"""One item: where it is asked, the versions of its key, its answers; retiring it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from assessments.actions.items import bring_back_item, retire_item
from assessments.items import kind_of
from assessments.models import Item
from assessments.queries.copies import moved_clauses, newer_editions
from assessments.queries.items import answers_of, uses_of, versions_of
from assessments.queries.key_panels import PANELS_SHOWN, with_counts
from assessments.queries.quizzes import discarded_key, draft_key, items_of, published_key
from assessments.queries.remarking import remarking_of_item
from shared.accounts.permissions import Ability, club_page


def item_or_404(request: HttpRequest, pk: int) -> Item:
    """An item of the club with its exhibit and its keys."""
    return get_object_or_404(items_of(request.club), pk=pk)


@club_page(Ability.EDIT_QUIZZES)
def item(request: HttpRequest, pk: int) -> HttpResponse:
    """All that an educator may ask about an item before changing it."""
    found = item_or_404(request, pk)
    context = {
        "item": found,
        "in_use": published_key(found),
        "draft": draft_key(found),
        "discarded": discarded_key(found),
        "versions": versions_of(found),
        "uses": uses_of(found),
        "answers": answers_of(found),
        "remarking": remarking_of_item(found),
        "newer": newer_editions(found),
        "moved": moved_clauses(found) if found.state == Item.State.DRAFT else [],
        "panels": with_counts(found.key_panels.all())[:PANELS_SHOWN],
        "takes_panels": kind_of(found).panel is not None,
    }
    return render(request, "assessments/item/item.html", context)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def item_retire(request: HttpRequest, pk: int) -> HttpResponse:
    """Out of use in every quiz; undone by bringing it back."""
    retire_item(item=item_or_404(request, pk))
    messages.success(request, _("Retired: no new sitting asks it. Its answers and marks stay."))
    return redirect("item", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def item_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Into use again."""
    bring_back_item(item=item_or_404(request, pk))
    messages.success(request, _("Back: quizzes that hold it ask it again."))
    return redirect("item", request.club.slug, pk)
