"""A fault that is shown and named: only its severity is asked, and only that is evidence."""

from __future__ import annotations

import uuid

import pytest

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.eye import eye_of
from assessments.items import KINDS, AnswerRefused, KeyRefused
from assessments.models import EntryResult, FalseAlarm, Mark
from assessments.queries.marks import marks_for_figures
from assessments.rules import NotReady, Refused
from courses.models import ShownFault
from tests import makers

KIND = KINDS["weigh-the-fault"]
MODERATE, SERIOUS, DISQUALIFYING = 1, 2, 3


@pytest.fixture
def shoulder(edition):
    return makers.make_fault(edition, level=SERIOUS)


@pytest.fixture
def item(cast, edition, shoulder):
    return makers.make_item_of(
        edition, cast.educator, KIND.name, entries=[makers.entry(shoulder, [makers.SHOULDER])]
    )


@pytest.fixture
def answer(cast, edition, item):
    quiz = makers.make_quiz_asking(edition, cast.educator, item)
    return begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()


def weighed(answer, level, note=""):
    sent = {"level": level, "note": note}
    save_answer(answer=answer, sent=sent, seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    hand_in(answer=answer, seen=answer.revision)
    return Mark.objects.get(answer=answer)


def redrawn(cast, item, *entries):
    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(key=draft, sound=False, note="", entries=list(entries), by=cast.educator.person)
    return publish_key(item=item, by=cast.educator.person)


@pytest.mark.parametrize(
    ("level", "score", "reason"),
    [(SERIOUS, 1, ""), (MODERATE, 2 / 3, ""), (DISQUALIFYING, 0.5, "overclaimed")],
)
def test_the_level_is_marked(answer, level, score, reason):
    mark = weighed(answer, level)
    assert mark.score == pytest.approx(score)
    assert (mark.seeing, mark.naming) == (None, None)
    assert mark.weighing == pytest.approx(1 if level == SERIOUS else 2 / 3)
    assert mark.disqualification == reason


def test_the_records_calibration_knows_it_and_nothing_else_does(cast, answer):
    weighed(answer, MODERATE)
    eye = eye_of(marks_for_figures(cast.trainee))
    assert eye.pairs == [(MODERATE, SERIOUS)]
    assert eye.detection is None
    forequarters = next(row for row in eye.rows if row.zone == "forequarters")
    assert forequarters.asked == 0
    assert forequarters.weigh.mean == pytest.approx((1 + 2 / 3) / 3)  # Beta(1 + 2/3, 1 + 1/3)
    assert not EntryResult.objects.exists()
    assert not FalseAlarm.objects.exists()


def test_it_cannot_be_handed_in_without_a_level(answer):
    with pytest.raises(Refused, match="Say first how severe the fault is"):
        hand_in(answer=answer)


@pytest.mark.parametrize("sent", [None, [], {"level": 4}, {"level": -1}, {"level": True}, {"level": "2"}])
def test_what_is_no_level_is_refused(item, answer, sent):
    with pytest.raises(AnswerRefused):
        KIND.read_content(item, answer.sitting.quiz.rules_versions.first(), sent)


def test_a_note_is_kept_and_shown_to_the_mentor(cast, answer):
    makers.make_mentorship(cast.mentor, cast.trainee)
    weighed(answer, SERIOUS, note="Near to moderate")
    page = cast.client("mentor").get(f"/clubs/skerry-drover/reviews/{answer.pk}/").content.decode()
    assert "Near to moderate" in page


def test_the_first_draft_is_the_first_fault_that_the_exhibit_shows(cast, edition, shoulder):
    exhibit = makers.make_exhibit(cast.club, cast.educator, breed=edition.breed)
    back = makers.make_back(edition)
    for fault, outline in ((back, makers.BACK), (shoulder, makers.SHOULDER)):
        ShownFault.objects.create(
            exhibit=exhibit, fault=fault, clause=fault.clause, level=1, regions=[outline]
        )
    item = makers.make_item_of(edition, cast.educator, KIND.name, exhibit=exhibit)
    assert [entry.fault for entry in item.keys.get().entries.all()] == [back]


def test_a_key_holds_one_fault(item, edition):
    row = {"fault": None, "clause": None, "level": None, "whole_dog": True, "regions": [], "also": []}
    with pytest.raises(KeyRefused, match="a second one"):
        KIND.read_key(item, 4, {"entries": [row, row], "sound": True, "note": ""})
    assert KIND.read_key(item, 4, {"entries": [row], "sound": True, "note": ""})["sound"] is False


def test_an_empty_key_is_not_published(cast, edition):
    with pytest.raises(NotReady) as refused:
        makers.make_item_of(edition, cast.educator, KIND.name)
    assert refused.value.missing == ["Enter the fault that is shown."]


def test_a_new_version_may_weigh_otherwise_but_not_show_something_else(cast, item, edition, shoulder):
    assert redrawn(cast, item, makers.entry(shoulder, [makers.SHOULDER], level=MODERATE)).version == 2
    back = makers.make_back(edition)
    with pytest.raises(NotReady) as refused:
        redrawn(cast, item, makers.entry(back, [makers.BACK]))
    assert refused.value.missing[0].startswith("What is shown stays as it was first published.")


def test_the_page_shows_where_and_what_but_not_how_much(cast, item, answer, shoulder):
    sent = cast.client("trainee").get(f"/clubs/skerry-drover/answers/{answer.pk}/")
    assert sent.context["ask"]["shown"]["regions"] == [makers.SHOULDER]
    assert set(sent.context["ask"]["shown"]) == {"name", "zone", "clause", "text", "whole_dog", "regions"}
    said = sent.content.decode()
    assert "Upright shoulder" in said
    assert "checked" not in said.split('class="ladder"')[1].split("</fieldset>")[0]


def test_a_drafts_region_is_not_shown_before_it_is_published(cast, item, answer, shoulder):
    secret = [[0.30117, 0.40117], [0.40117, 0.40117], [0.40117, 0.55117]]
    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(
        key=draft, sound=False, note="", entries=[makers.entry(shoulder, [secret])], by=cast.educator.person
    )
    said = cast.client("trainee").get(f"/clubs/skerry-drover/answers/{answer.pk}/").content.decode()
    assert "0.30117" not in said


def test_the_rules_are_told_and_the_mark_explained(cast, answer):
    trainee = cast.client("trainee")
    rules = trainee.get(f"/clubs/skerry-drover/quizzes/{answer.sitting.quiz_id}/rules/").content.decode()
    assert "each level away from it costs 33.3 %" in rules
    weighed(answer, MODERATE)
    told = trainee.get(f"/clubs/skerry-drover/answers/{answer.pk}/").content.decode()
    assert "Upright shoulder, 5.1. Key: Serious." in told
    assert "Weighed: Moderate, one level light" in told
    whole = trainee.get(f"/clubs/skerry-drover/sittings/{answer.sitting_id}/").content.decode()
    assert "weighed: Moderate" in whole
