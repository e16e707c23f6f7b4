"""What assessments put on the day's page."""

from __future__ import annotations

from datetime import timedelta

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.text import Truncator
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.by_hand import papers_to_mark
from assessments.models import Item, Notice, Quiz
from assessments.queries.answers import waiting_for
from assessments.queries.cut import own_seats
from assessments.queries.evidence import upheld_queries
from assessments.queries.key_panels import all_handed_in, seats_at_work
from assessments.queries.mentorships import mentorships_of, trainees_without_mentor
from assessments.queries.papers import candidatures_of
from assessments.queries.quizzes import drafts_of_keys, quizzes_of
from assessments.queries.sittings import own_sittings, with_own_progress
from shared.accounts.roles import Role
from shared.web.home import ROWS, Part, Waiting, empty, part, waiting


@part(roles={Role.TRAINEE}, order=105)
def own_papers(request: HttpRequest) -> Part | None:
    """Papers that the member can begin, goes on with or waits for."""
    waited_for = candidatures_of(request.membership).filter(paper__released_at=None)
    waited_for = list(waited_for.filter(paper__closes_at__gt=timezone.now() - timedelta(days=60))[:ROWS])
    if not waited_for:
        return None
    return Part("assessments/home/_papers.html", {"papers": waited_for, "now": timezone.now()})


@part(roles={Role.TRAINEE}, order=140)
def quizzes(request: HttpRequest) -> Part:
    """What is begun, by the item at which it stands, then what is open."""
    begun = list(own_sittings(request.membership).filter(finished_at=None)[:ROWS])
    others = quizzes_of(request.club).filter(state=Quiz.State.OPEN).exclude(sittings__in=begun)
    others = list(with_own_progress(others, request.membership)[: ROWS - len(begun)])
    if not begun and not others:
        return empty(_("Quizzes"), _("Quizzes that the club opens will be here. Until then, read on."))
    return Part("assessments/home/_quizzes.html", {"begun": begun, "others": others})


@part(roles={Role.TRAINEE}, order=160, column="side")
def news(request: HttpRequest) -> Part:
    """What came back: looked at by a mentor, or marked anew."""
    notices = list(
        Notice.objects.filter(member=request.membership).select_related("answer__sitting__quiz")[:ROWS]
    )
    if notices:
        return Part("assessments/home/_news.html", {"notices": notices})
    mentors = mentorships_of([request.membership])[request.membership.pk]
    if not mentors:
        return empty(_("From your mentor"), _("You have no mentor yet. The club’s secretary assigns one."))
    words = _("When %(name)s has looked at an answer, what was said will be here, pinned to the picture.")
    names = _(" or ").join(str(mentorship.mentor.person) for mentorship in mentors)
    return empty(_("From your mentor"), words % {"name": names})


@waiting(roles={Role.MENTOR}, order=310)
def answers_to_look_at(request: HttpRequest) -> list[Waiting]:
    """The mentor's queue as one line, with the way to its first answer."""
    queue = waiting_for(request.membership).prefetch_related(None).select_related(None)
    first, count = queue.first(), queue.count()
    if first is None:
        return []
    what = ngettext("An answer waits for you.", "%(n)s answers wait for you.", count) % {"n": count}
    since = date_format(first.handed_in_at, "j F")
    detail = (
        _("The first asks about its mark.") if first.asks else _("The first since %(on)s.") % {"on": since}
    )
    url = reverse("review", args=[request.club.slug, first.pk])
    return [Waiting(what=what, detail=detail, url=url, verb=_("Look at the first"))]


@waiting(roles={Role.MENTOR}, order=312)
def papers_by_number(request: HttpRequest) -> list[Waiting]:
    """Answers to sealed papers that a person has to mark, whose candidates go by number."""
    return [
        Waiting(
            what=_("Answers to “%(paper)s” wait for a person’s mark.") % {"paper": paper.quiz},
            detail=_("Candidates go by number."),
            url=reverse("paper-scripts", args=[request.club.slug, paper.pk]),
            verb=_("Look at the first"),
        )
        for paper in papers_to_mark(request.membership)[:ROWS]
    ]


@waiting(roles={Role.EDUCATOR}, order=225)
def keys_in_work(request: HttpRequest) -> list[Waiting]:
    """Drafts of keys that are not published, the last saved first."""
    drafts = drafts_of_keys(request.club)
    shown, count = list(drafts[:ROWS]), drafts.count()
    if not shown:
        return []
    names = ", ".join(key.item.name for key in shown) + (" …" if count > len(shown) else ".")
    waits = ngettext(
        "Nothing changes for trainees until it is published.",
        "Nothing changes for trainees until they are published.",
        count,
    )
    first = shown[0].item
    return [
        Waiting(
            what=ngettext("A key is in work.", "%(n)d keys are in work.", count) % {"n": count},
            detail=f"{names} {waits}",
            url=reverse("key", args=[request.club.slug, first.pk]),
            verb=_("Go on with it") if count == 1 else _("Go on with the latest"),
            picture=_picture(request, first),
        )
    ]


def _picture(request: HttpRequest, item: Item) -> str:
    """The address of its exhibit's smallest picture; nothing where there is none."""
    renditions = item.exhibit.renditions.all() if item.exhibit else []
    smallest = next((each for each in renditions if each.format == "jpeg"), None)
    return reverse("picture", args=[request.club.slug, smallest.name]) if smallest else ""


@waiting(roles={Role.EDUCATOR, Role.MENTOR}, order=230)
def exhibits_to_mark(request: HttpRequest) -> list[Waiting]:
    """What one is asked to mark for its key: the most urgent, and how many more."""
    seats = seats_at_work(request.membership)
    first, count = seats.first(), seats.count()
    if first is None:
        return []
    panel, number = first.panel, first.panel.item.exhibit.number
    what = _("Exhibit %(n)d is to be marked for its key.") % {"n": number}
    if count > 1:
        what = _("%(n)d exhibits are to be marked for their keys.") % {"n": count}
    detail = _("You mark alone, and see nobody else’s marking.")
    if panel.wanted_by:
        wanted = {"when": date_format(panel.wanted_by, "j F"), "n": number}
        until = _("Wanted by %(when)s.") if count == 1 else _("Exhibit %(n)d is wanted by %(when)s.")
        detail = f"{until % wanted} {detail}"
    return [
        Waiting(
            what=what,
            detail=detail,
            url=reverse("marking", args=[request.club.slug, first.pk]),
            verb=_("Mark it") if count == 1 else _("Mark the first"),
            picture=_picture(request, panel.item),
        )
    ]


@waiting(roles={Role.EDUCATOR}, order=227)
def panels_done(request: HttpRequest) -> list[Waiting]:
    """Panels in which all have handed in, as one line."""
    panels = all_handed_in(request.club)
    first, count = panels.first(), panels.count()
    if first is None:
        return []
    what = ngettext(
        "All have marked exhibit %(exhibit)d for its key.", "%(n)d panels have marked for a key.", count
    )
    return [
        Waiting(
            what=what % {"n": count, "exhibit": first.item.exhibit.number},
            detail=_("See what they agree on, close the panel, and make it the draft key."),
            url=reverse("keypanel", args=[request.club.slug, first.pk]),
            verb=_("See it") if count == 1 else _("See the first"),
            picture=_picture(request, first.item),
        )
    ]


@waiting(roles={Role.EDUCATOR, Role.MENTOR}, order=330)
def estimates_asked_for(request: HttpRequest) -> list[Waiting]:
    """Quizzes for whose pass mark one is asked."""
    return [
        Waiting(
            what=_("Your estimates for the pass mark of “%(quiz)s” are waited for.")
            % {"quiz": seat.study.quiz.title},
            detail=_("Asked on %(on)s.") % {"on": date_format(seat.study.begun_at, "j F")},
            url=reverse("cut", args=[request.club.slug, seat.study_id]),
            verb=_("Estimate"),
        )
        for seat in own_seats(request.membership)[:ROWS]
    ]


@waiting(roles={Role.EDUCATOR}, order=240)
def queries_upheld(request: HttpRequest) -> list[Waiting]:
    """Keys that a mentor says are to be mended, one line for each item, with the way to its key."""
    queries = upheld_queries(request.club).select_related("answer__item__exhibit", "answer__item__clause")
    by_item = {query.answer.item: query for query in queries[: 4 * ROWS]}
    return [
        Waiting(
            what=_("A query on a key was upheld: %(item)s.") % {"item": item.name},
            detail=f"“{Truncator(query.text).words(18)}”",
            url=reverse("key", args=[request.club.slug, item.pk]),
            verb=_("Look at the key"),
        )
        for item, query in list(by_item.items())[:ROWS]
    ]


@waiting(roles={Role.SECRETARY}, order=405)
def nobody_looks(request: HttpRequest) -> list[Waiting]:
    """Trainees at whose answers nobody looks, since no mentor is assigned."""
    without = trainees_without_mentor(request.club)
    first = without.first()
    if first is None:
        return []
    count = without.count()
    what = ngettext("%(name)s has no mentor.", "%(n)s trainees have no mentor.", count)
    one, all_of_them = reverse("mentorship", args=[request.club.slug, first.pk]), _members(request)
    return [
        Waiting(
            what=what % {"n": count, "name": first.person},
            detail=_("Nobody looks at what they answer until one is assigned."),
            url=one if count == 1 else all_of_them,
            verb=_("Assign a mentor") if count == 1 else _("See whom"),
        )
    ]


def _members(request: HttpRequest) -> str:
    return f"{reverse('members', args=[request.club.slug])}?role=trainee"
