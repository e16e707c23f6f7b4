"""A panel from the invitation to a published key, and what is refused on the way."""

import datetime
import uuid

import pytest
from django.db.models import ProtectedError
from django.utils import timezone

from assessments.actions.items import change_asking, make_item, retire_item
from assessments.actions.key_panels import (
    MarkingOvertaken,
    ask_more,
    ask_panel,
    call_off_panel,
    close_panel,
    draft_from_panel,
    hand_in_marking,
    look_at_markings,
    open_marking,
    save_marking,
    take_back_marking,
)
from assessments.actions.keys import (
    publish_key,
    save_draft,
    start_draft,
)
from assessments.models import Fit, Item, KeyPanelEvent, Mark, Panellist
from assessments.queries.quizzes import items_of, published_key
from assessments.rules import NotReady, Refused
from courses.actions.fault import remove_fault
from courses.models import Fault, SeverityScale
from shared.accounts.models import Membership
from tests import makers
from tests.makers import BACK, SHOULDER, make_key_panel, make_marking, marked

What = KeyPanelEvent.What
WIDER = [[0.28, 0.38], [0.42, 0.38], [0.42, 0.57], [0.28, 0.57]]


@pytest.fixture
def edition(cast):
    return makers.make_edition(cast.club)


@pytest.fixture
def shoulder(edition):
    return makers.make_fault(edition)


@pytest.fixture
def back(edition):
    return makers.make_fault(edition, "Roached back", "6.2", zone="topline", level=1)


@pytest.fixture
def item(cast, edition):
    """Never published; its exhibit shows nothing that is said so far."""
    exhibit = makers.make_exhibit(cast.club, cast.educator)
    return make_item(edition=edition, exhibit=exhibit, by=cast.educator.person)


@pytest.fixture
def third(cast):
    return makers.make_mentor(cast.club, "Thora Garrioch")


@pytest.fixture
def panel(cast, item, third):
    return make_key_panel(item, cast.educator, cast.educator, cast.mentor, third)


def seat(panel, member):
    return panel.panellists.get(member=member)


def save(panellist, *entries, sound=False, seen=None, identity=None):
    sent = {"sound": sound, "note": "", "entries": list(entries)}
    seen = panellist.revision if seen is None else seen
    return save_marking(panellist=panellist, sent=sent, seen=seen, identity=identity or uuid.uuid4())


def events(panel, what):
    return list(panel.events.filter(what=what).values_list("by__person__name", "of__person__name"))


def closed(panel, cast):
    return close_panel(panel=panel, by=cast.educator)


class TestAsking:
    def test_a_panel_keeps_its_ladder_its_zones_and_whom_it_asked(self, cast, item, third):
        panel = make_key_panel(item, cast.educator, cast.mentor, third, word="Mind the front.")
        assert panel.ladder["labels"] == ["Minor", "Moderate", "Serious", "Disqualifying"]
        assert panel.zones[0] == "head"
        assert len(panel.zones) == 10
        assert (panel.number, panel.word, panel.open, panel.fit) == (1, "Mind the front.", True, "")
        assert events(panel, What.INVITED) == [
            ("Ishbel Rendall", "Magnus Flett"),
            ("Ishbel Rendall", "Thora Garrioch"),
        ]

    def test_only_the_zones_of_the_view_are_asked_about(self, cast, edition):
        exhibit = makers.make_exhibit(cast.club, cast.educator, view="head")
        item = make_item(edition=edition, exhibit=exhibit, by=cast.educator.person)
        assert make_key_panel(item, cast.educator).zones == ["head", "neck", "coat"]

    @pytest.mark.parametrize("who", ["trainee", "secretary", "stranger"])
    def test_only_those_who_may_mark_are_asked(self, cast, item, who):
        with pytest.raises(Refused, match="Only members who may mark"):
            make_key_panel(item, cast.educator, getattr(cast, who))
        assert not item.key_panels.exists()

    def test_whoever_has_left_is_not_asked(self, cast, item):
        Membership.objects.filter(pk=cast.mentor.pk).update(left_at=timezone.now())
        with pytest.raises(Refused, match="Only members who may mark"):
            make_key_panel(item, cast.educator, cast.mentor)

    def test_one_panel_at_a_time(self, cast, item, panel):
        with pytest.raises(Refused, match="at work on this item already"):
            make_key_panel(item, cast.educator)

    def test_panellists_must_be_able_to_see_the_exhibit(self, cast, item):
        item.exhibit.state = "draft"
        item.exhibit.save()
        with pytest.raises(NotReady, match="Publish the exhibit"):
            make_key_panel(item, cast.educator)

    def test_a_retired_item_is_left_alone(self, cast, item):
        retire_item(item=item)
        with pytest.raises(NotReady, match="retired"):
            make_key_panel(item, cast.educator)

    def test_what_is_asked_stays_once_a_panel_was_asked(self, cast, item, panel):
        other = makers.make_exhibit(cast.club, cast.educator)
        with pytest.raises(Refused, match="what is asked stays"):
            change_asking(
                item=item, exhibits=[other], asking={}, title="", clause=None, by=cast.educator.person
            )

    def test_nobody_is_no_panel(self, cast, item):
        with pytest.raises(Refused, match="at least one"):
            ask_panel(item=item, members=[], by=cast.educator)

    def test_more_are_asked_while_it_is_open_and_each_once(self, cast, panel):
        fourth = makers.make_mentor(cast.club, "Jessie Wylie")
        ask_more(panel=panel, members=[cast.mentor, fourth], by=cast.educator)
        assert panel.panellists.count() == 4
        assert events(panel, What.INVITED)[-1] == ("Ishbel Rendall", "Jessie Wylie")

    def test_a_panel_has_a_limit(self, cast, item):
        many = [makers.make_mentor(cast.club, f"Mentor {n}") for n in range(13)]
        with pytest.raises(Refused, match="at most 12"):
            make_key_panel(item, cast.educator, *many)


class TestMarking:
    def test_what_is_marked_is_kept_with_its_names(self, cast, panel, shoulder):
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

    def test_one_identity_counts_once_and_another_window_is_not_overwritten(self, cast, panel, shoulder):
        identity = uuid.uuid4()
        for _ in range(2):
            kept = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER), seen=0, identity=identity)
        assert kept.revision == 1
        with pytest.raises(MarkingOvertaken) as overtaken:
            save(kept, sound=True, seen=0)
        assert overtaken.value.panellist.content["entries"]

    def test_what_is_missing_stands_against_handing_in(self, cast, panel, shoulder):
        own = seat(panel, cast.mentor)
        with pytest.raises(NotReady, match="say that the exhibit is sound"):
            hand_in_marking(panellist=own)
        save(own, marked(shoulder, level=None, whole_dog=False))
        with pytest.raises(NotReady, match="A: weigh it, draw its region or say whole dog"):
            hand_in_marking(panellist=own)

    def test_it_is_handed_in_once_as_it_was_looked_at(self, cast, panel, shoulder):
        own = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER))
        with pytest.raises(MarkingOvertaken):
            hand_in_marking(panellist=own, seen=0)
        first = hand_in_marking(panellist=own, seen=1).handed_in_at
        assert hand_in_marking(panellist=own, seen=1).handed_in_at == first
        assert events(panel, What.HANDED_IN) == [("Magnus Flett", None)]
        with pytest.raises(Refused, match="handed in"):
            save(seat(panel, cast.mentor), sound=True)

    def test_it_is_taken_back_changed_and_handed_in_again(self, cast, panel, shoulder):
        make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
        own = take_back_marking(panellist=seat(panel, cast.mentor))
        assert own.handed_in_at is None
        make_marking(panel, cast.mentor)
        assert seat(panel, cast.mentor).content["sound"] is True
        assert len(events(panel, What.HANDED_IN)) == 2
        assert events(panel, What.TAKEN_BACK) == [("Magnus Flett", None)]

    def test_opening_the_exhibit_is_recorded_once(self, cast, panel):
        for _ in range(2):
            open_marking(panellist=seat(panel, cast.mentor))
        assert events(panel, What.OPENED) == [("Magnus Flett", None)]

    def test_nothing_of_a_closed_panel_changes_any_more(self, cast, panel, shoulder):
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


class TestLooking:
    def test_nobody_looks_before_all_have_handed_in_or_it_is_closed(self, cast, panel, third):
        make_marking(panel, cast.educator)
        make_marking(panel, cast.mentor)
        with pytest.raises(Refused, match="Markings are seen when"):
            look_at_markings(panel=panel, by=cast.educator)
        make_marking(panel, third)
        look_at_markings(panel=panel, by=cast.educator)
        assert events(panel, What.LOOKED) == [("Ishbel Rendall", None)]

    def test_a_look_is_recorded_once_a_day_for_each(self, cast, panel):
        make_marking(panel, cast.mentor)
        panel = closed(panel, cast)
        other = makers.make_member(cast.club, "Erlend Scollay", educator=True)
        for who in (cast.educator, cast.educator, other):
            look_at_markings(panel=panel, by=who)
        assert len(events(panel, What.LOOKED)) == 2
        panel.events.filter(what=What.LOOKED).update(at=timezone.now() - datetime.timedelta(days=2))
        look_at_markings(panel=panel, by=cast.educator)
        assert len(events(panel, What.LOOKED)) == 3

    def test_whoever_has_looked_takes_nothing_back_and_is_not_asked(self, cast, panel, third):
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


class TestClosing:
    def test_what_two_of_three_marked_is_found_and_what_one_saw_stands_apart(
        self, cast, panel, third, shoulder, back
    ):
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

    def test_a_panel_that_agrees_is_fit_for_examination(self, cast, panel, third, shoulder):
        for who in (cast.educator, cast.mentor, third):
            make_marking(panel, who, marked(shoulder, SHOULDER))
        found = closed(panel, cast)
        assert (found.agreement, found.fit) == (1.0, Fit.EXAMINATION)

    def test_a_zone_that_the_view_hardly_shows_is_compared_where_somebody_marked_it(
        self, cast, edition, shoulder, back
    ):
        exhibit = makers.make_exhibit(cast.club, cast.educator, view="front")
        item = make_item(edition=edition, exhibit=exhibit, by=cast.educator.person)
        panel = make_key_panel(item, cast.educator, cast.educator, cast.mentor)
        for who in (cast.educator, cast.mentor):
            make_marking(panel, who, marked(shoulder, SHOULDER), marked(back, BACK))
        zones = [row["zone"] for row in closed(panel, cast).result["zones"]]
        assert zones == ["head", "neck", "forequarters", "body", "topline", "feet", "coat"]

    def test_one_panellist_measures_nothing_and_serves_practice(self, cast, panel, shoulder):
        make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
        found = closed(panel, cast)
        assert (found.agreement, found.fit) == (None, Fit.PRACTICE)
        assert len(found.result["counted"]) == 1

    def test_a_panel_that_is_at_odds_serves_discussion(self, cast, panel, third, shoulder, back):
        make_marking(panel, cast.educator, marked(shoulder, SHOULDER))
        make_marking(panel, cast.mentor, marked(back, BACK))
        make_marking(panel, third)
        found = closed(panel, cast)
        assert found.agreement < 0.667
        assert found.fit == Fit.DISCUSSION
        assert not any(group["in_key"] for group in found.result["groups"])

    def test_a_panel_that_finds_nothing_agrees_that_it_is_sound(self, cast, panel, third):
        for who in (cast.educator, cast.mentor, third):
            make_marking(panel, who)
        found = closed(panel, cast)
        assert (found.result["groups"], found.agreement, found.fit) == ([], 1.0, Fit.EXAMINATION)
        assert draft_from_panel(panel=panel, by=cast.educator).sound

    def test_what_is_not_handed_in_does_not_count(self, cast, panel, third, shoulder, back):
        make_marking(panel, cast.mentor, marked(shoulder, SHOULDER))
        make_marking(panel, third, marked(shoulder, SHOULDER))
        save(seat(panel, cast.educator), marked(back, BACK))
        found = closed(panel, cast)
        assert [group["name"] for group in found.result["groups"]] == ["Upright shoulder"]
        assert found.agreement == 1.0
        assert found.fit == Fit.PRACTICE, "Two do not make a panel for an examination."

    def test_entries_beside_a_sound_marking_are_set_aside(self, cast, panel, shoulder):
        own = save(seat(panel, cast.mentor), marked(shoulder, SHOULDER), sound=True)
        hand_in_marking(panellist=own)
        assert closed(panel, cast).result["groups"] == []

    def test_nothing_is_closed_before_somebody_has_handed_in_but_it_is_called_off(self, cast, item, panel):
        with pytest.raises(Refused, match="Nobody has handed in yet"):
            closed(panel, cast)
        off = call_off_panel(panel=panel, by=cast.educator)
        assert (off.called_off, off.fit, off.result) == (True, "", {})
        with pytest.raises(Refused, match="Close the panel first"):
            draft_from_panel(panel=off, by=cast.educator)
        assert make_key_panel(item, cast.educator).number == 2

    def test_a_marking_that_is_handed_in_is_not_called_off(self, cast, panel):
        make_marking(panel, cast.mentor)
        with pytest.raises(Refused, match="close the panel instead"):
            call_off_panel(panel=panel, by=cast.educator)

    def test_a_fault_renamed_or_taken_off_the_list_meanwhile_breaks_nothing(
        self, cast, panel, third, shoulder, back
    ):
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


def ladder(club, labels):
    return SeverityScale.objects.create(
        club=club,
        labels=labels,
        weights=[2**n for n in range(len(labels))],
        effective_from=timezone.localdate() - datetime.timedelta(days=1),
    )


class TestLadders:
    """A club that changes its ladder between the marking and the consensus breaks neither."""

    def test_the_panel_goes_on_by_its_own_ladder(self, cast, panel, third, shoulder):
        make_marking(panel, cast.mentor, marked(shoulder, SHOULDER, level=3))
        ladder(cast.club, ["Fault", "Serious"])
        make_marking(panel, third, marked(shoulder, SHOULDER, level=3))
        found = closed(panel, cast)
        assert found.result["groups"][0]["level"] == 3
        assert found.ladder["labels"][3] == "Disqualifying"

    def test_the_draft_takes_the_level_of_the_same_name(self, cast, panel, shoulder, back):
        make_marking(panel, cast.mentor, marked(shoulder, SHOULDER, level=2), marked(back, BACK, level=0))
        closed(panel, cast)
        ladder(cast.club, ["Fault", "serious"])
        draft = draft_from_panel(panel=panel, by=cast.educator)
        assert {entry.fault: entry.level for entry in draft.entries.all()} == {shoulder: 1, back: None}
        with pytest.raises(NotReady, match="weigh it"):
            publish_key(item=panel.item, by=cast.educator.person)

    def test_weighing_what_the_new_ladder_does_not_have_is_no_departure(self, cast, panel, back):
        make_marking(panel, cast.mentor, marked(back, BACK, level=0))
        closed(panel, cast)
        ladder(cast.club, ["Fault", "Grave"])
        draft = draft_from_panel(panel=panel, by=cast.educator)
        save_draft(
            key=draft, sound=False, note="", entries=[kept(draft) | {"level": 0}], by=cast.educator.person
        )
        assert publish_key(item=panel.item, by=cast.educator.person).entries.get().level == 0


def kept(draft):
    """The fields of a draft's only entry."""
    row = draft.entries.get()
    return {
        name: getattr(row, name)
        for name in ("fault", "clause", "zone", "level", "whole_dog", "regions", "also")
    }


@pytest.fixture
def agreed(cast, panel, third, shoulder):
    """A closed panel that agrees on the shoulder."""
    for who in (cast.educator, cast.mentor, third):
        make_marking(panel, who, marked(shoulder, SHOULDER))
    return closed(panel, cast)


class TestDrafting:
    def test_the_draft_is_the_consensus_and_carries_its_fit(self, cast, agreed, shoulder):
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

    def test_a_key_without_a_panel_has_no_fit(self, cast, edition):
        key = published_key(items_of(cast.club).get(pk=makers.make_keyed_item(edition, cast.educator).pk))
        assert (key.panel, key.agreement, key.fit) == (None, None, "")

    def test_made_again_it_stays_as_it_is_in_work(self, cast, agreed):
        draft = draft_from_panel(panel=agreed, by=cast.educator)
        save_draft(key=draft, sound=True, note="Looked at again.", entries=[], by=cast.educator.person)
        assert draft_from_panel(panel=agreed, by=cast.educator).note == "Looked at again."

    def test_a_draft_in_work_can_be_taken_back(self, cast, edition, shoulder, back):
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

    def test_accepted_names_of_the_key_before_are_taken_over(self, cast, edition, shoulder, back):
        also = [{"fault": back.pk, "credit": 0.5}]
        item = makers.make_keyed_item(edition, cast.educator, [makers.entry(shoulder, [BACK], also=also)])
        panel = make_key_panel(item, cast.educator)
        make_marking(panel, cast.educator, marked(shoulder, SHOULDER))
        closed(panel, cast)
        draft = draft_from_panel(panel=panel, by=cast.educator)
        assert draft.entries.get().also == also
        publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)

    def test_old_answers_are_marked_anew_by_the_panel_s_key(self, cast, edition, shoulder):
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

    def test_a_second_panel_makes_a_later_version(self, cast, agreed, third, back):
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


class TestDepartures:
    def publish(self, cast, agreed, note="", sound=False, entries=()):
        draft = draft_from_panel(panel=agreed, by=cast.educator)
        save_draft(key=draft, sound=sound, note=note, entries=list(entries), by=cast.educator.person)
        return publish_key(item=agreed.item, by=cast.educator.person)

    def changed(self, cast, agreed, **fields):
        return kept(draft_from_panel(panel=agreed, by=cast.educator)) | fields

    def test_each_departure_asks_for_a_note(self, cast, agreed, edition, back):
        other = makers.make_clause(edition, "5.2")
        changed = self.changed(cast, agreed, level=1, clause=other, regions=[WIDER])
        with pytest.raises(NotReady) as refused:
            self.publish(cast, agreed, entries=[changed, makers.entry(back, [BACK])])
        assert refused.value.missing == [
            "Say in the note why: the key weighs “Upright shoulder” as Moderate, the panel as Serious.",
            "Say in the note why: the key puts “Upright shoulder” under 5.2, the panel under 5.1.",
            "Say in the note why: the region of “Upright shoulder” is not the panel’s.",
            "Say in the note why: the key has “Roached back”, marked by 0 of 3 on the panel.",
        ]

    def test_a_fault_left_out_asks_for_a_note_too(self, cast, agreed):
        with pytest.raises(NotReady, match="the panel found “Upright shoulder”, the key leaves it out"):
            self.publish(cast, agreed, sound=True)

    def test_with_a_note_it_is_published(self, cast, agreed):
        key = self.publish(
            cast, agreed, note="The stance deceives.", entries=[self.changed(cast, agreed, level=1)]
        )
        assert key.entries.get().level == 1
        assert key.fit == Fit.EXAMINATION

    def test_accepted_names_are_the_educator_s_to_settle(self, cast, agreed, back):
        also = [{"fault": back.pk, "credit": 0.5}]
        assert self.publish(cast, agreed, entries=[self.changed(cast, agreed, also=also)]).published_at

    def test_a_version_that_begins_as_a_panel_s_key_is_still_held_against_it(self, cast, agreed):
        self.publish(cast, agreed, entries=[self.changed(cast, agreed)])
        item = Item.objects.get(pk=agreed.item_id)
        draft = start_draft(item=item, by=cast.educator.person)
        assert (draft.panel, draft.agreement, draft.fit) == (agreed, 1.0, Fit.EXAMINATION)
        save_draft(key=draft, sound=True, note="", entries=[], by=cast.educator.person)
        with pytest.raises(NotReady, match="leaves it out"):
            publish_key(item=Item.objects.get(pk=item.pk), by=cast.educator.person)


def test_the_record_outlives_those_who_made_it(cast, agreed):
    """What was marked stands behind a protected key: neither a member nor an item takes it along."""
    for row in (cast.mentor, agreed.item, agreed):
        with pytest.raises(ProtectedError):
            row.delete()
    assert Panellist.objects.filter(panel=agreed).count() == 3
