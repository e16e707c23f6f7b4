"""Where a key departs from its panel, its note says why."""

import pytest

from assessments.actions.key_panels import draft_from_panel
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.models import Fit, Item
from assessments.rules import NotReady
from tests import makers
from tests.assessments.actions.key_panels.steps import WIDER, kept
from tests.makers import BACK


def publish(cast, agreed, note="", sound=False, entries=()):
    draft = draft_from_panel(panel=agreed, by=cast.educator)
    save_draft(key=draft, sound=sound, note=note, entries=list(entries), by=cast.educator.person)
    return publish_key(item=agreed.item, by=cast.educator.person)


def taken_over(cast, agreed, **fields):
    """The panel's only entry as the key has it: the same but for these fields."""
    return kept(draft_from_panel(panel=agreed, by=cast.educator)) | fields


def test_each_departure_asks_for_a_note(cast, agreed, edition, back):
    other = makers.make_clause(edition, "5.2")
    changed = taken_over(cast, agreed, level=1, clause=other, regions=[WIDER])
    with pytest.raises(NotReady) as refused:
        publish(cast, agreed, entries=[changed, makers.entry(back, [BACK])])
    assert refused.value.missing == [
        "Say in the note why: the key weighs “Upright shoulder” as Moderate, the panel as Serious.",
        "Say in the note why: the key puts “Upright shoulder” under 5.2, the panel under 5.1.",
        "Say in the note why: the region of “Upright shoulder” is not the panel’s.",
        "Say in the note why: the key has “Roached back”, marked by 0 of 3 on the panel.",
    ]


def test_a_fault_left_out_asks_for_a_note_too(cast, agreed):
    with pytest.raises(NotReady, match="the panel found “Upright shoulder”, the key leaves it out"):
        publish(cast, agreed, sound=True)


def test_with_a_note_it_is_published(cast, agreed):
    key = publish(cast, agreed, note="The stance deceives.", entries=[taken_over(cast, agreed, level=1)])
    assert key.entries.get().level == 1
    assert key.fit == Fit.EXAMINATION


def test_accepted_names_are_the_educator_s_to_settle(cast, agreed, back):
    also = [{"fault": back.pk, "credit": 0.5}]
    assert publish(cast, agreed, entries=[taken_over(cast, agreed, also=also)]).published_at


def test_a_version_that_begins_as_a_panel_s_key_is_still_held_against_it(cast, agreed):
    publish(cast, agreed, entries=[taken_over(cast, agreed)])
    item = Item.objects.get(pk=agreed.item_id)
    draft = start_draft(item=item, by=cast.educator.person)
    assert (draft.panel, draft.agreement, draft.fit) == (agreed, 1.0, Fit.EXAMINATION)
    save_draft(key=draft, sound=True, note="", entries=[], by=cast.educator.person)
    with pytest.raises(NotReady, match="leaves it out"):
        publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
