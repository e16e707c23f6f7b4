"""What a panellist marks, hands in and takes back; who looks at it, and when."""

import datetime
import uuid

import pytest
from django.utils import timezone

from assessments.actions.key_panels import (
    MarkingOvertaken,
    ask_more,
    call_off_panel,
    hand_in_marking,
    look_at_markings,
    open_marking,
    take_back_marking,
)
from assessments.rules import NotReady, Refused
from tests import makers
from tests.assessments.actions.key_panels.steps import What, closed, events, save, seat
from tests.makers import SHOULDER, make_marking, marked


def test_what_is_marked_is_kept_with_its_names(cast, panel, shoulder):
    kept = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER))
    assert kept.revision == 1
    assert kept.content["entries"] == [
        {
            "fault": shoulder.pk,
            "name": "Upright shoulder",
            "clause": shoulder.clause_id,
            "number": "5.1",
            "zone": "forequarters",
            "level": 2,
            "whole_dog": False,
            "regions": [SHOULDER],
        }
    ]


def test_one_identity_counts_once_and_another_window_is_not_overwritten(cast, panel, shoulder):
    identity = uuid.uuid4()
    for _ in range(2):
        kept = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER), seen=0, identity=identity)
    assert kept.revision == 1
    with pytest.raises(MarkingOvertaken) as overtaken:
        save(kept, sound=True, seen=0)
    assert overtaken.value.panellist.content["entries"]


def test_what_is_missing_stands_against_handing_in(cast, panel, shoulder):
    own = seat(panel, cast.mentor)
    with pytest.raises(NotReady, match="say that the exhibit is sound"):
        hand_in_marking(panellist=own)
    save(own, marked(shoulder, level=None, whole_dog=False))
    with pytest.raises(NotReady, match="A: weigh it, draw its region or say whole dog"):
        hand_in_marking(panellist=own)


def test_it_is_handed_in_once_as_it_was_looked_at(cast, panel, shoulder):
    own = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER))
    with pytest.raises(MarkingOvertaken):
        hand_in_marking(panellist=own, seen=0)
    first = hand_in_marking(panellist=own, seen=1).handed_in_at
    assert hand_in_marking(panellist=own, seen=1).handed_in_at == first
    assert events(panel, What.HANDED_IN) == [("Magnus Flett", None)]
    with pytest.raises(Refused, match="handed in"):
        save(seat(panel, cast.mentor), sound=True)


def test_it_is_taken_back_changed_and_handed_in_again(cast, panel, shoulder):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
    own = take_back_marking(panellist=seat(panel, cast.mentor))
    assert own.handed_in_at is None
    make_marking(panel, cast.mentor)
    assert seat(panel, cast.mentor).content["sound"] is True
    assert len(events(panel, What.HANDED_IN)) == 2
    assert events(panel, What.TAKEN_BACK) == [("Magnus Flett", None)]


def test_opening_the_exhibit_is_recorded_once(cast, panel):
    for _ in range(2):
        open_marking(panellist=seat(panel, cast.mentor))
    assert events(panel, What.OPENED) == [("Magnus Flett", None)]


def test_nothing_of_a_closed_panel_changes_any_more(cast, panel, shoulder):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
    late = save(seat(panel, cast.educator), marked(shoulder, SHOULDER))
    closed(panel, cast)
    for act in (
        lambda: save(late, sound=True),
        lambda: hand_in_marking(panellist=late),
        lambda: take_back_marking(panellist=seat(panel, cast.mentor)),
        lambda: closed(panel, cast),
        lambda: call_off_panel(panel=panel, by=cast.educator),
        lambda: ask_more(panel=panel, members=[cast.educator], by=cast.educator),
    ):
        with pytest.raises(Refused, match="panel is closed"):
            act()
    assert seat(panel, cast.educator).revision == 1


def test_nobody_looks_before_all_have_handed_in_or_it_is_closed(cast, panel, third):
    make_marking(panel, cast.educator)
    make_marking(panel, cast.mentor)
    with pytest.raises(Refused, match="Markings are seen when"):
        look_at_markings(panel=panel, by=cast.educator)
    make_marking(panel, third)
    look_at_markings(panel=panel, by=cast.educator)
    assert events(panel, What.LOOKED) == [("Ishbel Rendall", None)]


def test_a_look_is_recorded_once_a_day_for_each(cast, panel):
    make_marking(panel, cast.mentor)
    panel = closed(panel, cast)
    other = makers.make_member(cast.club, "Erlend Scollay", educator=True)
    for who in (cast.educator, cast.educator, other):
        look_at_markings(panel=panel, by=who)
    assert len(events(panel, What.LOOKED)) == 2
    panel.events.filter(what=What.LOOKED).update(at=timezone.now() - datetime.timedelta(days=2))
    look_at_markings(panel=panel, by=cast.educator)
    assert len(events(panel, What.LOOKED)) == 3


def test_whoever_has_looked_takes_nothing_back_and_is_not_asked(cast, panel, third):
    for who in (cast.educator, cast.mentor, third):
        make_marking(panel, who)
    other = makers.make_member(cast.club, "Erlend Scollay", educator=True)
    for who in (cast.educator, other):
        look_at_markings(panel=panel, by=who)
    with pytest.raises(Refused, match="You have looked at the panel’s markings"):
        take_back_marking(panellist=seat(panel, cast.educator))
    with pytest.raises(Refused, match="cannot mark for it"):
        ask_more(panel=panel, members=[other], by=cast.educator)
    assert take_back_marking(panellist=seat(panel, cast.mentor)).handed_in_at is None
    with pytest.raises(Refused, match="Markings are seen when"):
        look_at_markings(panel=panel, by=cast.educator)
