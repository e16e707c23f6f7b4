"""Plates are filled, ordered, published when nothing is missing, and withdrawn."""

import pytest

from courses.actions.course import add_module as new_module
from courses.actions.course import add_plate, begin_course
from courses.actions.plate import (
    begin_plate,
    caption_on_plate,
    move_on_plate,
    publish_plate,
    remove_plate,
    set_clause,
    set_exhibit,
    take_off_plate,
    withdraw_plate,
    word_plate,
)
from courses.models import Exhibit, Plate
from courses.queries.plate import clauses_found, missing_on_plate, sides_of, with_sides
from courses.refusals import NotReady, Refused
from tests.makers import make_clause, make_edition, make_exhibit, make_photograph, make_plate, permit


def fresh(plate: Plate) -> Plate:
    return with_sides(Plate.objects.all()).get(pk=plate.pk)


def letters(plate: Plate) -> list[tuple[str, str, int]]:
    correct, incorrect = sides_of(fresh(plate))
    return [(row.letter, row.side, row.exhibit.number) for row in (*correct, *incorrect)]


def exhibits(cast, edition, n: int, **fields) -> list[Exhibit]:
    return [make_exhibit(cast.club, cast.educator, breed=edition.breed, **fields) for _ in range(n)]


def test_plates_are_numbered_within_their_edition(edition):
    first = begin_plate(edition=edition, title="Length and height")
    second = begin_plate(edition=edition, title="Length of leg")
    assert (first.number, second.number) == (1, 2)
    word_plate(plate=second, number=7, title="Length of leg", note="")
    assert begin_plate(edition=edition, title="Skull").number == 8
    with pytest.raises(Refused, match="There is a plate 7"):
        word_plate(plate=first, number=7, title="Length and height", note="")
    other = make_edition(edition.breed.club, breed=edition.breed, state="draft", title="Next")
    assert begin_plate(edition=other, title="Length").number == 1


def test_letters_run_through_the_correct_ones_first(cast, edition):
    plate = begin_plate(edition=edition, title="Length")
    one, two, three = exhibits(cast, edition, 3)
    set_exhibit(plate=plate, exhibit=one, side="incorrect")
    set_exhibit(plate=plate, exhibit=two, side="incorrect")
    set_exhibit(plate=plate, exhibit=three, side="correct")
    assert letters(plate) == [("a", "correct", 3), ("b", "incorrect", 1), ("c", "incorrect", 2)]


def test_exhibits_change_places_and_sides(cast, edition):
    plate = begin_plate(edition=edition, title="Length")
    for exhibit in exhibits(cast, edition, 3):
        set_exhibit(plate=plate, exhibit=exhibit, side="incorrect")
    first = plate.plate_exhibits.get(exhibit__number=1)
    move_on_plate(row=first, direction="down")
    assert [number for _l, _s, number in letters(plate)] == [2, 1, 3]
    move_on_plate(row=plate.plate_exhibits.get(exhibit__number=2), direction="up")
    assert [number for _l, _s, number in letters(plate)] == [2, 1, 3]
    set_exhibit(plate=plate, exhibit=first.exhibit, side="correct")
    assert letters(plate) == [("a", "correct", 1), ("b", "incorrect", 2), ("c", "incorrect", 3)]
    take_off_plate(row=plate.plate_exhibits.get(exhibit__number=2))
    assert [number for _l, _s, number in letters(plate)] == [1, 3]


def test_a_caption_stays_with_its_exhibit_on_this_plate(cast, edition):
    plate = begin_plate(edition=edition, title="Length")
    (exhibit,) = exhibits(cast, edition, 1)
    set_exhibit(plate=plate, exhibit=exhibit, side="correct")
    caption_on_plate(row=plate.plate_exhibits.get(), caption="A bitch of three")
    set_exhibit(plate=plate, exhibit=exhibit, side="correct")
    assert plate.plate_exhibits.get().caption == "A bitch of three"


def test_clauses_stand_once_and_in_order(edition):
    plate = begin_plate(edition=edition, title="Shoulder and arm")
    one, two = make_clause(edition, "5.1"), make_clause(edition, "5.2")
    for clause in (two, one, two):
        set_clause(plate=plate, clause=clause)
    assert [row.clause.number for row in plate.plate_clauses.all()] == ["5.2", "5.1"]
    move_on_plate(row=plate.plate_clauses.get(clause=one), direction="up")
    assert [row.clause.number for row in plate.plate_clauses.all()] == ["5.1", "5.2"]


def test_what_belongs_elsewhere_is_refused(cast, edition):
    plate = begin_plate(edition=edition, title="Shoulder")
    other = make_edition(cast.other_club)
    with pytest.raises(Refused, match="another edition"):
        set_clause(plate=plate, clause=make_clause(other))
    with pytest.raises(Refused, match="another breed"):
        set_exhibit(plate=plate, exhibit=make_exhibit(cast.other_club, cast.stranger), side="correct")


def test_a_plate_holds_only_so_much(cast, edition):
    plate = begin_plate(edition=edition, title="Everything")
    clauses = [make_clause(edition, f"5.{n}") for n in range(1, 8)]
    for clause in clauses[:6]:
        set_clause(plate=plate, clause=clause)
    with pytest.raises(Refused, match="at most 6 clauses"):
        set_clause(plate=plate, clause=clauses[6])
    *six, seventh = exhibits(cast, edition, 7)
    for exhibit in six:
        set_exhibit(plate=plate, exhibit=exhibit, side="correct")
    with pytest.raises(Refused, match="at most 6 exhibits"):
        set_exhibit(plate=plate, exhibit=seventh, side="correct")
    set_exhibit(plate=plate, exhibit=seventh, side="incorrect")


def test_what_is_missing_is_named_and_keeps_a_plate_from_trainees(cast, edition):
    plate = begin_plate(edition=edition, title="Shoulder")
    assert missing_on_plate(fresh(plate)) == ["A clause.", "A correct exhibit.", "The club’s note."]
    with pytest.raises(NotReady) as refused:
        publish_plate(plate=plate)
    assert refused.value.missing == ["A clause.", "A correct exhibit.", "The club’s note."]
    set_clause(plate=plate, clause=make_clause(edition))
    word_plate(plate=plate, number=1, title="Shoulder", note="Look here.")
    photograph = make_photograph(cast.club, cast.educator, breed=edition.breed)
    set_exhibit(plate=plate, exhibit=photograph, side="correct")
    assert missing_on_plate(fresh(plate)) == ["Exhibit 1 is not published."]
    Exhibit.objects.update(state="published")
    assert missing_on_plate(fresh(plate)) == ["Exhibit 1 has no permission that covers teaching today."]
    permit(photograph, cast.educator)
    publish_plate(plate=plate)
    plate.refresh_from_db()
    assert plate.state == "published"


def test_a_plate_needs_no_incorrect_exhibit(cast, edition):
    plate = begin_plate(edition=edition, title="Expression")
    word_plate(plate=plate, number=1, title="Expression", note="Look here.")
    set_clause(plate=plate, clause=make_clause(edition))
    set_exhibit(plate=plate, exhibit=exhibits(cast, edition, 1)[0], side="correct")
    publish_plate(plate=plate)
    assert plate.state == "published"


def test_a_plate_in_a_module_is_withdrawn_not_thrown_away(cast, edition):
    plate = make_plate(edition, cast.educator)
    add_plate(module=new_module(course=begin_course(edition=edition, title="C"), title="M"), plate=plate)
    with pytest.raises(Refused, match="stands in a module"):
        remove_plate(plate=plate)
    withdraw_plate(plate=plate)
    plate.refresh_from_db()
    assert plate.state == "withdrawn"


def test_a_plate_thrown_away_leaves_its_exhibits(cast, edition):
    remove_plate(plate=make_plate(edition, cast.educator))
    assert Plate.objects.count() == 0
    assert Exhibit.objects.count() == 2


def test_clauses_are_found_by_number_and_by_words(edition):
    plate = begin_plate(edition=edition, title="Shoulder")
    for number, text in (("5.1", "The blade slopes."), ("5.10", "Arm."), ("6.1", "The back is level.")):
        make_clause(edition, number, text=text)
    assert [clause.number for clause in clauses_found(plate, "5.1")] == ["5.1", "5.10"]
    assert [clause.number for clause in clauses_found(plate, " LEVEL ")] == ["6.1"]
    assert clauses_found(plate, "") == []
    set_clause(plate=plate, clause=edition.clauses.get(number="5.1"))
    assert [clause.number for clause in clauses_found(plate, "5")] == ["5.10"]
