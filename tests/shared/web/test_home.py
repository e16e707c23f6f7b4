"""What stands on the day's page, and for whom."""

import pytest
from django.db import connection
from django.test import RequestFactory
from django.test.utils import CaptureQueriesContext

from shared.accounts.models import Membership
from shared.accounts.roles import Role
from shared.web import home
from shared.web.home import PARTS, QUERIES_PER_PART, ROWS, WAITING, Part, Waiting, day_of, part, waiting


@pytest.fixture
def registry(monkeypatch):
    """An empty registry for this test."""
    monkeypatch.setattr(home, "PARTS", {})
    monkeypatch.setattr(home, "WAITING", {})


def asked_by(membership):
    request = RequestFactory().get("/")
    request.membership, request.club, request.user = membership, membership.club, membership.person
    return request


def test_parts_stand_in_order_each_in_its_column_for_their_roles_alone(registry, cast):
    part(roles={Role.TRAINEE}, order=120)(lambda request: Part("second.html"))
    _name_apart(part(roles={Role.TRAINEE, Role.MENTOR}, order=110), "first")(
        lambda request: Part("first.html")
    )
    _name_apart(part(roles={Role.TRAINEE}, order=100, column="side"), "side")(
        lambda request: Part("side.html")
    )
    _name_apart(part(roles={Role.TRAINEE}, order=130), "away")(lambda request: None)
    day = day_of(asked_by(cast.trainee))
    assert [each.template for each in day.main] == ["first.html", "second.html"]
    assert [each.template for each in day.side] == ["side.html"]
    assert [each.template for each in day_of(asked_by(cast.mentor)).main] == ["first.html"]
    assert not day_of(asked_by(cast.secretary))


def test_what_waits_is_joined_and_asked_of_those_it_can_wait_for(registry, cast):
    thing = Waiting("Two permissions end.", "Exhibits 12 and 19.", "/there/", "Ask the owners")
    waiting(roles={Role.EDUCATOR}, order=210)(lambda request: [thing, thing])
    day = day_of(asked_by(cast.educator))
    assert (day.asked, day.waiting) == (True, [thing, thing])
    assert not day_of(asked_by(cast.trainee)).asked


def test_a_function_registered_again_replaces_itself(registry, cast):
    for words in ("old.html", "new.html"):
        part(roles={Role.TRAINEE}, order=110)(_answering(words))
    assert [each.template for each in day_of(asked_by(cast.trainee)).main] == ["new.html"]


@pytest.mark.parametrize("name", [*PARTS, *WAITING])
def test_each_registered_part_keeps_to_its_measure(name, cast):
    entry = PARTS.get(name) or WAITING[name]
    everything = {role.value: True for role in Role}
    Membership.objects.filter(pk=cast.secretary.pk).update(**everything)
    cast.secretary.refresh_from_db()
    with CaptureQueriesContext(
        connection,
    ) as queries:
        answer = entry.function(asked_by(cast.secretary))
    assert len(queries) <= QUERIES_PER_PART
    assert len(answer) <= ROWS if name in WAITING else isinstance(answer, Part | None)
    assert entry.order // 100 in (1, 2, 3, 4)


def _answering(template):
    def answering(request):
        return Part(template)

    return answering


def _name_apart(register, name):
    def keep(function):
        function.__qualname__ = name
        return register(function)

    return keep
