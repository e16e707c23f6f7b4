"""Whom a panel asks, and about what."""

import pytest
from django.utils import timezone

from assessments.actions.items import change_asking, retire_item
from assessments.actions.key_panels import ask_more, ask_panel
from assessments.rules import NotReady, Refused
from shared.accounts.models import Membership
from tests import makers
from tests.assessments.actions.key_panels.steps import What, events
from tests.makers import make_key_panel


def test_a_panel_keeps_its_ladder_its_zones_and_whom_it_asked(cast, item, third):
    panel = make_key_panel(item, cast.educator, cast.mentor, third, word="Mind the front.")
    assert panel.ladder["labels"] == ["Minor", "Moderate", "Serious", "Disqualifying"]
    assert panel.zones[0] == "head"
    assert len(panel.zones) == 10
    assert (panel.number, panel.word, panel.open, panel.fit) == (1, "Mind the front.", True, "")
    assert events(panel, What.INVITED) == [
        ("Ishbel Rendall", "Magnus Flett"),
        ("Ishbel Rendall", "Thora Garrioch"),
    ]


def test_only_the_zones_of_the_view_are_asked_about(cast, edition):
    exhibit = makers.make_exhibit(cast.club, cast.educator, view="head")
    item = makers.make_draft_item(edition, cast.educator, exhibit)
    assert make_key_panel(item, cast.educator).zones == ["head", "neck", "coat"]


@pytest.mark.parametrize("who", ["trainee", "secretary", "stranger"])
def test_only_those_who_may_mark_are_asked(cast, item, who):
    with pytest.raises(Refused, match="Only members who may mark"):
        make_key_panel(item, cast.educator, getattr(cast, who))
    assert not item.key_panels.exists()


def test_whoever_has_left_is_not_asked(cast, item):
    Membership.objects.filter(pk=cast.mentor.pk).update(left_at=timezone.now())
    with pytest.raises(Refused, match="Only members who may mark"):
        make_key_panel(item, cast.educator, cast.mentor)


def test_one_panel_at_a_time(cast, item, panel):
    with pytest.raises(Refused, match="at work on this item already"):
        make_key_panel(item, cast.educator)


def test_panellists_must_be_able_to_see_the_exhibit(cast, item):
    item.exhibit.state = "draft"
    item.exhibit.save()
    with pytest.raises(NotReady, match="Publish the exhibit"):
        make_key_panel(item, cast.educator)


def test_a_retired_item_is_left_alone(cast, item):
    retire_item(item=item)
    with pytest.raises(NotReady, match="retired"):
        make_key_panel(item, cast.educator)


def test_what_is_asked_stays_once_a_panel_was_asked(cast, item, panel):
    other = makers.make_exhibit(cast.club, cast.educator)
    with pytest.raises(Refused, match="what is asked stays"):
        change_asking(item=item, exhibits=[other], asking={}, title="", clause=None, by=cast.educator.person)


def test_nobody_is_no_panel(cast, item):
    with pytest.raises(Refused, match="at least one"):
        ask_panel(item=item, members=[], by=cast.educator)


def test_more_are_asked_while_it_is_open_and_each_once(cast, panel):
    fourth = makers.make_mentor(cast.club, "Jessie Wylie")
    ask_more(panel=panel, members=[cast.mentor, fourth], by=cast.educator)
    assert panel.panellists.count() == 4
    assert events(panel, What.INVITED)[-1] == ("Ishbel Rendall", "Jessie Wylie")


def test_a_panel_has_a_limit(cast, item):
    many = [makers.make_mentor(cast.club, f"Mentor {n}") for n in range(13)]
    with pytest.raises(Refused, match="at most 12"):
        make_key_panel(item, cast.educator, *many)
