"""What courses put on the day's page."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from courses.models import Exhibit, Module, Plate
from courses.models.choices import State
from courses.queries.exhibit import with_pictures
from courses.queries.permission import ending_soon, without_permission
from courses.queries.placement import wanting_points
from courses.queries.plate import first_on_plate, plates_showing
from courses.queries.study import contents_for, course_contents, go_on_at, last_stop, plate_near
from shared.accounts.roles import Role
from shared.web.home import ROWS, Part, Waiting, empty, part, waiting


@part(roles={Role.TRAINEE}, order=110)
def where_you_stopped(request: HttpRequest) -> Part:
    """The place where the trainee stopped, a plate large with its clause; else where to begin."""
    stop = last_stop(request.membership)
    if stop is None:
        line = go_on_at(contents_for(request.membership))
        if line is None:
            words = _("Courses that the club publishes will be here, and you go on where you stopped.")
            return empty(_("Study"), words, reverse("study", args=[request.club.slug]), _("Look at Study"))
        return Part("courses/home/_stopped.html", {"module": line.module, "place": line.stop, "begun": False})
    plate = plate_near(stop.place)
    clause, exhibit = first_on_plate(plate) if plate else (None, None)
    clause = clause if stop.place.plate else None
    context = {"module": stop.module, "place": stop.place, "clause": clause, "exhibit": exhibit}
    return Part("courses/home/_stopped.html", {**context, "begun": True})


@part(roles={Role.TRAINEE}, order=150, column="side")
def contents(request: HttpRequest) -> Part | None:
    """The course being read, as a table of contents."""
    found = course_contents(request.membership)
    return (
        Part("courses/home/_contents.html", {"course": found.course, "lines": found.lines}) if found else None
    )


@waiting(roles={Role.EDUCATOR, Role.SECRETARY}, order=210)
def permissions_that_end(request: HttpRequest) -> list[Waiting]:
    """Exhibits that leave their plates within a fortnight, as things stand."""
    rows = ending_soon(request.club, timezone.localdate())
    count, shown = rows.count(), list(with_pictures(rows)[:ROWS])
    if not shown:
        return []
    days = [word.ends_on for each in shown for word in each.permissions.all() if word.ends_on]
    first = date_format(min(day for day in days if day > timezone.localdate()), "j F")
    what = ngettext("A permission ends on %(day)s.", "%(n)d permissions end, the first on %(day)s.", count)
    plates = plates_showing(shown)
    return [
        Waiting(
            what=what % {"n": count, "day": first},
            detail=f"{_numbers(shown, count)} {_leaves(plates)}".strip(),
            url=reverse("exhibits", args=[request.club.slug]) + "?ending=on",
            verb=ngettext("Ask the owner", "Ask the owners", count),
            picture=_thumb(request, shown[0]),
        )
    ]


@waiting(roles={Role.EDUCATOR}, order=215)
def photographs_without_permission(request: HttpRequest) -> list[Waiting]:
    """Photographs that no owner's word lets be taught with."""
    rows = without_permission(request.club, timezone.localdate()).exclude(state=State.WITHDRAWN)
    count, shown = rows.count(), list(with_pictures(rows)[:ROWS])
    if not shown:
        return []
    what = ngettext("A photograph has no permission.", "%(n)d photographs have no permission.", count)
    return [
        Waiting(
            what=what % {"n": count},
            detail=_("%(numbers)s Until the owner’s word is recorded, no trainee sees it.")
            % {"numbers": _numbers(shown, count)},
            url=reverse("exhibits", args=[request.club.slug]) + "?uncovered=on",
            verb=_("Record it"),
            picture=_thumb(request, shown[0]),
        )
    ]


@waiting(roles={Role.EDUCATOR, Role.MENTOR}, order=330)
def points_to_place(request: HttpRequest) -> list[Waiting]:
    """Photographs on which one other person has placed points: a second makes a spread."""
    rows = wanting_points(request.membership, timezone.localdate()).order_by("number")
    first = with_pictures(rows).first()
    if first is None:
        return []
    count = rows.count()
    what = ngettext(
        "A photograph wants a second person’s points.",
        "%(n)d photographs want a second person’s points.",
        count,
    )
    return [
        Waiting(
            what=what % {"n": count},
            detail=_("Placed by each alone; how far you are apart is how far its measures can be trusted."),
            url=reverse("exhibit-points", args=[request.club.slug, first.number]),
            verb=_("Place points on exhibit %(n)d") % {"n": first.number},
            picture=_thumb(request, first),
        )
    ]


@part(roles={Role.EDUCATOR}, order=230)
def drafts(request: HttpRequest) -> Part:
    """Plates and modules that are not published yet, the last changed first."""
    draft = {"state": State.DRAFT}
    plates = Plate.objects.filter(edition__breed__club=request.club, **draft)
    modules = Module.objects.filter(course__edition__breed__club=request.club, **draft)
    found = chain(plates.order_by("-changed_at")[:ROWS], modules.order_by("-changed_at")[:ROWS])
    latest = sorted(found, key=lambda each: each.changed_at, reverse=True)[:ROWS]
    if not latest:
        words = _("Plates and modules that you have not published yet will be here.")
        return empty(_("Drafts"), words, reverse("plate-new", args=[request.club.slug]), _("Begin a plate"))
    lines = [(_title(each), _address(request, each), each.changed_at) for each in latest]
    return Part("courses/home/_drafts.html", {"lines": lines})


def _title(draft: Plate | Module) -> str:
    if isinstance(draft, Plate):
        return _("Plate %(n)d. %(title)s") % {"n": draft.number, "title": draft.title}
    return _("Module: %(title)s") % {"title": draft.title}


def _address(request: HttpRequest, draft: Plate | Module) -> str:
    route = "plate" if isinstance(draft, Plate) else "module"
    return reverse(route, args=[request.club.slug, draft.pk])


def _numbers(shown: Sequence[Exhibit], count: int) -> str:
    """Exhibits 12 and 19."""
    words = ngettext("Exhibit %(numbers)s.", "Exhibits %(numbers)s.", count)
    numbers = ", ".join(str(each.number) for each in shown) + (" …" if count > len(shown) else "")
    return words % {"numbers": numbers}


def _leaves(plates: list[int]) -> str:
    if not plates:
        return ""
    words = ngettext(
        "The picture leaves plate %(plates)s then.", "The pictures leave plates %(plates)s then.", len(plates)
    )
    return words % {"plates": ", ".join(str(number) for number in plates)}


def _thumb(request: HttpRequest, exhibit: Exhibit) -> str:
    smallest = next((each for each in exhibit.renditions.all() if each.format == "jpeg"), None)
    return reverse("picture", args=[request.club.slug, smallest.name]) if smallest else ""
