"""The walk of all routes: what is asked of every page is asked of every page, by every role.

Nothing has to be done for a new page whose address names only things that ARGUMENTS below already knows.
If the address names something new (`<int:drill>`), the walk fails and says so: add one line to ARGUMENTS, the
argument's name and a function that makes the thing for a scene, with a maker of `tests/makers/`. It must be
one that can be opened: published where trainees go, the trainee's own where answers are, so that somebody's
visit succeeds. Take other things of the scene by `scene.thing("edition")`, so that they belong together.
An argument called `pk`, `number`, `slug` or `name` is that field of the thing under the first part of the route's
name ("quiz" for `quiz-begin`). If one route needs another thing than its fellows, use the key
"route-name.argument".

A page must name its ability (`club_page`) or say that it is outside all clubs (`outside_clubs`). A page of
another package can do neither: it is listed in FOREIGN, with the reason.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db.models import Model
from django.http import HttpResponse
from django.test import Client
from django.urls import URLResolver, converters, get_resolver, reverse
from django.utils import timezone

from assessments.actions.cut import close_cut_study, give_estimates, keep_estimates
from assessments.actions.reviews import pin_comment
from assessments.actions.sittings import begin_sitting
from assessments.models import Answer
from courses.actions.exhibit import show_fault
from shared.accounts.actions.erasure import ask_to_be_erased
from shared.accounts.models import Club, Membership
from shared.accounts.permissions import ROLES, Ability
from shared.accounts.roles import Role
from tests import routes_of_papers as papers
from tests.conftest import Cast
from tests.makers import (
    make_clause,
    make_critique,
    make_cut_study,
    make_edition,
    make_fault,
    make_handed_in,
    make_invitation,
    make_key_panel,
    make_member,
    make_mentorship,
    make_module,
    make_open_quiz,
    make_panel,
    make_placement,
    make_plate,
    make_published,
    make_scale,
    make_second_marking,
    make_session,
    make_sign_off,
    make_told,
    make_written,
    permit,
)

# Packages (or namespaces of routes) whose pages are outside our hands, and why that is well.
FOREIGN = {
    "allauth": "sign-in and one's own account; tests/shared/accounts/test_sign_in.py opens each",
    "admin": "operators only; tests/shared/accounts/test_operators.py opens each",
}
FIELDS = {"pk", "number", "slug", "name"}


@dataclass
class Scene:
    """One club with its people and, made when first asked for, one of each thing that an address can name."""

    club: Club
    educator: Membership
    mentor: Membership
    trainee: Membership
    secretary: Membership
    made: dict[str, Any] = field(default_factory=dict)

    def thing(self, name: str) -> Any:
        """The scene's one thing of this name."""
        if name not in self.made:
            self.made[name] = ARGUMENTS[name](self)
        return self.made[name]


ARGUMENTS: dict[str, Callable[[Scene], Any]] = {
    "club": lambda scene: scene.club,
    # People and clubs
    "member": lambda scene: scene.trainee,
    "member-record.member": lambda scene: left(
        make_member(scene.club, f"Former trainee of {scene.club}", trainee=True)
    ),
    "member-erase-decline.member": lambda scene: ask_to_be_erased(membership=scene.trainee).membership,
    "invitation": lambda scene: make_invitation(scene.club)[0],
    "token": lambda scene: make_invitation(scene.club)[1],
    # Courses
    "edition": lambda scene: make_edition(scene.club),
    "breed": lambda scene: scene.thing("edition").breed,
    "clause": lambda scene: make_clause(scene.thing("edition")),
    "section": lambda scene: scene.thing("clause").section,
    "fault": lambda scene: make_fault(scene.thing("edition"), "Cow hocks", "7.1"),
    "scale": lambda scene: make_scale(scene.club),
    "exhibit": lambda scene: make_published(scene.club, scene.educator, seed=scene.club.pk),
    "picture": lambda scene: scene.thing("exhibit").renditions.first(),
    "shown": lambda scene: show_fault(
        exhibit=scene.thing("exhibit"), fault=make_fault(scene.thing("edition")), clause=None, level=1
    ),
    "placement": lambda scene: make_placement(
        scene.thing("exhibit"), scene.educator, {"withers": (0.5, 0.2), "elbow": (0.5, 0.4)}
    ),
    "permission": lambda scene: permit(
        scene.thing("exhibit"), scene.educator, form=SimpleUploadedFile("form.pdf", b"%PDF")
    ),
    "plate": lambda scene: make_plate(
        scene.thing("edition"),
        scene.educator,
        clauses=[scene.thing("clause")],
        correct=[scene.thing("exhibit")],
    ),
    "module": lambda scene: make_module(scene.thing("edition")),
    "course": lambda scene: scene.thing("module").course,
    "place": lambda scene: scene.thing("module").places.get(),
    # Assessments
    "quiz": lambda scene: make_open_quiz(scene.thing("edition"), scene.educator),
    "item": lambda scene: scene.thing("quiz").items.get(),
    "kind": lambda scene: scene.thing("item") and "mark-the-faults",
    "key": lambda scene: scene.thing("item"),
    "version": lambda scene: scene.thing("item").keys.get().version,
    "keypanel": lambda scene: make_key_panel(scene.thing("item"), scene.educator, scene.educator),
    "marking": lambda scene: scene.thing("keypanel").panellists.get(),
    "cutstudy": lambda scene: make_cut_study(scene.thing("quiz"), scene.educator, *estimators(scene)),
    "evidence-mentor.member": lambda scene: scene.mentor,
    "evidence-cut-study.cutstudy": lambda scene: closed_cut(scene),
    "evidence-cut-csv.cutstudy": lambda scene: closed_cut(scene),
    "sitting": lambda scene: begin_sitting(quiz=scene.thing("quiz"), trainee=scene.trainee),
    "answer": lambda scene: scene.thing("sitting").answers.get(),
    "answer-query.pk": lambda scene: make_handed_in(scene.thing("answer")),
    "review": lambda scene: reviewable(scene),
    "paper": lambda scene: papers.a_paper(scene),
    **papers.OF_PAPERS,
    "review-mark.pk": lambda scene: make_written(
        mentored(scene), make_critique(scene.thing("edition"), scene.educator)
    ),
    "comment": lambda scene: pin_comment(answer=scene.thing("review"), author=scene.mentor, text="Look."),
    "second": lambda scene: make_second_marking(scene.thing("review"), scene.mentor, scene.educator),
    "panel": lambda scene: make_panel(scene.thing("panel-ask.sitting"), scene.mentor, scene.educator),
    "panel-ask.sitting": lambda scene: scene.thing("review").sitting,
    "panel-answer.answer": lambda scene: scene.thing("panel").sitting.answers.get(),
    "seat": lambda scene: scene.thing("panel").seats.get(),
    "record-panel.pk": lambda scene: make_told(scene.thing("panel"), scene.educator),
    "session": lambda scene: make_session(scene.mentor, scene.trainee, held_on=None),
    "record-session.pk": lambda scene: make_session(scene.mentor, scene.trainee).trainees.get(),
    "signoff": lambda scene: make_sign_off(scene.thing("trainee"), scene.mentor, scene.thing("quiz")),
    "mentoring": lambda scene: scene.trainee,
    "trainee": lambda scene: mentored(scene),
    "mentorship": lambda scene: make_mentorship(
        scene.mentor, make_member(scene.club, f"Trainee of {scene.club}", trainee=True)
    ),
}


def left(member: Membership) -> Membership:
    """No longer a member."""
    member.left_at = timezone.now()
    member.save()
    return member


def estimators(scene: Scene) -> list[Membership]:
    """Members who are asked for estimates: two at least, whoever holds which roles."""
    third = make_member(scene.club, f"Estimator {len(scene.made)} of {scene.club}", mentor=True)
    return list({scene.educator, scene.mentor, third})


def closed_cut(scene: Scene) -> Any:
    """A closed round of estimates, of a quiz of its own."""
    quiz = make_open_quiz(scene.thing("edition"), scene.educator, title="Estimated")
    study = make_cut_study(quiz, scene.educator, *estimators(scene))
    for panellist in study.panellists.all():
        keep_estimates(panellist=panellist, estimates={study.items[0]: 60})
        give_estimates(panellist=panellist)
    return close_cut_study(study=study, by=scene.educator.person)


def reviewable(scene: Scene) -> Answer:
    """An answer handed in by a trainee of the scene's mentor."""
    mentored(scene)
    return make_handed_in(scene.thing("answer"))


def mentored(scene: Scene) -> Membership:
    """The scene's trainee, mentored by its mentor unless one person is both."""
    known = scene.mentor == scene.trainee or scene.trainee.mentors_of.filter(mentor=scene.mentor).exists()
    if not known:
        make_mentorship(scene.mentor, scene.trainee)
    return scene.trainee


@dataclass(frozen=True)
class Route:
    """One address of the site, with the view behind it."""

    name: str
    owner: str
    view: Callable[..., HttpResponse]
    arguments: tuple[tuple[str, object], ...]

    def __str__(self) -> str:
        return self.name

    @property
    def things(self) -> list[str]:
        """The arguments that name a thing within the club."""
        return [name for name, _converter in self.arguments if name != "club"]

    def values(self, scene: Scene) -> dict[str, object]:
        """Each argument's value for the scene's things."""
        return {name: self._value(scene, name, converter) for name, converter in self.arguments}

    def unknown(self, name: str) -> list[object]:
        """Values of the argument's kind that name nothing."""
        converter = dict(self.arguments)[name]
        if isinstance(converter, converters.IntConverter):
            return [987_654_321, 2**70]
        return [uuid.UUID(int=1)] if isinstance(converter, converters.UUIDConverter) else ["no-such-thing"]

    def _value(self, scene: Scene, name: str, converter: object) -> object:
        special = f"{self.name}.{name}"
        usual = self.name.partition("-")[0] if name in FIELDS else name
        if special not in ARGUMENTS and usual not in ARGUMENTS:
            pytest.fail(f"{self.name}: add {usual!r} or {special!r} to ARGUMENTS in tests/test_routes.py.")
        thing = scene.thing(special if special in ARGUMENTS else usual)
        if not isinstance(thing, Model):
            return thing
        if name in FIELDS:
            return getattr(thing, name)
        return thing.slug if isinstance(converter, converters.SlugConverter) else thing.pk


def walk(
    resolver: URLResolver, before: tuple[tuple[str, object], ...] = (), owner: str = ""
) -> Iterator[Route]:
    """All routes below a resolver."""
    for entry in resolver.url_patterns:
        found = getattr(entry.pattern, "converters", {}) or dict.fromkeys(entry.pattern.regex.groupindex)
        arguments = before + tuple(found.items())
        if isinstance(entry, URLResolver):
            yield from walk(entry, arguments, owner or entry.namespace or "")
        else:
            package = owner or entry.callback.__module__.partition(".")[0]
            yield Route(entry.name or str(entry.pattern), package, entry.callback, arguments)


ALL = list(walk(get_resolver()))
OURS = [route for route in ALL if route.owner not in FOREIGN]
CLUB = [route for route in OURS if isinstance(getattr(route.view, "ability", ""), Ability)]
OUTSIDE = [route for route in OURS if getattr(route.view, "ability", "") is None]
club_routes = pytest.mark.parametrize("route", CLUB, ids=str)
outside_routes = pytest.mark.parametrize("route", OUTSIDE, ids=str)


@pytest.fixture
def scene(cast: Cast) -> Scene:
    """The cast's own club."""
    return Scene(cast.club, cast.educator, cast.mentor, cast.trainee, cast.secretary)


@pytest.fixture
def other_scene(cast: Cast) -> Scene:
    """The stranger's club, in which one person is everything."""
    return Scene(cast.other_club, *[cast.stranger] * 4)


def visit(client: Client, url: str, **headers: str) -> HttpResponse:
    """Open the page; where it cannot be opened but only sent to, send it nothing."""
    response = client.get(url, headers=headers)
    if response.status_code == 405:
        response = client.post(url, headers=headers)
    if response.streaming:
        response.getvalue()  # a file is closed when it has been read
    return response


def insider(route: Route, cast: Cast, scene: Scene) -> Client:
    """The browser of someone who gets in with the scene's own things."""
    for role in (role for role in Role if role in ROLES[route.view.ability]):
        client = cast.client(role)
        if visit(client, url_of(route, scene)).status_code not in (403, 404):
            return client
    pytest.fail(f"{route.name}: nobody gets in; make what its address names one that can be opened.")


def url_of(route: Route, scene: Scene, **instead: object) -> str:
    return reverse(route.name, kwargs=route.values(scene) | instead)


@pytest.mark.parametrize("route", OURS, ids=str)
def test_every_page_says_who_may_open_it(route):
    said = isinstance(getattr(route.view, "ability", ""), Ability) or hasattr(route.view, "signed_in")
    assert said, f"{route.name}: use club_page or outside_clubs."
    inside = "club" in dict(route.arguments)
    assert inside == isinstance(route.view.ability, Ability), f"{route.name}: a club's page is below /clubs/."


def test_the_walk_meets_every_kind_of_page():
    names = {route.name for route in ALL}
    assert {"home", "club", "members", "invitation", "account_login", "mfa_index"} <= names
    assert {"home", "invitation"} <= {route.name for route in OUTSIDE}
    assert {"club", "members"} <= {route.name for route in CLUB}
    assert len(OURS) == len({route.name for route in OURS}), "Two routes share a name."


@club_routes
def test_it_opens_for_the_roles_that_it_is_for_and_for_nobody_else(route, cast, scene):
    url, nobody = url_of(route, scene), cast.client("nobody")
    page, fragment = visit(nobody, url), visit(nobody, url, HX_Request="true")
    assert (page.status_code, page.url.partition("=")[0]) == (302, "/account/login/?next")
    assert fragment.headers["HX-Redirect"].startswith("/account/login/?next=/")
    assert visit(cast.client("stranger"), url).status_code == 404, "A stranger learns that it exists."
    answers = {role: visit(cast.client(role), url).status_code for role in Role}
    without = {role: status for role, status in answers.items() if role not in ROLES[route.view.ability]}
    assert without == dict.fromkeys(without, 403)
    assert all(status < 500 for status in answers.values()), answers


@club_routes
def test_a_fragment_and_an_empty_form_break_nothing(route, cast, scene):
    client, url = insider(route, cast, scene), url_of(route, scene)
    assert visit(client, url, HX_Request="true").status_code < 500
    assert client.post(url).status_code < 500
    assert client.post(url, headers={"HX-Request": "true"}).status_code < 500


@club_routes
def test_what_is_of_another_club_or_does_not_exist_is_not_found(route, cast, scene, other_scene):
    """Where a thing is numbered anew in each club, the other club's number is this club's own thing: not asked."""
    client, own, foreign = insider(route, cast, scene), route.values(scene), route.values(other_scene)
    for name in route.things:
        for value in [foreign[name], *route.unknown(name)]:
            url = url_of(route, scene, **{name: value})
            if value != own[name]:
                assert visit(client, url).status_code == 404, url
                assert client.post(url).status_code in (404, 405), url


@outside_routes
def test_a_page_outside_clubs_opens_for_whom_it_says(route, cast, scene):
    url = url_of(route, scene)
    response = visit(cast.client("nobody"), url)
    if route.view.signed_in:
        assert response.status_code == 302
        assert response.url.startswith("/account/login/?next=/")
    assert response.status_code < 400
    for role in Role.values:
        assert visit(cast.client(role), url).status_code < 500


@outside_routes
def test_what_does_not_exist_outside_clubs_is_not_found(route, cast, scene):
    for name in route.things:
        for value in route.unknown(name):
            assert visit(cast.client("trainee"), url_of(route, scene, **{name: value})).status_code == 404
