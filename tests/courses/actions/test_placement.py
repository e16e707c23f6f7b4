"""Each person places points alone, every save counts once, and finished points stay as they are."""

import uuid

import pytest
from django.core.exceptions import ValidationError

from courses.actions.placement import (
    Overtaken,
    finish_points,
    remove_placement,
    save_points,
    take_up_points,
)
from courses.models import Placement
from courses.refusals import Refused
from shared.web.limits import PLACEMENTS_PER_EXHIBIT
from tests.makers import make_exhibit, make_member, make_placement

TWO = {"withers": [0.5, 0.2], "elbow": [0.5, 0.4]}


@pytest.fixture
def exhibit(cast):
    return make_exhibit(cast.club, cast.educator, kind="photograph", width=1600, height=1200)


def save(exhibit, who, points=TWO, seen=0, identity=None):
    return save_points(
        exhibit=exhibit, by=who.person, sent={"points": points}, seen=seen, identity=identity or uuid.uuid4()
    )


def test_points_are_kept_with_those_that_are_not_visible(cast, exhibit):
    saved = save(exhibit, cast.educator, TWO | {"tail_tip": None})
    kept = Placement.objects.get()
    assert saved.revision == kept.revision == 1
    assert kept.points == {"withers": [0.5, 0.2], "elbow": [0.5, 0.4], "tail_tip": None}
    assert (kept.placed_by, kept.finished_at, kept.exact) == (cast.educator.person, None, False)


def test_the_same_save_sent_twice_counts_once(cast, exhibit):
    identity = uuid.uuid4()
    first = save(exhibit, cast.educator, identity=identity)
    again = save(exhibit, cast.educator, identity=identity)
    assert again == first
    assert Placement.objects.get().revision == 1


def test_a_save_that_has_not_seen_the_last_is_refused_and_told_what_is_kept(cast, exhibit):
    save(exhibit, cast.educator)
    with pytest.raises(Overtaken) as refusal:
        save(exhibit, cast.educator, {"nose": [0.9, 0.1]}, seen=0)
    assert refusal.value.placement.points == TWO
    save(exhibit, cast.educator, {"nose": [0.9, 0.1]}, seen=1)
    assert Placement.objects.get().points == {"nose": [0.9, 0.1]}


def test_two_people_have_points_of_their_own(cast, exhibit):
    save(exhibit, cast.educator)
    save(exhibit, cast.mentor, {"nose": [0.9, 0.1]})
    assert {each.placed_by.name: set(each.points) for each in Placement.objects.all()} == {
        "Ishbel Rendall": {"withers", "elbow"},
        "Magnus Flett": {"nose"},
    }


@pytest.mark.parametrize(
    "sent",
    [
        None,
        {},
        {"points": []},
        {"points": {"wheel": [0.1, 0.1]}},
        {"points": {"nose": [0.1]}},
        {"points": {"nose": ["0.1", 0.1]}},
        {"points": {"nose": [True, 0.1]}},
        {"points": {"nose": [float("nan"), 0.1]}},
        {"points": {"nose": [-0.01, 0.1]}},
        {"points": {"nose": [0.5, 0.76]}},
    ],
)
def test_what_is_no_set_of_points_is_refused(cast, exhibit, sent):
    with pytest.raises(ValidationError):
        save_points(exhibit=exhibit, by=cast.educator.person, sent=sent, seen=0, identity=uuid.uuid4())
    assert not Placement.objects.exclude(points={}).exists()


def test_a_drawing_is_not_placed_by_hand(cast):
    with pytest.raises(Refused, match="knows its points exactly"):
        save(make_exhibit(cast.club, cast.educator), cast.educator)


def test_no_more_people_than_are_wanted(cast, exhibit):
    for number in range(PLACEMENTS_PER_EXHIBIT):
        save(exhibit, make_member(cast.club, f"Mentor {number}", mentor=True))
    with pytest.raises(Refused, match="Enough people"):
        save(exhibit, cast.educator)


def test_finished_points_change_no_more(cast, exhibit):
    save(exhibit, cast.educator)
    with pytest.raises(Overtaken):
        finish_points(exhibit=exhibit, by=cast.educator.person, seen=0)
    done = finish_points(exhibit=exhibit, by=cast.educator.person, seen=1)
    assert finish_points(exhibit=exhibit, by=cast.educator.person).finished_at == done.finished_at
    with pytest.raises(Refused, match="finished"):
        save(exhibit, cast.educator, {"nose": [0.9, 0.1]}, seen=1)
    assert Placement.objects.get().points == TWO


def test_one_point_is_not_enough_to_finish(cast, exhibit):
    save(exhibit, cast.educator, {"nose": [0.9, 0.1], "elbow": None})
    with pytest.raises(Refused, match="two points"):
        finish_points(exhibit=exhibit, by=cast.educator.person)


def test_points_are_taken_up_again_until_others_have_been_seen(cast, exhibit):
    make_placement(exhibit, cast.educator, TWO)
    assert take_up_points(exhibit=exhibit, by=cast.educator.person).finished_at is None
    finish_points(exhibit=exhibit, by=cast.educator.person)
    make_placement(exhibit, cast.mentor, TWO)
    with pytest.raises(Refused, match="you have seen them"):
        take_up_points(exhibit=exhibit, by=cast.educator.person)


def test_a_placement_is_taken_off_but_never_a_drawings_own(cast, exhibit):
    remove_placement(placement=make_placement(exhibit, cast.mentor, TWO))
    assert not exhibit.placements.exists()
    exact = Placement.objects.create(exhibit=exhibit, exact=True, points=TWO)
    with pytest.raises(Refused, match="belong to the drawing"):
        remove_placement(placement=exact)
