"""What is measured on an exhibit: whose points count, how surely, and what the clauses say to it."""

import pytest
from django.utils import timezone

from courses.actions.drawing import keep_drawing
from courses.figure import apply_faults, preview
from courses.measures.construction import construction
from courses.measures.measures import measure
from courses.measures.wording import value_of
from courses.models import Exhibit
from courses.queries.measures import (
    lines_of,
    measurable_clauses,
    measured,
    missing_for,
    placed_on,
    range_words,
)
from courses.queries.placement import measured_by, spread_on, wanting_points
from tests.courses.measures.dogs import IDEAL, placed, without
from tests.makers import make_breed, make_clause, make_edition, make_exhibit, make_placement

DOG = placed(IDEAL)


@pytest.fixture
def exhibit(cast):
    return make_exhibit(cast.club, cast.educator, kind="photograph")


def shifted(points, dx, dy=0.0):
    return {name: (x + dx, y + dy) for name, (x, y) in points.items()}


def test_one_person_has_the_usual_error(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    found = placed_on(exhibit)
    assert (found.people, found.placement_sd, found.camera) == (1, 0.008, "unknown")
    (layback,) = [each for each in measured(found, "profile") if each.measure.name == "layback"]
    assert layback.taken == measure({n: tuple(p) for n, p in found.points.items()}, "layback")
    assert layback.taken.value == pytest.approx(35, abs=0.1)


def test_several_people_make_it_surer_and_their_spread_counts(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    alone = measured(placed_on(exhibit), "profile")
    make_placement(exhibit, cast.mentor, DOG)
    both = measured(placed_on(exhibit), "profile")
    assert all(two.taken.sd < one.taken.sd for one, two in zip(alone, both, strict=True))
    exhibit.placements.get(placed_by=cast.mentor.person).delete()
    wide = DOG | {"blade_top": (DOG["blade_top"][0] + 0.04, DOG["blade_top"][1])}
    make_placement(exhibit, cast.mentor, wide)
    apart = measured(placed_on(exhibit), "profile")
    assert named(apart, "layback").sd > named(both, "layback").sd
    assert named(apart, "stifle_angle").sd == pytest.approx(named(both, "stifle_angle").sd, rel=1e-6)


def named(rows, name):
    return next(each.taken for each in rows if each.measure.name == name)


def test_unfinished_points_count_for_nothing(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG, finished_at=None)
    assert placed_on(exhibit).points == {}
    assert measured(placed_on(exhibit), "profile") == []


def test_points_of_a_view_that_was_changed_afterwards_do_not_count(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    exhibit.view = "head"
    assert set(placed_on(exhibit).points) == {"nose", "stop", "occiput"}


def test_points_that_coincide_give_no_measure_and_no_error(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG | {"blade_top": DOG["point_of_shoulder"]})
    names = {each.measure.name for each in measured(placed_on(exhibit), "profile")}
    assert "layback" not in names
    assert "stifle_angle" in names


def test_a_drawing_is_exact_and_keeps_what_was_asked_of_it(cast):
    settings = apply_faults({"upright_shoulder": 0.9})
    exhibit = keep_drawing(
        club=cast.club,
        breed=make_breed(cast.club),
        drawing=preview("profile", settings, width=200),
        settings=settings,
        faults={},
        made_by=cast.educator.person,
    )
    found = placed_on(exhibit)
    assert (found.exact, found.placement_sd, found.people) == (True, 0.0, 0)
    layback = named(measured(found, "profile"), "layback")
    assert layback.value == pytest.approx(settings["layback"], abs=0.05)
    assert layback.sd == 0


def test_clauses_of_the_edition_in_force_come_first_with_their_verdict(cast, exhibit):
    edition = make_edition(cast.club)
    clause = make_clause(edition, "5.1", measure="layback", low=30, high=40)
    make_clause(edition, "7.2", measure="stifle_angle", low=60, high=80)
    make_clause(edition, "5.9")
    old = make_edition(cast.club, state="retired", title="Edition of 2019")
    make_clause(old, "5.1", measure="layback", low=1, high=2)
    make_placement(exhibit, cast.educator, DOG)
    rows = measured(placed_on(exhibit), "profile", list(measurable_clauses(exhibit.breed)))
    assert [(row.clause.number, row.verdict) for row in rows[:2]] == [
        ("5.1", "cannot tell"),
        ("7.2", "outside"),
    ]
    assert rows[0].clause == clause
    assert rows[0].asks == "30–40° from plumb"
    assert all(row.clause is None and row.verdict == "" for row in rows[2:])
    assert len({row.measure.name for row in rows}) == len(rows) == 17


def test_what_is_missing_is_named_in_words(cast, exhibit):
    clause = make_clause(make_edition(cast.club), "5.1", measure="layback", low=30, high=40)
    make_placement(exhibit, cast.educator, without(DOG, "blade_top", "ground_rear"))
    assert missing_for(placed_on(exhibit), "profile", clause) == ["Top of shoulder blade", "Ground behind"]


def test_values_are_said_with_their_unit_and_a_true_minus():
    reach = measure(DOG, "hind_reach", camera="exact", placement_sd=0)
    elbow = measure(DOG, "elbow_set")
    assert value_of(measure(DOG, "layback", camera="exact", placement_sd=0)) == "35°"
    assert value_of(measure(DOG, "layback")) == "35° ± 6"
    assert value_of(elbow) == "−0.02 ± 0.03"
    assert value_of(reach) == "0.00"
    assert range_words(elbow, -0.05, 0.03) == "−0.05 to 0.03"


def test_lines_are_those_of_the_construction():
    built = construction(DOG, "layback")
    lines = lines_of(built)
    assert [each[0] for each in lines["segments"]] == ["bone", "plumb"]
    assert lines["ends"] == sorted(
        [[round(v, 5) for v in DOG[n]] for n in ("point_of_shoulder", "blade_top")]
    )
    ((radius, *_ends, clockwise),) = lines["arcs"]
    assert (radius, clockwise) == (round(built.arcs[0].radius, 5), int(built.arcs[0].clockwise))


def test_the_spread_is_told_in_per_cent_of_the_height(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    make_placement(exhibit, cast.mentor, DOG | {"wrist": (DOG["wrist"][0] + 0.0086, DOG["wrist"][1])})
    rows = {row.point.name: row for row in spread_on(exhibit)}
    # Two places 2 % of the height (0.43) apart: their standard deviation is 2/√2 along x, 0 along y.
    assert rows["wrist"].apart == pytest.approx(1.0, rel=0.01)
    assert not rows["wrist"].wide
    assert rows["elbow"].apart == 0
    assert rows["wrist"].people == 2


def test_a_point_that_one_person_did_not_see_has_no_spread(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    make_placement(exhibit, cast.mentor, without(DOG, "tail_tip") | {"tail_tip": None})
    (tail,) = [row for row in spread_on(exhibit) if row.point.name == "tail_tip"]
    assert (tail.people, tail.apart) == (1, None)


def test_a_second_pair_of_eyes_is_wanted_of_those_who_have_not_placed(cast, exhibit):
    today = timezone.localdate()
    make_exhibit(cast.club, cast.educator)
    photograph = Exhibit.objects.filter(pk=exhibit.pk)
    photograph.update(state="published")
    assert list(wanting_points(cast.educator, today)) == []
    make_placement(exhibit, cast.educator, DOG)
    assert list(wanting_points(cast.educator, today)) == []
    other = make_exhibit(cast.club, cast.educator, kind="photograph", state="draft")
    make_placement(other, cast.mentor, DOG)
    assert list(wanting_points(cast.educator, today)) == [other]


def test_reading_many_exhibits_costs_as_little_as_one(cast, django_assert_num_queries):
    for _ in range(3):
        make_placement(make_exhibit(cast.club, cast.educator, kind="photograph"), cast.educator, DOG)
    with django_assert_num_queries(4):
        for each in measured_by(cast.educator, timezone.localdate()):
            placed_on(each)
            spread_on(each)
