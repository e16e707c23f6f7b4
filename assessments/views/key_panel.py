"""An educator's side of a panel: asked, watched, closed, made the draft key."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from assessments.actions.key_panels import (
    ask_about_all,
    ask_more,
    ask_panel,
    call_off_panel,
    close_panel,
    draft_from_panel,
    look_at_markings,
    panel_method,
)
from assessments.forms.key_panel import AskAboutAllForm, AskMoreForm, AskPanelForm
from assessments.items import kind_of
from assessments.models import Item, Key, KeyPanel
from assessments.queries.key_panels import (
    finding_of,
    items_with_panels,
    may_be_looked_at,
    own_seats,
    panels_of,
    people_who_looked,
    reasons_against,
    record_of,
    with_counts,
)
from assessments.rules import NotReady, Refused
from assessments.views.desk import quiz_or_404
from assessments.views.item import item_or_404
from assessments.views.telling import told
from shared.accounts.permissions import Ability, club_page, may
from shared.web.limits import PAGE_LENGTH


@club_page(Ability.MARK_AS_PANELLIST)
def keypanels(request: HttpRequest) -> HttpResponse:
    """The open panels on which one sits, and the closed ones; an educator sees all of the club instead."""
    seats = own_seats(request.membership)
    all_of_club = may(request.membership, Ability.EDIT_QUIZZES)
    panels = with_counts(panels_of(request.club)).order_by("-opened_at", "-pk")
    rows = panels if all_of_club else seats.exclude(panel__closed_at=None)
    context = {
        "seats": seats.filter(panel__closed_at=None)[:PAGE_LENGTH],
        "all_of_club": all_of_club,
        "page": Paginator(rows, PAGE_LENGTH).get_page(request.GET.get("page")),
    }
    return render(request, "assessments/key_panel/list.html", context)


@club_page(Ability.MARK_AS_PANELLIST)
def keypanel_method(request: HttpRequest) -> HttpResponse:
    """How agreement is measured."""
    return render(request, "assessments/key_panel/method.html")


def panel_or_404(request: HttpRequest, pk: int) -> KeyPanel:
    """A key panel of the club with its panellists."""
    return get_object_or_404(panels_of(request.club), pk=pk)


@club_page(Ability.EDIT_QUIZZES)
@require_http_methods(["GET", "HEAD", "POST"])
def item_panel(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask a panel about an item; while one is at work, the way leads there."""
    found = item_or_404(request, pk)
    at_work = found.key_panels.filter(closed_at=None).first()
    if at_work is not None:
        return redirect("keypanel", request.club.slug, at_work.pk)
    form = AskPanelForm(request.POST or None, club=request.club, notes=_who_knows_the_key(found))
    if request.method == "POST" and form.is_valid():
        try:
            panel = ask_panel(item=found, by=request.membership, **form.cleaned_data)
        except Refused as refusal:
            form.add_error("members", str(refusal))
        except NotReady as refusal:
            form.add_error(None, " ".join(refusal.missing))
        else:
            messages.success(request, _("Asked. Each of them finds the exhibit on their day’s page."))
            return redirect("keypanel", request.club.slug, panel.pk)
    against = reasons_against(found) if kind_of(found).panel else [_("Its key is not drawn up by a panel.")]
    context = {"item": found, "form": form, "against": against}
    return render(request, "assessments/key_panel/ask.html", context, status=422 if form.errors else 200)


def _who_knows_the_key(*items: Item) -> dict[int, str]:
    """Persons who do not come fresh: who have looked at an earlier panel's markings, or drawn up a version."""
    looked = dict.fromkeys(people_who_looked(items), _("has seen an earlier panel’s markings"))
    return looked | {key.made_by_id: _("has worked on the key") for item in items for key in item.keys.all()}


@club_page(Ability.EDIT_QUIZZES)
@require_http_methods(["GET", "HEAD", "POST"])
def quiz_panel(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask one panel about several items of a quiz."""
    found = quiz_or_404(request, pk)
    items = items_with_panels(found)
    against = [(item, words) for item in items for words in _stands_against(item)]
    askable = items.exclude(pk__in=[item.pk for item, _words in against])
    form = AskAboutAllForm(
        request.POST or None, club=request.club, items=askable, notes=_who_knows_the_key(*askable)
    )
    if request.method == "POST" and form.is_valid():
        try:
            asked = ask_about_all(by=request.membership, **form.cleaned_data)
        except (Refused, NotReady) as refusal:
            form.add_error("members", str(refusal))
        else:
            words = ngettext("Asked about one item.", "Asked about %(n)d items.", len(asked))
            messages.success(request, words % {"n": len(asked)})
            return redirect("keypanels", request.club.slug)
    context = {"quiz": found, "form": form, "against": against, "askable": askable}
    return render(
        request, "assessments/key_panel/ask_about_all.html", context, status=422 if form.errors else 200
    )


def _stands_against(item: Item) -> list[str]:
    if kind_of(item).panel is None:
        return [_("its key is not drawn up by a panel.")]
    return [_("a panel is at work on it.")] if item.panel_open else reasons_against(item)


@club_page(Ability.EDIT_QUIZZES)
def keypanel(request: HttpRequest, pk: int) -> HttpResponse:
    """Who has handed in; once all have, or it is closed, what the panel amounts to, and the look is recorded."""
    panel = panel_or_404(request, pk)
    return _panel_page(request, panel, AskMoreForm(club=request.club, panel=panel))


def _panel_page(request: HttpRequest, panel: KeyPanel, form: AskMoreForm, status: int = 200) -> HttpResponse:
    seats = panel.panellists.all()
    context = {
        "panel": panel,
        "item": panel.item,
        "seats": seats,
        "handed_in": sum(seat.handed_in_at is not None for seat in seats),
        "form": form,
        "record": record_of(panel),
    }
    if may_be_looked_at(panel):
        look_at_markings(panel=panel, by=request.membership)
        context |= _found(panel)
    return render(request, "assessments/key_panel/panel.html", context, status=status)


def _found(panel: KeyPanel) -> dict[str, object]:
    """What the panel amounts to, as kept once it is closed, and the keys that came of it."""
    method = panel_method(panel.item)
    agreement, fit, result = panel.agreement, panel.fit, panel.result
    if panel.open:
        finding = finding_of(panel, method)
        agreement, fit, result = finding.agreement, finding.fit, finding.result
    return {
        "method": method,
        "found": method.lay_out(panel, result),
        "found_template": f"assessments/key_panel/{method.found}",
        "agreement": agreement,
        "fit": fit,
        "keys": Key.objects.filter(panel=panel, discarded_at=None).order_by("version"),
    }


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def keypanel_ask(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask further members."""
    panel = panel_or_404(request, pk)
    form = AskMoreForm(request.POST, club=request.club, panel=panel)
    if form.is_valid():
        try:
            ask_more(panel=panel, members=form.cleaned_data["members"], by=request.membership)
        except Refused as refusal:
            form.add_error("members", str(refusal))
        else:
            messages.success(request, _("Asked."))
            return redirect("keypanel", request.club.slug, pk)
    return _panel_page(request, panel, form, status=422)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def keypanel_close(request: HttpRequest, pk: int) -> HttpResponse:
    """Take no more markings."""
    with told(request, _("The panel is closed. What it agrees on is kept.")):
        close_panel(panel=panel_or_404(request, pk), by=request.membership)
    return redirect("keypanel", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def keypanel_call_off(request: HttpRequest, pk: int) -> HttpResponse:
    """End a panel in which nobody has handed in."""
    with told(request, _("The panel is called off.")):
        call_off_panel(panel=panel_or_404(request, pk), by=request.membership)
    return redirect("keypanel", request.club.slug, pk)


@require_POST
@club_page(Ability.EDIT_QUIZZES)
def keypanel_draft(request: HttpRequest, pk: int) -> HttpResponse:
    """What the panel agrees on becomes the draft key, where the rest is settled."""
    panel = panel_or_404(request, pk)
    try:
        draft_from_panel(panel=panel, by=request.membership)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("keypanel", request.club.slug, pk)
    messages.success(request, _("This is what the panel agrees on. Settle what remains, then publish."))
    return redirect("key", request.club.slug, panel.item_id)
