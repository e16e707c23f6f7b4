"""The draft key that a panel's consensus becomes, and what is taken over from keys before it."""

import pytest
from django.db.models import ProtectedError

from assessments.actions.key_panels import draft_from_panel
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.models import Fit, Item, Mark, Panellist
from assessments.queries.quizzes import items_of, published_key
from tests import makers
from tests.assessments.actions.key_panels.steps import What, closed, events
from tests.makers import BACK, SHOULDER, make_key_panel, make_marking, marked


def test_the_draft_is_the_consensus_and_carries_its_fit(cast, agreed, shoulder):
    draft = draft_from_panel(panel=agreed, by=cast.educator)
    [entry] = draft.entries.all()
    assert (entry.fault, entry.clause, entry.level, entry.zone) == (
        shoulder,
        shoulder.clause,
        2,
        shoulder.zone,
    )
    assert sorted(entry.regions[0]) == sorted(SHOULDER)
    assert (draft.panel, draft.agreement, draft.fit) == (agreed, 1.0, Fit.EXAMINATION)
    published = publish_key(item=agreed.item, by=cast.educator.person)
    assert (published.panel, published.fit) == (agreed, Fit.EXAMINATION)
    assert events(agreed, What.DRAFTED) == [("Ishbel Rendall", None)]


def test_a_key_without_a_panel_has_no_fit(cast, edition):
    key = published_key(items_of(cast.club).get(pk=makers.make_keyed_item(edition, cast.educator).pk))
    assert (key.panel, key.agreement, key.fit) == (None, None, "")


def test_made_again_it_stays_as_it_is_in_work(cast, agreed):
    draft = draft_from_panel(panel=agreed, by=cast.educator)
    save_draft(key=draft, sound=True, note="Looked at again.", entries=[], by=cast.educator.person)
    assert draft_from_panel(panel=agreed, by=cast.educator).note == "Looked at again."


def test_a_draft_in_work_can_be_taken_back(cast, edition, shoulder, back):
    item = makers.make_keyed_item(edition, cast.educator)
    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(key=draft, sound=False, note="By hand", entries=[], by=cast.educator.person)
    panel = make_key_panel(item, cast.educator)
    make_marking(panel, cast.educator, marked(shoulder, SHOULDER))
    closed(panel, cast)
    drafted = draft_from_panel(panel=panel, by=cast.educator)
    assert drafted.version == 2
    discarded = item.keys.exclude(discarded_at=None).get()
    assert (discarded.pk, discarded.note, discarded.panel) == (draft.pk, "By hand", None)


def test_accepted_names_of_the_key_before_are_taken_over(cast, edition, shoulder, back):
    also = [{"fault": back.pk, "credit": 0.5}]
    item = makers.make_keyed_item(edition, cast.educator, [makers.entry(shoulder, [BACK], also=also)])
    panel = make_key_panel(item, cast.educator)
    make_marking(panel, cast.educator, marked(shoulder, SHOULDER))
    closed(panel, cast)
    draft = draft_from_panel(panel=panel, by=cast.educator)
    assert draft.entries.get().also == also
    publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)


def test_old_answers_are_marked_anew_by_the_panel_s_key(cast, edition, shoulder):
    quiz = makers.make_open_quiz(edition, cast.educator)
    item = quiz.items.get()
    makers.make_sittings(quiz, [[makers.said(makers.pin(0.35, 0.45, shoulder, 2))]])
    before = Mark.objects.get(current=True)
    panel = make_key_panel(item, cast.educator)
    make_marking(panel, cast.educator, marked(shoulder, SHOULDER))
    closed(panel, cast)
    draft_from_panel(panel=panel, by=cast.educator)
    key = publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
    after = Mark.objects.get(current=True)
    assert (after.key, after.score) == (key, 1.0)
    assert before.score < 1


def test_a_second_panel_makes_a_later_version(cast, agreed, third, back):
    item = agreed.item
    draft_from_panel(panel=agreed, by=cast.educator)
    publish_key(item=item, by=cast.educator.person)
    second = make_key_panel(item, cast.educator, cast.mentor, third)
    for who in (cast.mentor, third):
        make_marking(second, who, marked(back, BACK))
    closed(second, cast)
    draft = draft_from_panel(panel=second, by=cast.educator)
    assert (draft.version, draft.panel, draft.fit) == (2, second, Fit.PRACTICE)
    assert draft.entries.get().fault == back
    publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)
    first = item.keys.get(version=1)
    assert (first.panel, first.fit) == (agreed, Fit.EXAMINATION)


def test_the_record_outlives_those_who_made_it(cast, agreed):
    """What was marked stands behind a protected key: neither a member nor an item takes it along."""
    for row in (cast.mentor, agreed.item, agreed):
        with pytest.raises(ProtectedError):
            row.delete()
    assert Panellist.objects.filter(panel=agreed).count() == 3
