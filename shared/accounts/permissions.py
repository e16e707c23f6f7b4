"""Who may do what in a club: the one table that every page asks.

A page names one ability. `club_page` finds the club and the membership, answers 404 to a stranger (who need
not learn that the club exists) and 403 to a member without the role, and leaves `request.club` and
`request.membership` for the view. A page outside any club says so with `outside_clubs`. The tests walk all
routes and fail on one that does neither.
"""

from __future__ import annotations

import functools
import zoneinfo
from collections.abc import Callable
from enum import Enum
from urllib.parse import urlsplit

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.utils.http import url_has_allowed_host_and_scheme

from shared.accounts.models import Membership
from shared.accounts.roles import Role

View = Callable[..., HttpResponse]
ALL = frozenset(Role)
EDUCATOR = frozenset({Role.EDUCATOR})
MENTOR = frozenset({Role.MENTOR})
TRAINEE = frozenset({Role.TRAINEE})
SECRETARY = frozenset({Role.SECRETARY})


class Ability(Enum):
    """What can be done in a club."""

    ENTER = "enter the club"
    STUDY = "read published courses"
    SEE_PICTURES = "see the pictures of published exhibits"
    SEE_ALL_PICTURES = "see the pictures of all exhibits"
    EDIT_STANDARD = "edit the standard"
    EDIT_EXHIBITS = "edit exhibits"
    EDIT_COURSES = "edit plates, modules and courses"
    EDIT_QUIZZES = "edit quizzes and keys"
    MEASURE_EXHIBITS = "place points and read measures"
    MARK_AS_PANELLIST = "mark an exhibit for its key"
    SET_PAPERS = "set examination papers"
    STEWARD_PAPERS = "see the candidates of papers and type in answers"
    READ_SCRIPTS = "look at answers to papers by number"
    READ_EVIDENCE = "read the evidence"
    SEE_QUIZZES = "see the list of quizzes"
    ANSWER = "answer quizzes"
    READ_OWN_RECORD = "read one's own record"
    REVIEW = "review trainees' answers"
    MARK_TWICE = "ask for second markings, give and settle them"
    ASSESS = "sit on panels and see how they stand"
    LEAD_MENTORING = "set how the club mentors, ask panels, read trainees' words"
    MANAGE_MEMBERS = "manage members and invitations"
    ERASE_MEMBERS = "erase members, set how long things are kept"
    RECORD_PERMISSIONS = "record owners' permissions"


ROLES: dict[Ability, frozenset[Role]] = {
    Ability.ENTER: ALL,
    Ability.STUDY: ALL,
    Ability.SEE_PICTURES: ALL,
    Ability.SEE_ALL_PICTURES: EDUCATOR | SECRETARY,
    Ability.EDIT_STANDARD: EDUCATOR,
    Ability.EDIT_EXHIBITS: EDUCATOR,
    Ability.EDIT_COURSES: EDUCATOR,
    Ability.EDIT_QUIZZES: EDUCATOR,
    Ability.MEASURE_EXHIBITS: EDUCATOR | MENTOR,
    Ability.MARK_AS_PANELLIST: EDUCATOR | MENTOR,
    Ability.SET_PAPERS: EDUCATOR,
    Ability.STEWARD_PAPERS: EDUCATOR | SECRETARY,
    Ability.READ_SCRIPTS: EDUCATOR | MENTOR,
    Ability.READ_EVIDENCE: EDUCATOR,
    Ability.SEE_QUIZZES: EDUCATOR | TRAINEE,
    Ability.ANSWER: TRAINEE,
    Ability.READ_OWN_RECORD: TRAINEE,
    Ability.REVIEW: MENTOR,
    Ability.MARK_TWICE: EDUCATOR | MENTOR,
    Ability.ASSESS: EDUCATOR | MENTOR,
    Ability.LEAD_MENTORING: EDUCATOR,
    Ability.MANAGE_MEMBERS: SECRETARY,
    Ability.ERASE_MEMBERS: SECRETARY,
    Ability.RECORD_PERMISSIONS: EDUCATOR | SECRETARY,
}


def may(membership: Membership | None, ability: Ability) -> bool:
    """Whether a role held in the club carries the ability."""
    return membership is not None and not ROLES[ability].isdisjoint(membership.roles)


def membership_of(person: object, slug: str) -> Membership:
    """The person's present membership in the club, club and person at hand; a stranger gets 404."""
    found = (
        Membership.objects.select_related("club", "person")
        .filter(person=person, club__slug=slug, left_at=None)
        .first()
    )
    if found is None:
        raise Http404("No such club.")
    return found


def to_sign_in(request: HttpRequest) -> HttpResponse:
    """Send a signed-out visitor to sign in, and afterwards back to the page that they stood on."""
    if request.method in ("GET", "HEAD") and not request.htmx:
        return redirect_to_login(request.get_full_path())
    stood_on = request.headers.get("HX-Current-URL") or request.headers.get("Referer", "")
    if not url_has_allowed_host_and_scheme(stood_on, {request.get_host()}):
        return redirect_to_login(reverse("home"))
    return redirect_to_login(urlsplit(stood_on)._replace(scheme="", netloc="", fragment="").geturl())


def club_page(ability: Ability) -> Callable[[View], View]:
    """Let a view be opened by members with the ability; the first URL argument is `club`, a slug."""

    def protect(view: View) -> View:
        @functools.wraps(view)
        def page(request: HttpRequest, club: str, **kwargs: object) -> HttpResponse:
            if not request.user.is_authenticated:
                return to_sign_in(request)
            request.membership = membership_of(request.user, club)
            request.club = request.membership.club
            if not may(request.membership, ability):
                raise PermissionDenied(ability.value)
            with timezone.override(zoneinfo.ZoneInfo(request.club.time_zone)):
                response = view(request, **kwargs)
                if hasattr(response, "render") and not getattr(response, "is_rendered", True):
                    response.render()
            response.headers.setdefault("Cache-Control", "private, no-cache")
            patch_vary_headers(response, ["Cookie"])
            return response

        page.ability = ability
        return page

    return protect


def outside_clubs(*, signed_in: bool) -> Callable[[View], View]:
    """A page that belongs to no club, open to all or to whoever is signed in."""

    def protect(view: View) -> View:
        @functools.wraps(view)
        def page(request: HttpRequest, **kwargs: object) -> HttpResponse:
            if signed_in and not request.user.is_authenticated:
                return to_sign_in(request)
            response = view(request, **kwargs)
            if request.user.is_authenticated:
                response.headers.setdefault("Cache-Control", "private, no-cache")
            patch_vary_headers(response, ["Cookie"])
            return response

        page.ability = None
        page.signed_in = signed_in
        return page

    return protect
