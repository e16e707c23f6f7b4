"""What the markings of a closed panel amount to, and for what it is fit."""

import pytest

from assessments.actions.key_panels import call_off_panel, draft_from_panel, hand_in_marking
from assessments.actions.keys import publish_key
from assessments.models import Fit
from assessments.rules import NotReady, Refused
from courses.actions.fault import remove_fault
from courses.models import Fault
from tests import makers
from tests.assessments.actions.key_panels.steps import WIDER, closed, save, seat
from tests.makers import BACK, SHOULDER, make_key_panel, make_marking, marked


def test_what_two_of_three_marked_is_found_and_what_one_saw_stands_apart(cast, panel, third, shoulder, back):
    make_marking(panel, cast.educator, marked(shoulder, SHOULDER), marked(back, BACK))
    make_marking(panel, cast.mentor, marked(shoulder, WIDER, level=1))
    make_marking(panel, third, marked(shoulder, SHOULDER))
    found = closed(panel, cast).result
    key, some = found["groups"]
    assert (key["letter"], key["in_key"], key["fault"], key["number"]) == ("A", True, shoulder.pk, "5.1")
    assert (key["level"], key["zone"], key["whole_dog"]) == (2, "forequarters", False)
    assert sorted(key["regions"][0]) == sorted(SHOULDER)
    assert [row["level"] for row in key["marked"]] == [2, 1, 2]
    assert [row["panellist"] for row in key["marked"]] == found["counted"]
    assert (some["in_key"], some["name"], len(some["marked"])) == (False, "Roached back", 1)
    by_zone = {row["zone"]: row["levels"] for row in found["zones"]}
    assert by_zone["forequarters"] == [2, 1, 2]
    assert by_zone["topline"] == [1, None, None]
    assert by_zone["head"] == [None, None, None]


def test_a_panel_that_agrees_is_fit_for_examination(cast, panel, third, shoulder):
    for who in (cast.educator, cast.mentor, third):
        make_marking(panel, who, marked(shoulder, SHOULDER))
    found = closed(panel, cast)
    assert (found.agreement, found.fit) == (1.0, Fit.EXAMINATION)


def test_a_zone_that_the_view_hardly_shows_is_compared_where_somebody_marked_it(
    cast, edition, shoulder, back
):
    exhibit = makers.make_exhibit(cast.club, cast.educator, view="front")
    item = makers.make_draft_item(edition, cast.educator, exhibit)
    panel = make_key_panel(item, cast.educator, cast.educator, cast.mentor)
    for who in (cast.educator, cast.mentor):
        make_marking(panel, who, marked(shoulder, SHOULDER), marked(back, BACK))
    zones = [row["zone"] for row in closed(panel, cast).result["zones"]]
    assert zones == ["head", "neck", "forequarters", "body", "topline", "feet", "coat"]


def test_one_panellist_measures_nothing_and_serves_practice(cast, panel, shoulder):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
    found = closed(panel, cast)
    assert (found.agreement, found.fit) == (None, Fit.PRACTICE)
    assert len(found.result["counted"]) == 1


def test_a_panel_that_is_at_odds_serves_discussion(cast, panel, third, shoulder, back):
    make_marking(panel, cast.educator, marked(shoulder, SHOULDER))
    make_marking(panel, cast.mentor, marked(back, BACK))
    make_marking(panel, third)
    found = closed(panel, cast)
    assert found.agreement < 0.667
    assert found.fit == Fit.DISCUSSION
    assert not any(group["in_key"] for group in found.result["groups"])


def test_a_panel_that_finds_nothing_agrees_that_it_is_sound(cast, panel, third):
    for who in (cast.educator, cast.mentor, third):
        make_marking(panel, who)
    found = closed(panel, cast)
    assert (found.result["groups"], found.agreement, found.fit) == ([], 1.0, Fit.EXAMINATION)
    assert draft_from_panel(panel=panel, by=cast.educator).sound


def test_what_is_not_handed_in_does_not_count(cast, panel, third, shoulder, back):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
    make_marking(panel, third, marked(shoulder, SHOULDER))
    save(seat(panel, cast.educator), marked(back, BACK))
    found = closed(panel, cast)
    assert [group["name"] for group in found.result["groups"]] == ["Upright shoulder"]
    assert found.agreement == 1.0
    assert found.fit == Fit.PRACTICE, "Two do not make a panel for an examination."


def test_entries_beside_a_sound_marking_are_set_aside(cast, panel, shoulder):
    own = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER), sound=True)
    hand_in_marking(panellist=own)
    assert closed(panel, cast).result["groups"] == []


def test_nothing_is_closed_before_somebody_has_handed_in_but_it_is_called_off(cast, item, panel):
    with pytest.raises(Refused, match="Nobody has handed in yet"):
        closed(panel, cast)
    off = call_off_panel(panel=panel, by=cast.educator)
    assert (off.called_off, off.fit, off.result) == (True, "", {})
    with pytest.raises(Refused, match="Close the panel first"):
        draft_from_panel(panel=off, by=cast.educator)
    assert make_key_panel(item, cast.educator).number == 2


def test_a_marking_that_is_handed_in_is_not_called_off(cast, panel):
    make_marking(panel, cast.mentor)
    with pytest.raises(Refused, match="close the panel instead"):
        call_off_panel(panel=panel, by=cast.educator)


def test_a_fault_renamed_or_taken_off_the_list_meanwhile_breaks_nothing(cast, panel, third, shoulder, back):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER), marked(back, BACK))
    Fault.objects.filter(pk=shoulder.pk).update(name="Steep shoulder")
    make_marking(panel, third, marked(shoulder, SHOULDER), marked(back, BACK))
    remove_fault(fault=back)
    groups = closed(panel, cast).result["groups"]
    assert {(group["name"], group["fault"], len(group["marked"])) for group in groups} == {
        ("Steep shoulder", shoulder.pk, 2),
        ("Roached back", None, 2),
    }
    draft = draft_from_panel(panel=panel, by=cast.educator)
    assert {entry.fault for entry in draft.entries.all()} == {shoulder, None}
    with pytest.raises(NotReady, match="name the fault"):
        publish_key(item=panel.item, by=cast.educator.person)
