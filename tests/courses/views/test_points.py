"""Placing points: saved as one goes, alone until finished, and laid together afterwards."""

import json
import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from courses.models import Placement
from tests.courses.measures.dogs import IDEAL, placed
from tests.makers import make_exhibit, make_photograph, make_placement, make_published

HERE = "/clubs/skerry-drover/exhibits/1/points/"
DOG = placed(IDEAL)
TWO = {"withers": [0.5, 0.2], "elbow": [0.5, 0.4]}


@pytest.fixture
def exhibit(cast):
    return make_published(cast.club, cast.educator, width=1600, height=1200)


def send(client, points=TWO, seen=0, identity=None):
    body = {"content": {"points": points}, "seen": seen, "identity": str(identity or uuid.uuid4())}
    return client.post(HERE + "save/", json.dumps(body), content_type="application/json")


def asked(page):
    return json.loads(
        page.content.decode().split('id="ask" type="application/json">')[1].split("</script>")[0]
    )


def test_the_page_asks_for_every_point_where_it_is_and_in_which_order(cast, exhibit):
    ask = asked(cast.client("educator").get(HERE))
    assert [point["name"] for point in ask["points"]][:4] == [
        "withers",
        "ground_front",
        "ground_rear",
        "nose",
    ]
    assert len(ask["points"]) == 24
    assert ask["points"][0]["where"].startswith("highest point of the back")
    assert set(ask["ideal"]) >= {point["name"] for point in ask["points"]}
    assert (ask["content"], ask["revision"], ask["last"]) == ({"points": {}}, 0, None)


def test_what_is_placed_is_kept_and_found_again(cast, exhibit):
    client, identity = cast.client("educator"), uuid.uuid4()
    answer = send(client, identity=identity)
    assert answer.status_code == 200
    assert answer.json()["revision"] == 1
    ask = asked(client.get(HERE))
    assert (ask["content"]["points"], ask["revision"], ask["last"]) == (TWO, 1, str(identity))


def test_another_windows_save_is_told_with_what_it_kept(cast, exhibit):
    client, identity = cast.client("educator"), uuid.uuid4()
    send(client, identity=identity)
    answer = send(client, {"nose": [0.9, 0.1]})
    assert answer.status_code == 409
    assert answer.json() == {
        "error": "These points were changed in another window.",
        "content": {"points": TWO},
        "revision": 1,
        "last": str(identity),
    }


@pytest.mark.parametrize(
    "body", ["", "[]", "{}", '{"content": {"points": {}}, "seen": "x", "identity": "1"}']
)
def test_what_cannot_be_read_is_refused_in_words(cast, exhibit, body):
    answer = cast.client("educator").post(HERE + "save/", body, content_type="application/json")
    assert answer.status_code == 422
    assert answer.json()["error"] == "The points could not be read."


def test_a_point_that_the_view_does_not_have_is_named_as_such(cast, exhibit):
    answer = send(cast.client("educator"), {"wheel": [0.1, 0.1]})
    assert (answer.status_code, answer.json()["error"]) == (422, "This view has no such point.")


def test_the_others_points_are_on_no_page_until_ones_own_are_finished(cast, exhibit):
    secret = 0.517283
    make_placement(exhibit, cast.educator, DOG | {"nose": (secret, 0.1)})
    client = cast.client("mentor")
    assert str(secret) not in client.get(HERE).content.decode()
    send(client, {name: list(at) for name, at in DOG.items()})
    assert str(secret) not in client.get(HERE).content.decode()
    measures = client.get("/clubs/skerry-drover/exhibits/1/measures/").content.decode()
    assert str(secret) not in measures
    assert "so that what others placed does not lead you" in measures
    assert client.post(HERE + "finish/", {"seen": "1"}).url == HERE
    page = client.get(HERE).content.decode()
    assert str(secret) in page
    assert "Ishbel Rendall" in page


def test_an_unfinished_placement_is_not_shown_to_others(cast, exhibit):
    secret = 0.517283
    make_placement(exhibit, cast.mentor, DOG | {"nose": (secret, 0.1)}, finished_at=None)
    client = cast.client("educator")
    make_placement(exhibit, cast.educator, DOG)
    page = client.get(HERE).content.decode()
    assert str(secret) not in page
    assert "Magnus Flett" not in page
    assert "Placed by you alone" in page


def test_finishing_with_too_little_says_so(cast, exhibit):
    client = cast.client("educator")
    send(client, {"nose": [0.9, 0.1]})
    answer = client.post(HERE + "finish/", {"seen": "1"}, follow=True)
    assert "Place two points at least." in answer.content.decode()


def test_a_finished_set_is_not_changed_by_a_late_save(cast, exhibit):
    make_placement(exhibit, cast.educator, TWO)
    answer = send(cast.client("educator"), {"nose": [0.9, 0.1]}, seen=1)
    assert answer.status_code == 410


def test_points_are_corrected_while_nobody_else_has_placed(cast, exhibit):
    make_placement(exhibit, cast.educator, TWO)
    client = cast.client("educator")
    assert "Correct my points" in client.get(HERE).content.decode()
    client.post(HERE + "take-up/")
    assert asked(client.get(HERE))["content"]["points"] == TWO


def test_the_educator_takes_a_placement_off_and_the_mentor_may_not(cast, exhibit):
    make_placement(exhibit, cast.educator, TWO)
    other = make_placement(exhibit, cast.mentor, TWO)
    assert cast.client("mentor").post(HERE + f"{other.pk}/remove/").status_code == 403
    page = cast.client("educator").post(HERE + f"{other.pk}/remove/", follow=True).content.decode()
    assert "They count no longer" in page
    assert list(Placement.objects.values_list("placed_by__name", flat=True)) == ["Ishbel Rendall"]


def test_a_draft_is_placed_by_educators_only(cast):
    make_photograph(cast.club, cast.educator)
    assert cast.client("educator").get(HERE).status_code == 200
    assert cast.client("mentor").get(HERE).status_code == 404
    assert send(cast.client("mentor")).status_code == 404


def test_a_drawing_shows_its_points_to_be_read(cast):
    exhibit = make_exhibit(cast.club, cast.educator, width=1600, height=1200)
    Placement.objects.create(exhibit=exhibit, exact=True, points=DOG)
    page = cast.client("mentor").get(HERE).content.decode()
    assert "The points of the drawing" in page
    assert "known exactly" in page
    assert send(cast.client("educator")).status_code == 410


def test_a_view_without_points_says_so(cast):
    make_photograph(cast.club, cast.educator, view="mouth")
    assert "This view has no points yet" in cast.client("educator").get(HERE).content.decode()


def test_how_it_was_taken_is_saved_and_told(cast, exhibit):
    client, where = cast.client("educator"), "/clubs/skerry-drover/exhibits/1/camera/"
    fragment = client.post(where, {"camera": "good"}, headers={"HX-Request": "true"}).content.decode()
    assert fragment.startswith('<section id="_camera"')
    assert "Saved at" in fragment
    exhibit.refresh_from_db()
    assert exhibit.camera == "good"
    client.post(where, {"camera": "exact"})
    exhibit.refresh_from_db()
    assert exhibit.camera == "good"
    assert "square on, level" in cast.client("mentor").get(HERE).content.decode().lower()


def test_one_and_three_placements_cost_the_same(cast, exhibit, django_assert_num_queries):
    make_placement(exhibit, cast.educator, DOG)
    client = cast.client("educator")
    with CaptureQueriesContext(connection) as few:
        client.get(HERE)
    make_placement(exhibit, cast.mentor, DOG)
    with django_assert_num_queries(len(few)):
        client.get(HERE)


def test_a_second_persons_points_are_asked_for_on_the_day_page(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    day = "/clubs/skerry-drover/"
    assert "second person’s points" not in cast.client("educator").get(day).content.decode()
    page = cast.client("mentor").get(day).content.decode()
    assert "A photograph wants a second person’s points." in page
    assert HERE in page
    make_placement(exhibit, cast.mentor, DOG)
    assert "second person’s points" not in cast.client("mentor").get(day).content.decode()
