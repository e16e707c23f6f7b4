"""Keys: complete before use, versions kept, old answers marked anew."""

import uuid

import pytest

from assessments.actions.keys import make_item, publish_key, save_draft, start_draft
from assessments.actions.reviews import adjust_mark, return_answer
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.models import Mark, Notice
from assessments.rules import NotReady, Refused, standing_points
from tests import makers


@pytest.fixture
def edition(cast):
    return makers.make_edition(cast.club)


def test_a_key_says_what_it_lacks(cast, edition):
    item = make_item(
        edition=edition, exhibit=makers.make_exhibit(cast.club, cast.educator), by=cast.educator.person
    )
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
    item = make_item(edition=edition, exhibit=exhibit, by=cast.educator.person)
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
