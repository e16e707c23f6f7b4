"""Panels that mark virtues: the same way as for faults, called by what is sought."""

import pytest

from assessments.actions.items import make_item
from assessments.actions.key_panels import close_panel, draft_from_panel
from assessments.actions.keys import publish_key, save_draft
from assessments.drawable import fit_for_examination
from assessments.items import KINDS
from assessments.models import Fit
from assessments.rules import NotReady
from tests import makers
from tests.makers import SHOULDER, make_key_panel, make_marking, marked

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def laid(edition):
    return makers.make_fault(edition, virtue="Well laid shoulder")


@pytest.fixture
def item(cast, edition, laid):
    exhibit = makers.make_published(cast.club, cast.educator, verdict="correct")
    return make_item(edition=edition, exhibit=exhibit, by=cast.educator.person, kind="mark-the-virtues")


@pytest.fixture
def panel(cast, item):
    third = makers.make_mentor(cast.club, "Thora Garrioch")
    return make_key_panel(item, cast.educator, cast.educator, cast.mentor, third)


def settle(panel, cast, *entries):
    for seat in panel.panellists.all():
        make_marking(panel, seat.member, *entries)
    return close_panel(panel=panel, by=cast.educator)


def test_only_kinds_whose_keys_can_be_marked_independently_take_panels():
    taking = {name for name, kind in KINDS.items() if kind.panel}
    assert taking == {"mark-the-faults", "mark-the-virtues", "place-a-class", "which-of-the-pair"}


def test_a_panel_agrees_on_a_virtue_by_its_name(cast, item, panel, laid):
    found = settle(panel, cast, marked(laid, SHOULDER))
    assert [(group["name"], group["in_key"]) for group in found.result["groups"]] == [
        ("Well laid shoulder", True)
    ]
    draft = draft_from_panel(panel=found, by=cast.educator)
    assert (draft.entries.get().fault, draft.fit) == (laid, Fit.EXAMINATION)
    key = publish_key(item=item, by=cast.educator.person)
    assert fit_for_examination(item, key)


def test_two_faults_with_one_opposite_are_one_virtue(cast, edition, panel, laid):
    other = makers.make_fault(edition, "Loaded shoulder", virtue="Well laid shoulder")
    for seat, fault in zip(panel.panellists.all(), (laid, other, laid), strict=True):
        make_marking(panel, seat.member, marked(fault, SHOULDER))
    [group] = close_panel(panel=panel, by=cast.educator).result["groups"]
    assert len(group["marked"]) == 3


def test_without_a_virtue_the_draft_is_empty_and_never_sound(cast, item, panel):
    draft = draft_from_panel(panel=settle(panel, cast), by=cast.educator)
    assert not draft.sound
    with pytest.raises(NotReady, match="Enter the virtues"):
        publish_key(item=item, by=cast.educator.person)


def test_what_is_not_the_panel_s_is_called_a_virtue(cast, edition, item, panel, laid):
    level = makers.make_fault(edition, "Roached back", "6.2", zone="topline", virtue="Level back")
    draft = draft_from_panel(panel=settle(panel, cast, marked(laid, SHOULDER)), by=cast.educator)
    entries = [makers.entry(laid, [SHOULDER]), makers.entry(level, [makers.BACK])]
    save_draft(key=draft, sound=False, note="", entries=entries, by=cast.educator.person)
    with pytest.raises(NotReady, match="the key has “Level back”, marked by 0 of 3 on the panel"):
        publish_key(item=item, by=cast.educator.person)


def test_a_key_that_its_panel_does_not_hold_fit_is_not_examined(cast, edition, item, panel, laid):
    level = makers.make_fault(edition, "Roached back", "6.2", zone="topline", virtue="Level back")
    first, second, third = panel.panellists.all()
    make_marking(panel, first.member, marked(laid, SHOULDER))
    make_marking(panel, second.member, marked(level, [[0.6, 0.3], [0.7, 0.3], [0.7, 0.38]]))
    make_marking(panel, third.member)
    draft = draft_from_panel(panel=close_panel(panel=panel, by=cast.educator), by=cast.educator)
    entries = [makers.entry(laid, [SHOULDER])]
    save_draft(key=draft, sound=False, note="For talk.", entries=entries, by=cast.educator.person)
    key = publish_key(item=item, by=cast.educator.person)
    assert key.fit == Fit.DISCUSSION
    assert not fit_for_examination(item, key)


def test_its_pages_speak_of_virtues(cast, item, panel, laid):
    seat = panel.panellists.get(member=cast.mentor)
    page = cast.client("mentor").get(f"{CLUB}/key-panels/marking/{seat.pk}/").content.decode()
    assert "Mark the virtues that you see, alone." in page
    assert "Well laid shoulder" in page
    assert "Upright shoulder" not in page
    settle(panel, cast)
    page = cast.client("mentor").get(f"{CLUB}/key-panels/marking/{seat.pk}/").content.decode()
    assert "You would name no virtue." in page
    page = cast.client("educator").get(f"{CLUB}/key-panels/{panel.pk}/").content.decode()
    assert "No virtue that two thirds of the panel marked." in page
