"""Moving a quiz to the club's newer severity ladder: only where every level in use still means the same."""

import pytest
from django.utils import timezone

from assessments.actions.ladder import planned_move, take_ladder
from assessments.models import Notice
from assessments.rules import NotReady, Refused
from tests import makers


@pytest.fixture
def quiz(cast, edition):
    """Its one key uses Serious and Moderate of the usual four levels."""
    return makers.make_open_quiz(edition, cast.educator)


def new_ladder(cast, labels, weights, **fields):
    given = {"effective_from": timezone.localdate()} | fields
    return makers.make_scale(cast.club, labels=labels, weights=weights, **given)


def test_heavier_weights_mark_answers_anew_by_a_new_version(cast, edition, quiz):
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    makers.make_sittings(quiz, [[makers.said(makers.pin(0.35, 0.5, shoulder, 2))]])
    new_ladder(cast, ["Minor", "Moderate", "Serious", "Disqualifying"], [1, 2, 6, 12])
    move = planned_move(quiz)
    assert [(rung.before, rung.before_weight, rung.after_weight, rung.items) for rung in move.rungs] == [
        ("Minor", 1, 1, 0),
        ("Moderate", 2, 2, 1),
        ("Serious", 4, 6, 1),
        ("Disqualifying", 8, 12, 0),
    ]
    assert (move.needed, move.hinders, move.renamed) == (True, [], [])
    made = take_ladder(quiz=quiz, by=cast.educator.person)
    assert (made.version, made.ladder["weights"]) == (2, [1, 2, 6, 12])
    marks = list(quiz.sittings.get().answers.get().marks.order_by("pk"))
    # The shoulder alone was found: 4 of 6 of the weight before, 6 of 8 now.
    assert [round(mark.score, 4) for mark in marks] == [round(4 / 6, 4), round(6 / 8, 4)]
    assert [(mark.rules.version, mark.current) for mark in marks] == [(1, False), (2, True)]
    assert "was 66.7 and is now 75.0 of 100" in Notice.objects.get().text
    with pytest.raises(Refused, match="already"):
        take_ladder(quiz=quiz, by=cast.educator.person)


def test_another_name_needs_the_educators_word(cast, quiz):
    new_ladder(cast, ["Slight", "Moderate", "Severe", "Disqualifying"], [1, 2, 4, 8])
    assert [(rung.before, rung.after) for rung in planned_move(quiz).renamed] == [("Serious", "Severe")]
    with pytest.raises(Refused, match="Say first"):
        take_ladder(quiz=quiz, by=cast.educator.person)
    take_ladder(quiz=quiz, by=cast.educator.person, renamed=True)
    assert planned_move(quiz).needed is False


@pytest.mark.parametrize(
    ("labels", "weights", "said"),
    [
        (["Minor", "Moderate"], [1, 2], "“Serious”, which the new ladder does not have"),
        (["Minor", "Small", "Moderate", "Serious", "Disqualifying"], [1, 2, 3, 4, 8], "“Moderate”, which st"),
        (["Minor", "Moderate", "Grave"], [1, 2, 4], "“Serious”, and only one of the two ladders disqualif"),
    ],
)
def test_a_level_in_use_must_mean_the_same(cast, quiz, labels, weights, said):
    new_ladder(cast, labels, weights)
    with pytest.raises(NotReady) as caught:
        take_ladder(quiz=quiz, by=cast.educator.person, renamed=True)
    assert any(said in words for words in caught.value.missing)
    assert quiz.rules_versions.count() == 1


def test_answers_given_with_more_levels_keep_the_ladder_they_were_given_with(cast, edition, quiz):
    quiz.quiz_items.get().item.keys.get().entries.update(level=0)
    new_ladder(cast, ["Minor", "Moderate", "Serious"], [1, 2, 4])
    assert planned_move(quiz).hinders == []
    makers.make_sittings(quiz, [[makers.said(nothing_found=True)]])
    assert "a sitting was begun with the old one" in planned_move(quiz).hinders[0]


def test_a_rule_that_the_new_ladder_refuses_is_changed_first(cast, quiz):
    quiz.quiz_items.get().item.keys.get().entries.update(level=0)
    new_ladder(cast, ["Minor", "Out"], [1, 8])
    assert "Change that rule first" in planned_move(quiz).hinders[0]


def test_the_page_says_what_moving_does_and_moves(cast, quiz):
    client, page = cast.client("educator"), f"/clubs/skerry-drover/quizzes/{quiz.pk}/edit/"
    assert "another severity ladder" not in client.get(page).content.decode()
    assert "by the club’s present ladder" in client.get(page + "ladder/").content.decode()
    new_ladder(cast, ["Minor", "Moderate", "Severe", "Disqualifying"], [1, 2, 4, 8])
    assert "another severity ladder" in client.get(page).content.decode()
    assert "Serious → Severe" in client.get(page + "ladder/").content.decode()
    refused = client.post(page + "ladder/")
    assert (refused.status_code, "Not moved." in refused.content.decode()) == (409, True)
    assert client.post(page + "ladder/", {"renamed": "1"}).status_code == 302
    assert quiz.rules_versions.first().ladder["labels"][2] == "Severe"
