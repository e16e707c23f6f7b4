"""Keys: complete before use, versions kept, old answers marked anew."""

import uuid

import pytest

from assessments.actions.items import bring_back_item, retire_item
from assessments.actions.keys import (
    DraftOvertaken,
    discard_draft,
    publish_key,
    save_draft,
    start_draft,
    take_back_draft,
)
from assessments.actions.reviews import adjust_mark, return_answer
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Mark, Notice
from assessments.rules import NotReady, Refused, standing_points
from tests import makers


def test_a_key_says_what_it_lacks(cast, edition):
    item = makers.make_draft_item(edition, cast.educator)
    key = start_draft(item=item, by=cast.educator.person)
    with pytest.raises(NotReady) as caught:
        publish_key(item=item, by=cast.educator.person)
    assert caught.value.missing == ["Enter the faults, or say that the exhibit is sound."]
    save_draft(key=key, sound=False, note="", entries=[{"zone": "feet"}], by=cast.educator.person)
    with pytest.raises(NotReady) as caught:
        publish_key(item=item, by=cast.educator.person)
    assert caught.value.missing == [
        "A: name the fault, say the clause, weigh it, draw its region or say whole dog."
    ]


def test_a_first_draft_is_proposed_from_the_faults_shown(cast, edition):
    fault = makers.make_fault(edition)
    exhibit = makers.make_exhibit(cast.club, cast.educator)
    exhibit.shown_faults.create(fault=fault, level=1, regions=[makers.SHOULDER])
    item = makers.make_draft_item(edition, cast.educator, exhibit)
    entry = item.keys.get().entries.get()
    assert (entry.fault, entry.clause, entry.level, entry.zone) == (fault, fault.clause, 1, "forequarters")
    assert entry.regions == [makers.SHOULDER]


def test_a_published_key_is_never_edited(cast, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    with pytest.raises(Refused, match="new one"):
        save_draft(key=item.keys.get(), sound=True, note="", entries=[], by=cast.educator.person)
    draft = start_draft(item=item, by=cast.educator.person)
    assert draft.version == 2
    assert draft.entries.count() == 2


def test_publishing_marks_old_answers_anew_and_tells_those_affected(cast, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    item = quiz.items.get()
    answer = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    save_answer(
        answer=answer,
        sent=makers.said(makers.pin(0.35, 0.5, shoulder, 2)),
        seen=0,
        identity=uuid.uuid4(),
    )
    hand_in(answer=answer)
    first = Mark.objects.get()
    assert first.score == pytest.approx(4 / 6)
    adjust_mark(answer=answer, mentor=cast.mentor, what="the back", points=10, reason="Seen in the note")
    return_answer(answer=answer, mentor=cast.mentor)

    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(
        key=draft,
        sound=False,
        note="The back is within the standard.",
        entries=[makers.entry(shoulder, [makers.SHOULDER])],
        by=cast.educator.person,
    )
    publish_key(item=item, by=cast.educator.person)

    old, new = Mark.objects.order_by("pk")
    assert (old.current, old.key.version, new.current, new.key.version) == (False, 1, True, 2)
    assert new.score == 1
    assert Notice.objects.filter(member=cast.trainee, text__contains="66.7 and is now 100.0").count() == 1
    answer.refresh_from_db()
    assert answer.adjustments.get().taken_back_at is not None
    assert answer.review.returned_at is None
    assert standing_points(new, None) == 100


def save(item, cast, entries=(), sound=False, **fields):
    key = start_draft(item=item, by=cast.educator.person)
    return save_draft(key=key, sound=sound, note="", entries=list(entries), by=cast.educator.person, **fields)


def test_a_second_window_does_not_overwrite_a_draft_silently(cast, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    first = save(item, cast, [makers.entry(shoulder, [makers.SHOULDER])], seen=0)
    with pytest.raises(DraftOvertaken) as caught:
        save(item, cast, sound=True, seen=0)
    assert caught.value.key == first
    assert [entry.fault for entry in first.entries.all()] == [shoulder]
    assert save(item, cast, sound=True, seen=1).revision == 2


def test_a_save_sent_twice_counts_once(cast, edition):
    item, identity = makers.make_keyed_item(edition, cast.educator), uuid.uuid4()
    first = save(item, cast, sound=True, seen=0, identity=identity)
    again = save(item, cast, sound=True, seen=0, identity=identity)
    assert (again.revision, again.saved_at) == (1, first.saved_at)


def test_only_the_draft_that_was_looked_at_is_published(cast, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    save(item, cast, sound=True)
    save(item, cast, sound=True)
    with pytest.raises(DraftOvertaken):
        publish_key(item=item, by=cast.educator.person, seen=1)
    assert publish_key(item=item, by=cast.educator.person, seen=2).version == 2


def test_what_is_set_aside_by_sound_is_left_out_when_published(cast, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    draft = save(item, cast, [makers.entry(shoulder, [makers.SHOULDER])], sound=True)
    assert draft.entries.count() == 1
    published = publish_key(item=item, by=cast.educator.person)
    assert (published.sound, published.entries.count()) == (True, 0)


def test_a_discarded_draft_can_be_taken_back_until_the_next_is_discarded(cast, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    draft = save(item, cast, sound=True)
    discard_draft(item=item)
    with pytest.raises(Refused, match="discarded"):
        save_draft(key=draft, sound=False, note="", entries=[], by=cast.educator.person)
    back = take_back_draft(item=item)
    assert (back, back.version, back.sound) == (draft, 2, True)

    discard_draft(item=item)
    other = start_draft(item=item, by=cast.educator.person)
    assert (other.version, other.sound, other.entries.count()) == (2, False, 2)
    with pytest.raises(Refused, match="Another draft"):
        take_back_draft(item=item)
    discard_draft(item=item)
    assert item.keys.filter(pk=draft.pk).count() == 0
    assert take_back_draft(item=item) == other


def test_a_draft_taken_back_comes_after_what_was_published_meanwhile(cast, edition):
    item = makers.make_keyed_item(edition, cast.educator)
    draft = start_draft(item=item, by=cast.educator.person)
    discard_draft(item=item)
    save(item, cast, sound=True)
    publish_key(item=item, by=cast.educator.person)
    back = take_back_draft(item=item)
    assert (back, back.version) == (draft, 3)


def test_the_only_key_is_not_discarded(cast, edition):
    item = makers.make_draft_item(edition, cast.educator)
    with pytest.raises(Refused, match="only key"):
        discard_draft(item=item)
    with pytest.raises(Refused, match="no discarded draft"):
        take_back_draft(item=item)


def test_a_retired_item_comes_back_as_what_it_was(cast, edition):
    used = makers.make_keyed_item(edition, cast.educator)
    new = makers.make_draft_item(edition, cast.educator)
    for item in (used, new):
        retire_item(item=item)
        bring_back_item(item=item)
    assert (used.state, new.state) == ("in use", "draft")
