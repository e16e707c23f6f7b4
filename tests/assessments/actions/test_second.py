"""Two marks given without one another, compared, settled; and the record of it all."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from assessments.actions.keys import publish_key, start_draft
from assessments.actions.marking import remark
from assessments.actions.reviews import adjust_mark, pin_comment, return_answer, take_back_adjustment
from assessments.actions.second import (
    ask_second_marking,
    give_second_mark,
    pin_second_comment,
    settle_second_marking,
    withdraw_second_marking,
)
from assessments.actions.sittings import begin_sitting
from assessments.models import Adjustment, MarkChange, Notice, OnRecord, SecondMarking
from assessments.queries.answers import answers_with_marks, reviewable_by, waiting_for
from assessments.queries.second import changes_of, possible_seconds
from assessments.results import result_of
from assessments.rules import Refused
from tests import makers


@pytest.fixture
def answer(cast):
    """Nothing found where the key has two faults: 0 of 100."""
    quiz = makers.make_open_quiz(makers.make_edition(cast.club), cast.educator)
    makers.make_mentorship(cast.mentor, cast.trainee)
    return makers.make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())


@pytest.fixture
def other(cast):
    return makers.make_mentor(cast.club, "Thora Garrioch")


def ask(cast, answer, other):
    return ask_second_marking(answer=answer, second=other, by=cast.educator, why="Far from the others.")


def adjust(cast, answer, points="20"):
    adjust_mark(answer=answer, mentor=cast.mentor, what="w", points=Decimal(points), reason="r")
    return_answer(answer=answer, mentor=cast.mentor)


def both_given(cast, answer, other, first="20", second="35.5"):
    marking = ask(cast, answer, other)
    adjust(cast, answer, first)
    give_second_mark(marking=marking, points=Decimal(second), words="The note names it.")
    marking.refresh_from_db()
    return marking


def standing(answer):
    return result_of(answers_with_marks().get(pk=answer.pk)).standing


def test_the_first_mark_is_that_with_which_the_answer_is_returned(cast, answer, other):
    marking = ask(cast, answer, other)
    assert (marking.first, marking.given) == (None, False)
    adjust(cast, answer)
    marking.refresh_from_db()
    assert (marking.first, marking.first_points, marking.first_words) == (cast.mentor, Decimal(20), "r")


def test_asked_after_the_return_the_standing_mark_is_the_first(cast, answer, other):
    adjust(cast, answer, "12.5")
    assert ask(cast, answer, other).first_points == Decimal("12.5")


def test_the_first_mark_holds_still_until_it_is_settled(cast, answer, other):
    marking = both_given(cast, answer, other)
    for act in (lambda: adjust(cast, answer), lambda: take_back_adjustment(answer=answer, by=cast.mentor)):
        with pytest.raises(Refused, match="holds still"):
            act()
    settle_second_marking(marking=marking, by=cast.educator, stands="first", reason="As the clause says.")
    adjust(cast, answer, "21")
    assert standing(answer) == 21


@pytest.mark.parametrize(
    ("stands", "points", "mark", "adjusted", "told"),
    [
        ("first", None, 20, False, 0),
        ("second", None, Decimal("35.5"), True, 1),
        ("other", Decimal(30), 30, True, 1),
        ("other", Decimal(0), 0, False, 1),
    ],
)
def test_what_stands_differs_from_the_rules_by_the_club_s_adjustment(
    cast, answer, other, stands, points, mark, adjusted, told
):
    marking = both_given(cast, answer, other)
    Notice.objects.all().delete()
    settle_second_marking(
        marking=marking, by=cast.educator, stands=stands, points=points, reason="Both looked again."
    )
    assert standing(answer) == mark
    of_the_club = Adjustment.objects.filter(taken_back_at=None, second=marking)
    assert of_the_club.exists() is adjusted
    assert Notice.objects.filter(member=cast.trainee).count() == told
    marking.refresh_from_db()
    assert (marking.settled_points, marking.open) == (mark, False)


def test_nothing_is_settled_before_both_are_given_nor_by_who_marked_second(cast, answer, other):
    marking = ask(cast, answer, other)
    with pytest.raises(Refused, match="Both marks are needed"):
        settle_second_marking(marking=marking, by=cast.educator, stands="first", reason="r")
    adjust(cast, answer)
    give_second_mark(marking=marking, points=Decimal(1), words="w")
    with pytest.raises(Refused, match="does not settle"):
        settle_second_marking(marking=marking, by=other, stands="second", reason="r")
    with pytest.raises(Refused, match="from 0 to 100"):
        settle_second_marking(marking=marking, by=cast.educator, stands="other", reason="r")


def test_the_second_mark_is_given_once_and_then_not_withdrawn(cast, answer, other):
    marking = ask(cast, answer, other)
    pin_second_comment(marking=marking, text="Look at the arm.", x=0.4, y=0.4)
    give_second_mark(marking=marking, points=Decimal(1), words="w")
    for act in (
        lambda: give_second_mark(marking=marking, points=Decimal(2), words="w"),
        lambda: pin_second_comment(marking=marking, text="Late."),
        lambda: withdraw_second_marking(marking=marking, by=cast.educator),
    ):
        with pytest.raises(Refused):
            act()


def test_withdrawn_it_binds_nobody_and_can_be_asked_again(cast, answer, other):
    marking = ask(cast, answer, other)
    with pytest.raises(Refused, match="under way"):
        ask(cast, answer, other)
    withdraw_second_marking(marking=marking, by=cast.educator)
    adjust(cast, answer)
    assert ask(cast, answer, other).pk != marking.pk


def test_whoever_has_looked_or_spoken_is_not_asked(cast, answer, other):
    third = makers.make_mentor(cast.club, "Sweyn Manson")
    assert set(possible_seconds(answer)) == {cast.mentor, other, third}
    return_answer(answer=answer, mentor=cast.mentor)
    pin_comment(answer=answer, author=third, text="Look.")
    assert set(possible_seconds(answer)) == {other}
    for who, words in (
        (cast.mentor, "looked at it first"),
        (third, "said something"),
        (cast.educator, "Choose a mentor"),
    ):
        with pytest.raises(Refused, match=words):
            ask(cast, answer, who)


def test_an_answer_without_a_mark_is_not_marked_twice(cast, answer, other):
    answer.marks.all().delete()
    with pytest.raises(Refused, match="no mark yet"):
        ask(cast, answer, other)


def test_a_mentor_of_the_trainee_who_marks_second_does_not_meet_the_answer_elsewhere(cast, answer, other):
    makers.make_mentorship(other, cast.trainee)
    assert list(waiting_for(other)) == [answer]
    marking = ask(cast, answer, other)
    assert not reviewable_by(other).exists()
    assert not waiting_for(other).exists()
    assert list(reviewable_by(cast.mentor)) == [answer]
    give_second_mark(marking=marking, points=Decimal(1), words="w")
    assert list(reviewable_by(other)) == [answer]


def test_everything_is_put_on_record_in_order(cast, answer, other):
    marking = both_given(cast, answer, other)
    settle_second_marking(marking=marking, by=cast.educator, stands="second", reason="Seen in the note.")
    take_back_adjustment(answer=answer, by=cast.mentor)
    rows = [(row.kind, row.by, row.before, row.after) for row in changes_of(answer)]
    assert rows == [
        ("marked", None, None, 0),
        ("second asked", cast.educator, None, None),
        ("adjusted", cast.mentor, 0, 20),
        ("first given", cast.mentor, None, 20),
        ("second given", other, None, Decimal("35.5")),
        ("settled", cast.educator, 20, Decimal("35.5")),
        ("taken back", cast.mentor, Decimal("35.5"), 0),
    ]


def test_a_second_mark_is_not_told_on_the_record_before_the_first_is_there(cast, answer, other):
    marking = ask(cast, answer, other)
    give_second_mark(marking=marking, points=Decimal(35), words="Secret words.")
    assert "second given" not in [row.kind for row in changes_of(answer)]
    adjust(cast, answer)
    assert "second given" in [row.kind for row in changes_of(answer)]


def test_marking_anew_is_on_record_with_the_adjustment_that_falls(cast, answer):
    adjust(cast, answer)
    item = answer.item
    draft = start_draft(item=item, by=cast.educator.person)
    draft.entries.all().delete()
    draft.sound = True
    draft.save()
    publish_key(item=item, by=cast.educator.person)
    remark(item=item)
    last = changes_of(answer)[2]
    assert (last.kind, last.by, last.before, last.after) == ("marked anew", None, 20, 100)
    assert last.words == "Key version 2, rules version 1. The adjustment of +20.0 does not carry over."


@pytest.mark.parametrize(
    "act",
    [
        lambda row: row.save(),
        lambda row: row.delete(),
        lambda row: MarkChange.objects.update(after=99),
        lambda row: MarkChange.objects.all().delete(),
        lambda row: MarkChange.objects.bulk_update([row], ["after"]),
        lambda row: MarkChange.objects.update_or_create(pk=row.pk, defaults={"after": 99}),
        lambda row: MarkChange.objects.bulk_create(
            [row], update_conflicts=True, update_fields=["after"], unique_fields=["pk"]
        ),
    ],
)
def test_the_record_is_added_to_and_never_changed(cast, answer, act):
    row = MarkChange.objects.get()
    row.after = 99
    with pytest.raises(OnRecord):
        act(row)
    assert MarkChange.objects.get().after == 0


def test_a_row_of_the_record_is_not_written_over_by_its_number(cast, answer):
    row = MarkChange.objects.get()
    with pytest.raises(IntegrityError), transaction.atomic():
        MarkChange(pk=row.pk, answer=answer, kind="marked", after=99).save()
    assert MarkChange.objects.get().after == 0


def test_the_record_goes_with_the_whole_answer(cast, answer):
    sitting = answer.sitting
    answer.marks.all().delete()
    sitting.delete()
    assert not MarkChange.objects.exists()
    assert not SecondMarking.objects.exists()
