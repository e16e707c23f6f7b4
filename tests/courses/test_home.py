"""What courses put on the day's page."""

import datetime

from django.utils import timezone

from courses.actions.course import add_module
from courses.actions.plate import begin_plate, withdraw_plate
from courses.actions.study import finish_module, note_reading
from courses.models import Exhibit, Module, Plate, Progress
from courses.queries.study import last_stop
from tests.makers import (
    make_clause,
    make_exhibit,
    make_module,
    make_photograph,
    make_plate,
    make_published,
    permit,
)

HERE = "/clubs/skerry-drover/"


def page(cast, who: str) -> str:
    return cast.client(who).get(HERE).content.decode()


def test_a_trainee_is_told_where_to_begin_and_then_where_they_stopped(cast, edition):
    assert "Courses that the club publishes will be here" in page(cast, "trainee")
    exhibit = make_published(cast.club, cast.educator, breed=edition.breed)
    plate = make_plate(edition, cast.educator, number=7, clauses=[make_clause(edition)], correct=[exhibit])
    module = make_module(edition, "Before you look", plate)
    first = page(cast, "trainee")
    assert "Next: Forequarters" in first
    assert "not begun" in first
    text, place = module.places.all()
    note_reading(person=cast.trainee.person, place=text)
    begun = page(cast, "trainee")
    assert "You stopped in Forequarters" in begun
    assert exhibit.renditions.first().name in begun
    assert "The blade slopes." not in begun
    note_reading(person=cast.trainee.person, place=place)
    stopped = page(cast, "trainee")
    assert "You stopped at plate 7, Lay of shoulder" in stopped
    assert f'href="{HERE}study/{module.pk}/{place.pk}/"' in stopped
    assert "The blade slopes." in stopped
    assert exhibit.renditions.first().name in stopped
    assert "at plate 7" in stopped
    finish_module(person=cast.trainee.person, module=module)
    assert "You stopped at" not in page(cast, "trainee")


def test_nobody_goes_on_at_what_was_taken_back(cast, edition):
    plate = make_plate(edition, cast.educator)
    module = make_module(edition, plate)
    note_reading(person=cast.trainee.person, place=module.places.get())
    withdraw_plate(plate=plate)
    assert last_stop(cast.trainee).place.plate == plate
    Plate.objects.update(state="draft")
    assert last_stop(cast.trainee) is None
    Plate.objects.update(state="published")
    Module.objects.update(state="draft")
    assert last_stop(cast.trainee) is None
    assert last_stop(cast.stranger) is None
    assert Progress.objects.count() == 1


def test_permissions_that_end_are_told_to_those_who_can_ask_the_owners(cast, edition):
    today = timezone.localdate()
    exhibits = [make_published(cast.club, cast.educator, seed=n, breed=edition.breed) for n in range(2)]
    for days, exhibit in zip((3, 9), exhibits, strict=True):
        exhibit.permissions.all().delete()
        permit(exhibit, cast.educator, ends_on=today + datetime.timedelta(days=days))
    make_plate(edition, cast.educator, number=3, correct=exhibits[:1])
    for who in ("educator", "secretary"):
        shown = page(cast, who)
        assert "2 permissions end, the first on" in shown
        assert "Exhibits 2, 1. The picture leaves plate 3 then." in shown
        assert f"{HERE}exhibits/?ending=on" in shown
    listed = cast.client("secretary").get(HERE + "exhibits/?ending=on").context["page"]
    assert [each.number for each in listed] == [2, 1]
    assert "permissions end" not in page(cast, "mentor")


def test_photographs_without_permission_wait_for_the_educator(cast):
    make_photograph(cast.club, cast.educator)
    make_photograph(cast.club, cast.educator, seed=1, state="withdrawn")
    make_exhibit(cast.club, cast.educator)
    shown = page(cast, "educator")
    assert "A photograph has no permission." in shown
    assert "Exhibit 1. Until" in shown
    permit(Exhibit.objects.get(number=1), cast.educator)
    assert "A photograph has no permission." not in page(cast, "educator")


def test_drafts_are_listed_the_last_changed_first(cast, edition):
    assert "that you have not published yet will be here" in page(cast, "educator")
    begin_plate(edition=edition, title="Set of tail")
    add_module(course=make_module(edition).course, title="Feet")
    make_plate(edition, cast.educator, title="Lay of shoulder")
    shown = page(cast, "educator")
    assert shown.index("Module: Feet") < shown.index("Plate 1. Set of tail")
    assert "Lay of shoulder" not in shown


def test_the_page_costs_the_same_for_few_and_for_many(cast, edition, django_assert_max_num_queries):
    def spend() -> dict[str, int]:
        counts = {}
        for who in ("trainee", "educator", "secretary"):
            client = cast.client(who)
            client.get(HERE)
            with django_assert_max_num_queries(60) as spent:
                client.get(HERE)
            counts[who] = len(spent)
        return counts

    def add(n: int) -> None:
        exhibit = make_published(cast.club, cast.educator, seed=10 * n, breed=edition.breed)
        exhibit.permissions.update(ends_on=timezone.localdate() + datetime.timedelta(days=3))
        make_photograph(cast.club, cast.educator, seed=10 * n + 1)
        plate = make_plate(edition, cast.educator, title=f"P{n}", correct=[exhibit])
        module = make_module(edition, plate, title=f"M{n}")
        begin_plate(edition=edition, title=f"D{n}")
        add_module(course=module.course, title=f"E{n}")
        note_reading(person=cast.trainee.person, place=module.places.get())

    add(1)
    before = spend()
    add(2)
    add(3)
    assert spend() == before
