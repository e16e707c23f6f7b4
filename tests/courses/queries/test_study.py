"""What is open to whom: whoever has begun goes on with what they began."""

from courses.actions.course import (
    add_module,
    add_text,
    publish_course,
    publish_module,
    withdraw_course,
    withdraw_module,
    word_place,
)
from courses.actions.plate import publish_plate, withdraw_plate
from courses.actions.study import finish_module, note_reading
from courses.models import Course, Module, Progress
from courses.queries.study import contents_for, go_on_at, open_module, preview_of, reading_of
from tests.makers import make_edition, make_member, make_module, make_plate


def lines(membership) -> list[tuple[str, str]]:
    return [(line.module.title, line.state) for each in contents_for(membership) for line in each.lines]


def test_only_what_is_published_is_seen(cast, edition):
    module = make_module(edition)
    add_module(course=module.course, title="Still a draft")
    make_module(make_edition(cast.other_club), title="Another club’s")
    assert lines(cast.trainee) == [("Forequarters", "not begun")]
    Course.objects.update(state="draft")
    assert lines(cast.trainee) == []


def test_whoever_has_begun_a_withdrawn_module_goes_on_with_it(cast, edition):
    module = make_module(edition, "One", "Two")
    newcomer = make_member(cast.club, "Rasmie Tulloch", trainee=True)
    note_reading(person=cast.trainee.person, place=module.places.first())
    for withdraw, again in (
        (lambda: withdraw_module(module=module), lambda: publish_module(module=module)),
        (lambda: withdraw_course(course=module.course), lambda: publish_course(course=module.course)),
    ):
        withdraw()
        assert lines(newcomer) == []
        assert lines(cast.trainee) == [("Forequarters", "begun")]
        first, second = module.places.all()
        assert reading_of(newcomer, module.pk, first.pk) is None
        assert reading_of(cast.trainee, module.pk, second.pk).place == second
        again()
        assert lines(newcomer) == [("Forequarters", "not begun")]


def test_a_withdrawn_plate_is_found_only_by_who_has_begun_its_module(cast, edition):
    plate, other = make_plate(edition, cast.educator), make_plate(edition, cast.educator, title="Arm")
    module = make_module(edition, plate, other)
    newcomer = make_member(cast.club, "Rasmie Tulloch", trainee=True)
    note_reading(person=cast.trainee.person, place=module.places.get(plate=other))
    withdraw_plate(plate=plate)
    assert [place.plate for place in open_module(newcomer, module.pk).places] == [other]
    assert [place.plate for place in open_module(cast.trainee, module.pk).places] == [plate, other]
    publish_plate(plate=plate)
    assert [place.plate for place in open_module(newcomer, module.pk).places] == [plate, other]


def test_states_are_said_in_words(cast, edition):
    plate = make_plate(edition, cast.educator, number=7)
    module = make_module(edition, "Before you look", plate)
    text, shown = module.places.all()
    assert lines(cast.trainee) == [("Forequarters", "not begun")]
    note_reading(person=cast.trainee.person, place=text)
    assert lines(cast.trainee) == [("Forequarters", "begun")]
    note_reading(person=cast.trainee.person, place=shown)
    assert lines(cast.trainee) == [("Forequarters", "at plate 7")]
    rows = open_module(cast.trainee, module.pk).rows
    assert [state for _place, state in rows] == ["read", "you stopped here"]
    finish_module(person=cast.trainee.person, module=module)
    assert lines(cast.trainee) == [("Forequarters", "read")]


def test_one_goes_on_where_one_read_last_then_at_the_first_not_begun(cast, edition):
    first = make_module(edition, "One", title="Head")
    second = make_module(edition, "One", "Two", title="Neck", course=first.course)
    third = make_module(edition, "One", title="Tail", course=first.course)

    def stop():
        line = go_on_at(contents_for(cast.trainee))
        return line and (line.module.title, line.number, line.stop.title)

    assert stop() == ("Head", 1, "One")
    note_reading(person=cast.trainee.person, place=third.places.get())
    note_reading(person=cast.trainee.person, place=second.places.last())
    assert stop() == ("Neck", 2, "Two")
    finish_module(person=cast.trainee.person, module=second)
    assert stop() == ("Tail", 3, "One")
    finish_module(person=cast.trainee.person, module=third)
    assert stop() == ("Head", 1, "One")
    finish_module(person=cast.trainee.person, module=first)
    assert stop() is None


def test_back_and_on_lead_through_the_module(cast, edition):
    module = make_module(edition, "One", "Two", "Three")
    one, two, three = module.places.all()
    reading = reading_of(cast.trainee, module.pk, two.pk)
    assert (reading.back, reading.on) == (one, three)
    assert reading_of(cast.trainee, module.pk, one.pk).back is None
    assert reading_of(cast.trainee, module.pk, three.pk).on is None


def test_a_place_of_another_module_is_not_found_in_this_one(cast, edition):
    module = make_module(edition, "One")
    other = make_module(edition, "Two", course=module.course)
    assert reading_of(cast.trainee, module.pk, other.places.get().pk) is None


def test_educators_see_drafts_before_anyone(cast, edition):
    module = make_module(edition, "One")
    Module.objects.update(state="draft")
    empty = add_module(course=module.course, title="Empty")
    assert preview_of(cast.educator, module.pk, None).place == module.places.get()
    assert preview_of(cast.educator, empty.pk, None) is None
    assert preview_of(cast.stranger, module.pk, None) is None
    assert Progress.objects.count() == 0


def test_contents_cost_the_same_for_one_course_and_for_many(cast, edition, django_assert_num_queries):
    make_module(edition, make_plate(edition, cast.educator), "One")
    with django_assert_num_queries(4):
        assert len(lines(cast.trainee)) == 1
    for title in ("B", "C"):
        module = make_module(edition, make_plate(edition, cast.educator, title=title), title=title)
        extra = add_module(course=module.course, title=title * 2)
        word_place(place=add_text(module=extra, title="T"), title="T", text="T")
        publish_module(module=extra)
        note_reading(person=cast.trainee.person, place=module.places.first())
    with django_assert_num_queries(4):
        assert len(lines(cast.trainee)) == 5
