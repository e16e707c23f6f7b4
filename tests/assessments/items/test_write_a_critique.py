"""A critique: written in parts, waiting for a mentor, marked by a rubric, marked again, marked anew."""

import pytest

from assessments.actions.by_hand import mark_by_hand
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.marking import remark
from assessments.actions.reviews import adjust_mark
from assessments.actions.sittings import begin_sitting, hand_in
from assessments.items import AnswerRefused, KeyRefused, kind_of
from assessments.items.write_a_critique.asking import CritiqueAsking
from assessments.models import Facility, Mark, MarkChange, Notice, Sitting
from assessments.queries.remarking import remarking_of_item
from assessments.rules import NotReady, Refused
from tests import makers


@pytest.fixture
def item(cast, edition):
    return makers.make_critique(edition, cast.educator)


@pytest.fixture
def answer(cast, item):
    return makers.make_written(cast.trainee, item)


@pytest.fixture
def second(cast):
    return makers.make_mentor(cast.club, "Thora Garrioch")


def test_one_exhibit_asks_two_parts_and_a_class_asks_four(cast, edition, item):
    several = makers.make_critique(edition, cast.educator, exhibits=3)
    kind = kind_of(item)
    for each, parts in [(item, ["virtues", "short"]), (several, ["virtues", "short", "reason", "grants"])]:
        assert list(kind.read_content(each, None, {"parts": {"virtues": "Sound."}})["parts"]) == parts


@pytest.mark.parametrize(
    "sent", [None, [], {"parts": []}, {"parts": {"virtues": 3}}, {"parts": {"short": "x" * 2001}}]
)
def test_what_is_no_critique_is_refused(item, sent):
    with pytest.raises(AnswerRefused):
        kind_of(item).read_content(item, None, sent)


def test_every_part_says_something_before_it_is_handed_in(cast, item):
    answer = makers.make_written(cast.trainee, item)
    kind = kind_of(item)
    assert kind.what_is_missing({}) == "Write your critique first."
    half = {"parts": {"virtues": "A level back.", "short": " "}}
    assert kind.what_is_missing(half).startswith("Still empty: What falls short of the standard.")
    assert kind.what_is_missing(answer.content) is None


def test_handed_in_it_waits_without_a_mark_and_finishes_the_sitting(answer):
    assert answer.handed_in_at
    assert not answer.marks.exists()
    assert Sitting.objects.get().finished_at
    with pytest.raises(TypeError, match="marked by a mentor"):
        kind_of(answer.item).mark(None, None, [answer.content])


def test_a_mentor_marks_by_the_rubric_on_record_with_their_name(cast, answer):
    mark = mark_by_hand(answer=answer, mentor=cast.mentor, given=makers.given())
    # 3 × 3/4 + 3 × 2/4 + 3 × 4/4 + 1 × 4/4, of 10.
    assert mark.score == pytest.approx(0.775)
    assert sum(line["points"] for line in mark.detail["lines"]) == pytest.approx(mark.score, abs=1e-9)
    assert mark.detail["given"]["reached"]["completeness"] == 2
    assert (mark.seeing, mark.naming, mark.weighing) == (None, None, None)
    change = MarkChange.objects.get()
    assert (change.kind, change.by, change.before, float(change.after)) == (
        "by hand",
        cast.mentor,
        None,
        77.5,
    )
    assert Facility.objects.get(item=answer.item).changes == 1


def test_it_is_marked_again_and_the_mark_before_stays_on_record(cast, answer, second):
    first = mark_by_hand(answer=answer, mentor=cast.mentor, given=makers.given())
    adjust_mark(answer=answer, mentor=cast.mentor, what="loin", points=2, reason="It was there.")
    mark_by_hand(answer=answer, mentor=second, given=makers.given(accuracy=4))
    assert list(answer.marks.order_by("pk").values_list("current", "score")) == [
        (False, pytest.approx(first.score)),
        (True, pytest.approx(0.85)),
    ]
    assert not answer.adjustments.filter(taken_back_at=None).exists()
    last = MarkChange.objects.last()
    assert (last.by, float(last.before), float(last.after)) == (second, 79.5, 85.0)


def test_what_is_not_handed_in_is_not_marked(cast, item, answer):
    quiz = answer.sitting.quiz
    begun = begin_sitting(quiz=quiz, trainee=makers.make_trainee(cast.club, "Erik Holm")).answers.get()
    with pytest.raises(Refused, match="not handed in"):
        mark_by_hand(answer=begun, mentor=cast.mentor, given=makers.given())
    with pytest.raises(Refused, match="Write your critique first"):
        hand_in(answer=begun)


def test_new_weights_mark_anew_what_was_marked_and_leave_the_rest_waiting(cast, item, answer):
    other = makers.make_written(makers.make_trainee(cast.club, "Erik Holm"), item, answer.sitting.quiz)
    mark_by_hand(answer=answer, mentor=cast.mentor, given=makers.given())
    draft = start_draft(item=item, by=cast.educator.person)
    draft.content["rubric"]["completeness"]["weight"] = 1
    save_draft(key=draft, sound=False, note="", content=draft.content, by=cast.educator.person)
    publish_key(item=item, by=cast.educator.person)
    # 3 × 3/4 + 1 × 2/4 + 3 × 4/4 + 1 × 4/4, of 8.
    assert Mark.objects.get(answer=answer, current=True).score == pytest.approx(0.84375)
    assert "was 77.5 and is now 84.4" in Notice.objects.get().text
    assert not other.marks.exists()
    remarking = remarking_of_item(item)
    assert (remarking.done, remarking.of, remarking.finished) == (1, 1, True)
    assert remark(item=item).answers == 0


def test_a_key_needs_a_weight_each_level_and_a_model_answer(cast, edition):
    item = makers.make_critique(edition, cast.educator)
    draft = start_draft(item=item, by=cast.educator.person)
    draft.content["rubric"]["accuracy"] = {"weight": None, "levels": ["", "b", "c", "d", "e"]}
    draft.content["model"]["short"] = " "
    save_draft(key=draft, sound=False, note="", content=draft.content, by=cast.educator.person)
    with pytest.raises(NotReady) as caught:
        publish_key(item=item, by=cast.educator.person)
    assert caught.value.missing == [
        "Accuracy: say how much it weighs.",
        "Accuracy: describe every level.",
        "Write the model answer: What falls short of the standard.",
    ]


@pytest.mark.parametrize("weight", [0, -1, 11, float("nan"), "3", True])
def test_a_weight_that_weighs_nothing_is_refused(item, weight):
    sent = kind_of(item).draw_up(item.keys.get())["content"]
    sent["rubric"]["language"]["weight"] = weight
    with pytest.raises(KeyRefused, match="Language: the weight"):
        kind_of(item).read_key(item, 4, sent)


@pytest.mark.parametrize("sent", [None, {}, {"rubric": []}, {"rubric": {"accuracy": {"levels": ["one"]}}}])
def test_what_is_no_key_is_refused(item, sent):
    with pytest.raises(KeyRefused):
        kind_of(item).read_key(item, 4, sent)


def test_the_rules_say_who_marks_and_by_what(item, answer):
    words = kind_of(item).rules_in_words(answer.sitting.quiz.rules_versions.get())
    assert [line.split(":")[0] for line in words[1:5]] == ["Accuracy", "Completeness", "Weighing", "Language"]
    assert "there is no mark before that" in words[0]


def test_a_key_reads_back_what_it_draws_up(item):
    key = item.keys.get()
    drawn = kind_of(item).draw_up(key)
    assert kind_of(item).read_key(item, 4, drawn["content"]) == {
        "sound": False,
        "note": "",
        "content": key.content,
    }


def test_a_class_is_shown_in_the_order_of_its_placing(cast, edition):
    first, second, third = (makers.make_exhibit(cast.club, cast.educator) for _ in range(3))

    def form(placing, exhibits=(first, second, third)):
        sent = {
            "exhibits": [each.number for each in exhibits],
            "placing": placing,
            "title": "",
            "stem": " Why? ",
        }
        return CritiqueAsking(_posted(sent), edition=edition, exhibits=(1, 8))

    asked = form(f"{third.number}, {first.number} {second.number}")
    assert asked.is_valid(), asked.errors
    assert (asked.said()["exhibits"], asked.asking()) == ([third, first, second], {"stem": "Why?"})
    for wrong in ["", f"{third.number}, {first.number}", "1, 2, 99", "first"]:
        assert "Place each of the ticked" in str(form(wrong).errors["placing"])
    assert form("", exhibits=[first]).is_valid()


def _posted(sent):
    from django.http import QueryDict

    data = QueryDict(mutable=True)
    for name, value in sent.items():
        data.setlist(name, value) if isinstance(value, list) else data.update({name: value})
    return data
