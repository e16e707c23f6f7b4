"""Virtues: pinned and named by the opposites of the club's faults, never weighed, no evidence of faults."""

from __future__ import annotations

import json
import uuid

import pytest

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.items import KINDS, AnswerRefused, KeyRefused
from assessments.models import EntryResult, FalseAlarm, Mark
from assessments.queries.marks import marks_for_figures
from assessments.rules import NotReady
from tests import makers

KIND = KINDS["mark-the-virtues"]
DISQUALIFYING = 3


@pytest.fixture
def shoulder(edition):
    return makers.make_fault(edition, virtue="Well laid shoulder")


@pytest.fixture
def back(edition):
    return makers.make_fault(
        edition, "Roached back", "6.2", zone="topline", level=DISQUALIFYING, virtue="Level back"
    )


@pytest.fixture
def item(cast, edition, shoulder, back):
    """Well laid shoulder, counting 4 as its opposite is serious, and level back, counting 8."""
    entries = [makers.entry(shoulder, [makers.SHOULDER]), makers.entry(back, [makers.BACK])]
    return makers.make_item_of(edition, cast.educator, KIND.name, entries=entries)


@pytest.fixture
def answer(cast, edition, item):
    quiz = makers.make_quiz_asking(edition, cast.educator, item)
    return begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()


def marked(answer, *marks, **more):
    save_answer(answer=answer, sent=makers.said(*marks, **more), seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    hand_in(answer=answer, seen=answer.revision)
    return Mark.objects.get(answer=answer)


def centre(outline):
    return [sum(corner[axis] for corner in outline) / len(outline) for axis in (0, 1)]


def test_seen_and_named_it_earns_by_the_severity_of_its_opposite(answer, shoulder):
    mark = marked(answer, makers.pin(*centre(makers.SHOULDER), shoulder))
    assert mark.score == pytest.approx(4 / 12)
    assert mark.seeing == mark.naming == pytest.approx(4 / 12)
    assert mark.weighing is None


def test_only_seen_it_earns_55_of_100_and_a_virtue_that_is_not_there_costs(answer, shoulder, back):
    mark = marked(answer, makers.pin(*centre(makers.BACK)), makers.pin(0.95, 0.05, shoulder))
    assert mark.score == pytest.approx((8 * 0.55 - 0.25 * 2) / 12)
    assert mark.detail["marks"][1]["name"] == "Well laid shoulder"


def test_a_virtue_missed_never_caps_even_if_its_opposite_disqualifies(answer, shoulder):
    mark = marked(answer, makers.pin(*centre(makers.SHOULDER), shoulder))
    assert not mark.detail["capped"]
    assert mark.disqualification == ""


def test_two_faults_with_one_opposite_are_one_virtue(answer, edition, shoulder):
    other = makers.make_fault(edition, "Loaded shoulder", virtue="Well laid shoulder")
    names = [
        choice["name"] for choice in KIND.ask(answer, answer.sitting.quiz.rules_versions.first())["faults"]
    ]
    assert names == ["Level back", "Well laid shoulder"]
    assert marked(answer, makers.pin(*centre(makers.SHOULDER), other)).naming == pytest.approx(4 / 12)


def test_it_counts_as_no_evidence_of_an_eye_for_faults(cast, answer, shoulder):
    marked(answer, makers.pin(*centre(makers.SHOULDER), shoulder), makers.pin(0.95, 0.05))
    assert not EntryResult.objects.exists()
    assert not FalseAlarm.objects.exists()
    assert marks_for_figures(cast.trainee) == []


@pytest.mark.parametrize("level", [0, 2])
def test_a_level_is_refused(item, answer, shoulder, level):
    with pytest.raises(AnswerRefused, match="name or severity"):
        KIND.read_content(
            item,
            answer.sitting.quiz.rules_versions.first(),
            makers.said(makers.pin(0.3, 0.3, shoulder, level)),
        )


def test_a_fault_without_an_opposite_is_neither_named_nor_keyed(item, edition, answer):
    bare = makers.make_fault(edition, "Undershot", "4.1")
    with pytest.raises(AnswerRefused, match="not on the club’s list"):
        KIND.read_content(
            item, answer.sitting.quiz.rules_versions.first(), makers.said(makers.pin(0.3, 0.3, bare))
        )
    row = {"fault": bare.pk, "clause": None, "level": 1, "whole_dog": True, "regions": [], "also": []}
    with pytest.raises(KeyRefused, match="not on the club’s list"):
        KIND.read_key(item, 4, {"entries": [row], "sound": False, "note": ""})


def test_nothing_is_proposed_and_an_empty_key_is_not_published(cast, edition):
    with pytest.raises(NotReady) as refused:
        makers.make_item_of(edition, cast.educator, KIND.name)
    assert refused.value.missing == ["Enter the virtues."]


def test_the_rules_are_told_in_words_of_virtues(cast, answer):
    page = cast.client("trainee").get(f"/clubs/skerry-drover/quizzes/{answer.sitting.quiz_id}/rules/")
    said = page.content.decode()
    assert "55 % for seeing it and 45 % for naming it" in said
    assert "counts by the severity of its opposite" in said


def test_the_pages_speak_of_virtues(cast, item, answer, shoulder):
    trainee, educator = cast.client("trainee"), cast.client("educator")
    address = f"/clubs/skerry-drover/answers/{answer.pk}/"
    asked = trainee.get(address).content.decode()
    assert "Name the virtue" in asked
    assert "Weigh it" not in asked
    assert "Well laid shoulder" in asked
    assert "Upright shoulder" not in asked
    key = educator.get(f"/clubs/skerry-drover/items/{item.pk}/key/").content.decode()
    assert "Level back" in key
    assert "Roached back" not in key
    marked(answer, makers.pin(*centre(makers.SHOULDER), shoulder))
    told = trainee.get(address).content.decode()
    assert "Well laid shoulder, 5.1. Counts as Serious." in told
    assert "Look next for: level back." in told
    assert "Upright shoulder" not in told


def test_nothing_of_the_key_is_on_the_answer_page(cast, edition, item, answer, shoulder):
    secret = [[0.30117, 0.40117], [0.40117, 0.40117], [0.40117, 0.55117]]
    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(
        key=draft, sound=False, note="For the panel", by=cast.educator.person,
        entries=[makers.entry(shoulder, [secret], also=[{"fault": shoulder.pk, "credit": 0.371}])],
    )  # fmt: skip
    publish_key(item=item, by=cast.educator.person)
    sent = cast.client("trainee").get(f"/clubs/skerry-drover/answers/{answer.pk}/")
    words = sent.content.decode() + json.dumps(dict(sent.headers))
    assert [s for s in ("0.30117", "0.371", "For the panel", "regions") if s in words] == []


def test_a_virtue_kept_by_another_of_its_faults_is_shown_by_the_one_that_stands_for_it(
    cast, edition, answer, shoulder
):
    other = makers.make_fault(edition, "Loaded shoulder", virtue="Well laid shoulder")
    sent = makers.said(makers.pin(*centre(makers.SHOULDER), other))
    save_answer(answer=answer, sent=sent, seen=0, identity=uuid.uuid4())
    answer.refresh_from_db()
    asked = KIND.ask(answer, answer.sitting.quiz.rules_versions.first())
    assert [mark["fault"] for mark in asked["content"]["marks"]] == [shoulder.pk]
    entries = [makers.entry(other, [makers.SHOULDER])]
    key = makers.make_item_of(edition, cast.educator, KIND.name, entries=entries).keys.get()
    assert [entry["fault"] for entry in KIND.draw_up(key)["content"]["entries"]] == [shoulder.pk]


def test_the_room_is_told_virtue_by_virtue(answer, item, shoulder):
    contents = [
        makers.said(makers.pin(*centre(makers.SHOULDER), named)) for named in (shoulder, shoulder, None)
    ]
    rules = answer.sitting.quiz.rules_versions.first()
    details = [marked.detail for marked in KIND.mark(item.keys.get(), rules, contents)]
    said = {row.text: row.people for row in KIND.said_in_room(details)}
    assert said["Well laid shoulder: Seen: inside the region"] == 3
    assert said["Well laid shoulder: Named: as the key has it"] == 2
    assert said["Level back: Not marked"] == 3
