"""The measures of an exhibit as its page tells them."""

import json

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from courses.models import Placement
from tests.courses.measures.dogs import IDEAL, placed
from tests.makers import make_clause, make_edition, make_exhibit, make_placement, make_published

HERE = "/clubs/skerry-drover/exhibits/1/measures/"
DOG = placed(IDEAL)


@pytest.fixture
def exhibit(cast):
    return make_published(cast.club, cast.educator, width=1600, height=1200)


def drawings(page):
    return json.loads(
        page.content.decode().split('id="drawings" type="application/json">')[1].split("</script>")[0]
    )


def test_every_measure_with_its_clause_its_value_and_its_verdict(cast, exhibit):
    edition = make_edition(cast.club)
    make_clause(edition, "5.1", measure="layback", low=60, high=70)
    make_clause(edition, "7.2", measure="stifle_angle", low=90, high=150)
    make_placement(exhibit, cast.educator, DOG)
    page = cast.client("mentor").get(HERE)
    text = " ".join(page.content.decode().split())
    assert "asks 60–70° from plumb" in text
    assert "35° ± 6" in text
    assert "55° from horizontal" in text
    assert "<strong>outside</strong>" in text
    assert "<strong>within</strong>" in text
    assert "Points placed by one person." in text
    assert [each["name"] for each in drawings(page)["measures"]][:2] == ["layback", "stifle_angle"]


def test_the_cautions_are_said(cast, exhibit):
    make_placement(exhibit, cast.educator, DOG)
    exhibit.age_class = "junior"
    exhibit.save()
    text = cast.client("educator").get(HERE).content.decode()
    assert "A photograph is evidence, not a measurement of the dog" in text
    assert "A certified height is taken by the registry’s own method" in text
    assert (
        "A profile shows no bite. No picture shows coat texture, temperament, soundness or movement." in text
    )
    assert "Youngsters are still making" in text


def test_a_clause_that_lacks_points_says_which(cast, exhibit):
    make_clause(make_edition(cast.club), "5.1", measure="layback", low=30, high=40)
    make_placement(exhibit, cast.educator, {name: at for name, at in DOG.items() if name != "blade_top"})
    text = " ".join(cast.client("educator").get(HERE).content.decode().split())
    assert "needs Top of shoulder blade" in text


def test_without_points_the_page_says_what_to_do(cast, exhibit):
    text = cast.client("educator").get(HERE).content.decode()
    assert "Angles and proportions will be here once points are placed" in text
    assert "Place the points" in text


def test_a_drawing_is_known_exactly_and_covers_its_own_outline(cast):
    outline = [[[0.2, 0.2], [0.8, 0.2], [0.8, 0.6]]]
    exhibit = make_exhibit(cast.club, cast.educator, drawing={"outline": outline})
    Placement.objects.create(exhibit=exhibit, exact=True, points=DOG)
    page = cast.client("educator").get(HERE)
    assert "Its points are known exactly." in page.content.decode()
    assert "±" not in page.content.decode().split('class="measures"')[1].split("</ul>")[0]
    assert drawings(page)["cover"] == outline


def test_the_trainee_reads_measures_on_plates_only(cast, exhibit):
    assert cast.client("trainee").get(HERE).status_code == 403


def test_queries_do_not_grow_with_people_or_clauses(cast, exhibit, django_assert_num_queries):
    edition = make_edition(cast.club)
    make_clause(edition, "5.1", measure="layback", low=30, high=40)
    make_placement(exhibit, cast.educator, DOG)
    client = cast.client("educator")
    with CaptureQueriesContext(connection) as few:
        client.get(HERE)
    make_clause(edition, "7.2", measure="stifle_angle", low=90, high=150)
    make_clause(edition, "7.4", measure="hock_angle", low=90, high=150)
    make_placement(exhibit, cast.mentor, DOG)
    with django_assert_num_queries(len(few)):
        client.get(HERE)
