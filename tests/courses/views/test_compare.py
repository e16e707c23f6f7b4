"""One over the other: open to whoever may read the plate, told in words and figures."""

import json

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from courses.models import Exhibit, Placement
from tests.courses.measures.dogs import IDEAL, placed
from tests.makers import make_clause, make_edition, make_exhibit, make_module, make_plate, make_published

DOG = placed(IDEAL)
STEEP = placed(IDEAL | {"blade_top": (0.06, 0.97), "withers": (0.07, 1.0)})


@pytest.fixture
def edition(cast):
    made = make_edition(cast.club)
    make_clause(made, "5.1", zone="forequarters", measure="layback", low=30, high=40)
    return made


@pytest.fixture
def plate(cast, edition):
    return make_plate(edition, cast.educator, correct=[dog(cast, DOG)], incorrect=[dog(cast, STEEP)])


def dog(cast, points, **fields):
    made = make_published(cast.club, cast.educator, seed=Exhibit.objects.count(), kind="drawn", **fields)
    Placement.objects.create(exhibit=made, exact=True, points=points)
    return made


def address(plate):
    return f"/clubs/skerry-drover/plates/{plate.pk}/compare/"


def words(page):
    return " ".join(page.content.decode().split())


def test_a_reader_sees_both_with_values_verdicts_and_what_differs(cast, edition, plate):
    module = make_module(edition, plate)
    page = cast.client("trainee").get(address(plate))
    text = words(page)
    assert "asks 30–40° from plumb" in text
    assert "<td>35°</td><td><strong>within</strong></td>" in text
    assert "<strong>outside</strong>" in text
    assert "15° less" in text
    assert "Outline of the other dog" not in text  # these two have no outline
    assert f"/study/{module.pk}/{module.places.get().pk}/" in text
    sent = json.loads(text.split('id="drawings" type="application/json">')[1].split("</script>")[0])
    assert [way["name"] for way in sent["ways"]] == ["hind", "whole", "fore"]


def test_the_plate_leads_there(cast, edition, plate):
    module = make_module(edition, plate)
    place = module.places.get()
    text = words(cast.client("trainee").get(f"/clubs/skerry-drover/study/{module.pk}/{place.pk}/"))
    assert address(plate) in text


def test_a_plate_that_is_not_open_is_not_found_but_its_makers_see_it(cast, plate):
    assert cast.client("trainee").get(address(plate)).status_code == 404
    assert cast.client("mentor").get(address(plate)).status_code == 404
    assert cast.client("educator").get(address(plate)).status_code == 200


def test_a_pair_is_chosen_by_its_letters(cast, edition):
    third = dog(cast, placed(IDEAL | {"stifle": (-0.6, 0.5)}))
    plate = make_plate(edition, cast.educator, correct=[dog(cast, DOG)], incorrect=[dog(cast, STEEP), third])
    client = cast.client("educator")
    assert "pair=ab" in words(client.get(address(plate)))
    assert client.get(address(plate) + "?pair=ac").context["pair"].incorrect.exhibit == third
    assert client.get(address(plate) + "?pair=zz").context["pair"].incorrect.letter == "b"


def test_a_withdrawn_picture_leaves_nothing_to_compare_by(cast, edition, plate):
    make_module(edition, plate)
    Exhibit.objects.filter(number=2).update(state="withdrawn")
    text = words(cast.client("trainee").get(address(plate)))
    assert "may not be shown at present" in text
    assert "Picture withdrawn" in text
    assert 'id="drawings"' not in text
    assert "15° less" not in text


def test_without_points_they_stand_side_by_side_with_the_reason(cast, edition):
    bare = make_exhibit(cast.club, cast.educator, breed=edition.breed)
    plate = make_plate(edition, cast.educator, correct=[dog(cast, DOG)], incorrect=[bare])
    text = words(cast.client("educator").get(address(plate)))
    assert "share too few points" in text
    assert 'id="drawings"' not in text


def test_two_views_cannot_be_compared(cast, edition):
    front = dog(cast, DOG, view="front")
    plate = make_plate(edition, cast.educator, correct=[front], incorrect=[dog(cast, STEEP)])
    assert cast.client("educator").get(address(plate)).status_code == 404


def test_queries_do_not_grow_with_the_plate(cast, edition, plate, django_assert_num_queries):
    client = cast.client("educator")
    with CaptureQueriesContext(connection) as few:
        client.get(address(plate))
    many = make_plate(
        edition,
        cast.educator,
        correct=[dog(cast, DOG), dog(cast, DOG)],
        incorrect=[dog(cast, STEEP), dog(cast, STEEP)],
    )
    with django_assert_num_queries(len(few)):
        client.get(address(many))
