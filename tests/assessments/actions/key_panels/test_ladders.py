"""A club that changes its ladder between the marking and the consensus breaks neither."""

import datetime

import pytest
from django.utils import timezone

from assessments.actions.key_panels import draft_from_panel
from assessments.actions.keys import publish_key, save_draft
from assessments.rules import NotReady
from courses.models import SeverityScale
from tests.assessments.actions.key_panels.steps import closed, kept
from tests.makers import BACK, SHOULDER, make_marking, marked


def ladder(club, labels):
    return SeverityScale.objects.create(
        club=club,
        labels=labels,
        weights=[2**n for n in range(len(labels))],
        effective_from=timezone.localdate() - datetime.timedelta(days=1),
    )


def test_the_panel_goes_on_by_its_own_ladder(cast, panel, third, shoulder):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER, level=3))
    ladder(cast.club, ["Fault", "Serious"])
    make_marking(panel, third, marked(shoulder, SHOULDER, level=3))
    found = closed(panel, cast)
    assert found.result["groups"][0]["level"] == 3
    assert found.ladder["labels"][3] == "Disqualifying"


def test_the_draft_takes_the_level_of_the_same_name(cast, panel, shoulder, back):
    make_marking(panel, cast.mentor, marked(shoulder, SHOULDER, level=2), marked(back, BACK, level=0))
    closed(panel, cast)
    ladder(cast.club, ["Fault", "serious"])
    draft = draft_from_panel(panel=panel, by=cast.educator)
    assert {entry.fault: entry.level for entry in draft.entries.all()} == {shoulder: 1, back: None}
    with pytest.raises(NotReady, match="weigh it"):
        publish_key(item=panel.item, by=cast.educator.person)


def test_weighing_what_the_new_ladder_does_not_have_is_no_departure(cast, panel, back):
    make_marking(panel, cast.mentor, marked(back, BACK, level=0))
    closed(panel, cast)
    ladder(cast.club, ["Fault", "Grave"])
    draft = draft_from_panel(panel=panel, by=cast.educator)
    save_draft(key=draft, sound=False, note="", entries=[kept(draft) | {"level": 0}], by=cast.educator.person)
    assert publish_key(item=panel.item, by=cast.educator.person).entries.get().level == 0
