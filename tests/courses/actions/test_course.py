"""Courses and modules are put in order, published and withdrawn."""

import pytest

from courses.actions.course import (
    add_module,
    add_plate,
    add_quiz_place,
    add_text,
    begin_course,
    move_module,
    move_place,
    publish_course,
    publish_module,
    remove_module,
    remove_place,
    withdraw_module,
    word_place,
)
from courses.actions.plate import begin_plate, publish_plate, withdraw_plate
from courses.actions.study import finish_module, note_reading
from courses.models import Module, Place
from courses.refusals import NotReady, Refused
from tests.makers import make_edition, make_module, make_plate


@pytest.fixture
def course(edition):
    return begin_course(edition=edition, title="Clause by clause")


def test_modules_stand_in_the_order_in_which_they_are_put(course):
    head, neck, tail = (add_module(course=course, title=title) for title in ("Head", "Neck", "Tail"))
    move_module(module=tail, direction="up")
    move_module(module=head, direction="up")
    assert [each.title for each in course.modules.all()] == ["Head", "Tail", "Neck"]
    move_module(module=head, direction="down")
    assert [each.title for each in course.modules.all()] == ["Tail", "Head", "Neck"]
    assert [each.position for each in course.modules.all()] == [0, 1, 2]
    remove_module(module=neck)
    assert add_module(course=course, title="Feet").position == 2


def test_places_are_texts_plates_and_rooms_for_quizzes(cast, edition, course):
    module = add_module(course=course, title="Forequarters")
    plate = make_plate(edition, cast.educator)
    text = add_text(module=module, title="Before you look")
    shown = add_plate(module=module, plate=plate)
    quiz = add_quiz_place(module=module, title="Forequarters in profile")
    assert [each.kind for each in module.places.all()] == ["text", "plate", "quiz"]
    move_place(place=quiz, direction="up")
    assert list(module.places.all()) == [text, quiz, shown]
    remove_place(place=shown)
    assert list(module.places.all()) == [text, quiz]
    plate.refresh_from_db()
    assert plate.state == "published"


def test_a_plate_stands_once_in_a_module_and_only_with_its_edition(cast, edition, course):
    module = add_module(course=course, title="Forequarters")
    plate = make_plate(edition, cast.educator)
    add_plate(module=module, plate=plate)
    with pytest.raises(Refused, match="in this module already"):
        add_plate(module=module, plate=plate)
    other = make_edition(cast.club, breed=edition.breed, state="draft", title="Next")
    with pytest.raises(Refused, match="another edition"):
        add_plate(module=module, plate=begin_plate(edition=other, title="Arm"))


def test_a_module_with_something_missing_is_not_published(cast, edition, course):
    module = add_module(course=course, title="Forequarters")
    with pytest.raises(NotReady, match="A place: a text, a plate or a quiz"):
        publish_module(module=module)
    plate = make_plate(edition, cast.educator)
    withdraw_plate(plate=plate)
    add_plate(module=module, plate=plate)
    text = add_text(module=module, title="Before you look")
    with pytest.raises(NotReady) as refused:
        publish_module(module=module)
    assert refused.value.missing == ["Plate 1 is not published.", "The text “Before you look” is empty."]
    word_place(place=text, title="Before you look", text="Stand back.")
    publish_plate(plate=plate)
    publish_module(module=module)
    module.refresh_from_db()
    assert module.state == "published"


def test_a_course_needs_a_published_module(course):
    module = add_module(course=course, title="Forequarters")
    with pytest.raises(NotReady, match="A published module"):
        publish_course(course=course)
    word_place(place=add_text(module=module, title="T"), title="T", text="Words.")
    publish_module(module=module)
    publish_course(course=course)
    assert course.state == "published"


def test_a_module_that_someone_has_begun_stays(cast, edition):
    module = make_module(edition)
    note_reading(person=cast.trainee.person, place=module.places.get())
    with pytest.raises(Refused, match="Someone has begun it"):
        remove_module(module=module)
    withdraw_module(module=module)
    assert Module.objects.get().state == "withdrawn"


def test_reading_goes_forward_only(cast, edition):
    module = make_module(edition, "One", "Two", "Three")
    one, two, three = module.places.all()
    person = cast.trainee.person
    assert note_reading(person=person, place=two).place == two
    assert note_reading(person=person, place=one).place == two
    assert note_reading(person=person, place=three).place == three
    finished = finish_module(person=person, module=module)
    again = finish_module(person=person, module=module)
    assert finished.finished_at == again.finished_at is not None
    assert person.progress.count() == 1


def test_a_place_taken_out_does_not_undo_that_it_was_begun(cast, edition):
    module = make_module(edition, "One", "Two")
    one, two = module.places.all()
    note_reading(person=cast.trainee.person, place=two)
    remove_place(place=two)
    progress = note_reading(person=cast.trainee.person, place=one)
    assert progress.place == one
    assert Place.objects.count() == 1
