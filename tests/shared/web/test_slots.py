"""One app's place on another app's page."""

import pytest

from shared.web import slots
from shared.web.slots import Filling, fillings, fills


@pytest.fixture(autouse=True)
def empty(monkeypatch):
    monkeypatch.setattr(slots, "SLOTS", {})


def test_an_empty_slot_has_nothing_for_anything():
    assert fillings("member", None, ["una", "magnus"]) == {"una": [], "magnus": []}


def test_each_thing_gets_what_each_app_has_for_it():
    fills("member", "mentors.html")(lambda request, things: {"una": {"mentor": "Magnus"}})
    fills("member", "hours.html")(lambda request, things: {thing: {"hours": 3} for thing in things})
    assert fillings("member", None, ["una", "magnus"]) == {
        "una": [Filling("mentors.html", {"mentor": "Magnus"}), Filling("hours.html", {"hours": 3})],
        "magnus": [Filling("hours.html", {"hours": 3})],
    }


def test_a_filler_is_asked_once_for_all_things():
    asked = []
    fills("member", "mentors.html")(lambda request, things: asked.append(list(things)) or {})
    fillings("member", None, ["una", "magnus"])
    assert asked == [["una", "magnus"]]
