"""Study: the contents, and the reading pages."""

import re

import pytest

from courses.actions.course import add_quiz_place
from courses.actions.drawing import keep_drawing
from courses.actions.exhibit import publish_exhibit
from courses.actions.permission import withdraw_permission
from courses.figure import apply_faults, preview
from courses.models import Clause, Exhibit, Progress
from shared.web import slots
from tests.makers import (
    make_clause,
    make_fault,
    make_module,
    make_plate,
    make_published,
)

HERE = "/clubs/skerry-drover/study/"


def place_url(module, place) -> str:
    return f"{HERE}{module.pk}/{place.pk}/"


def drawn(cast, edition, **faults: float) -> Exhibit:
    figure = apply_faults(faults)
    made = keep_drawing(
        club=cast.club,
        breed=edition.breed,
        drawing=preview("profile", figure, width=400),
        settings=figure,
        faults=faults,
        made_by=cast.educator.person,
    )
    publish_exhibit(exhibit=made)
    return made


@pytest.fixture
def shoulder(cast, edition):
    """Plate 7 in a module: clause 5.1 with its range, an ideal figure and one with an upright shoulder."""
    clause = make_clause(edition, "5.1", measure="layback", low=30, high=40)
    make_fault(edition, figure="upright_shoulder")
    plate = make_plate(
        edition,
        cast.educator,
        number=7,
        clauses=[clause],
        correct=[drawn(cast, edition)],
        incorrect=[drawn(cast, edition, upright_shoulder=0.9)],
        note="In *7 a* it leans well back.",
    )
    return make_module(edition, "Before you look", plate, "At last")


def test_a_plate_is_a_spread_of_clause_exhibits_and_note(cast, shoulder):
    place = shoulder.places.get(kind="plate")
    page = cast.client("trainee").get(place_url(shoulder, place)).content.decode()
    assert "Plate 7" in page
    assert '<span class="degree">serious fault</span>' in page
    assert "<em>7 a</em> it leans well back" in page
    figures = re.findall(r"<figure.*?</figure>", page, re.DOTALL)
    assert ["frame-correct" in each for each in figures] == [True, False]
    assert ["frame-incorrect" in each for each in figures] == [False, True]
    assert "Profile, drawn. Clause 5.1" in figures[0]
    assert "Profile, drawn. Upright shoulder, 5.1" in figures[1]
    assert "A drawn exhibit shows no living dog." in page


def test_lines_and_regions_are_there_to_be_shown(cast, shoulder):
    place = shoulder.places.get(kind="plate")
    page = cast.client("trainee").get(place_url(shoulder, place)).content.decode()
    assert 'id="show-lines"' in page
    assert 'id="show-regions"' in page
    assert "35°, within" in page
    assert re.search(r"2\d°, outside", page)
    assert page.count('class="over over-regions"') == 1
    assert "style=" not in page


def test_without_points_or_regions_there_is_nothing_to_switch(cast, edition):
    plate = make_plate(
        edition, cast.educator, correct=[make_published(cast.club, cast.educator, breed=edition.breed)]
    )
    module = make_module(edition, plate)
    page = cast.client("trainee").get(place_url(module, module.places.get())).content.decode()
    assert "show-lines" not in page
    assert "show-regions" not in page


def test_a_withdrawn_picture_leaves_a_blank_and_no_lines(cast, edition):
    exhibit = make_published(cast.club, cast.educator, breed=edition.breed)
    exhibit.shown_faults.create(
        fault=make_fault(edition), level=1, regions=[[[0.1, 0.1], [0.3, 0.1], [0.2, 0.3]]]
    )
    module = make_module(edition, make_plate(edition, cast.educator, incorrect=[exhibit]))
    client = cast.client("trainee")
    before = client.get(place_url(module, module.places.get())).content.decode()
    assert exhibit.renditions.first().name in before
    assert "over-regions" in before
    withdraw_permission(exhibit=exhibit)
    after = client.get(place_url(module, module.places.get())).content.decode()
    assert exhibit.renditions.first().name not in after
    assert "Picture withdrawn" in after
    assert "over-regions" not in after


def test_reading_is_noted_and_one_goes_on_where_one_stopped(cast, shoulder):
    client = cast.client("trainee")
    text, plate, _last = shoulder.places.all()
    assert "not begun" in client.get(HERE).content.decode()
    client.get(place_url(shoulder, text))
    client.get(place_url(shoulder, plate))
    client.get(place_url(shoulder, text))
    page = client.get(HERE).content.decode()
    assert "at plate 7" in page
    assert "Go on at plate 7" in page
    assert place_url(shoulder, plate) in page
    assert Progress.objects.get().person == cast.trainee.person


def test_a_module_is_read_to_its_end(cast, shoulder):
    client = cast.client("trainee")
    text, plate, last = shoulder.places.all()
    middle = client.get(place_url(shoulder, plate)).content.decode()
    assert f'href="{place_url(shoulder, text)}"' in middle
    assert f'href="{place_url(shoulder, last)}"' in middle
    assert "Finish" not in middle
    end = client.get(place_url(shoulder, last)).content.decode()
    assert "Finish “Forequarters”" in end
    done = client.post(f"{HERE}{shoulder.pk}/finish/", follow=True).content.decode()
    assert "You have read “Forequarters”." in done
    assert "You have read everything that is published." in done


def test_a_preview_notes_nothing_and_stays_within_the_preview(cast, shoulder):
    address = f"/clubs/skerry-drover/modules/{shoulder.pk}/preview/"
    page = cast.client("educator").get(address).content.decode()
    assert "Preview: as a trainee will see it" in page
    assert f"{address}{shoulder.places.all()[1].pk}/" in page
    assert "/study/" not in re.search(r"<main.*</main>", page, re.DOTALL).group()
    assert not Progress.objects.exists()
    assert cast.client("mentor").get(address).status_code == 403


def test_the_quizs_place_is_filled_by_who_knows_quizzes(cast, edition, monkeypatch):
    module = make_module(edition, "Before you look")
    place = add_quiz_place(module=module, title="Shoulders")
    client = cast.client("trainee")
    monkeypatch.setattr(slots, "SLOTS", {})
    assert "is being made" in client.get(place_url(module, place)).content.decode()

    @slots.fills("quiz place", "accounts/home/_empty.html")
    def quizzes(request, places):
        return {each: {"title": "Twelve items"} for each in places}

    assert "is being made" not in client.get(place_url(module, place)).content.decode()


def test_a_text_is_set_from_markdown_and_carries_no_markup_of_the_writers(cast, edition):
    module = make_module(edition, "Before you look")
    module.places.update(text="**Stand back.** <script>alert(1)</script>")
    page = cast.client("trainee").get(place_url(module, module.places.get())).content.decode()
    assert "<strong>Stand back.</strong>" in page
    assert "<script>alert" not in page


def test_the_contents_of_a_module_say_what_is_read(cast, shoulder):
    client = cast.client("trainee")
    client.get(place_url(shoulder, shoulder.places.get(kind="plate")))
    page = client.get(f"{HERE}{shoulder.pk}/").content.decode()
    assert [page.index(word) for word in ("Before you look", "Lay of shoulder", "At last")] == sorted(
        page.index(word) for word in ("Before you look", "Lay of shoulder", "At last")
    )
    assert "you stopped here" in page


def test_every_member_may_study(cast, shoulder):
    for who in ("trainee", "educator", "mentor", "secretary"):
        assert cast.client(who).get(place_url(shoulder, shoulder.places.first())).status_code == 200
    assert cast.client("stranger").get(place_url(shoulder, shoulder.places.first())).status_code == 404


def test_a_plate_costs_the_same_however_much_stands_on_it(cast, edition, django_assert_max_num_queries):
    clauses = [make_clause(edition, f"5.{n}") for n in (1, 2, 3)]
    exhibits = [make_published(cast.club, cast.educator, seed=n, breed=edition.breed) for n in range(4)]
    small = make_plate(
        edition, cast.educator, clauses=clauses[:1], correct=exhibits[:1], incorrect=exhibits[1:2]
    )
    large = make_plate(edition, cast.educator, clauses=clauses, correct=exhibits[:2], incorrect=exhibits[2:])
    module = make_module(edition, small, large)
    client = cast.client("trainee")
    counts = []
    for place in module.places.all():
        client.get(place_url(module, place))
        with django_assert_max_num_queries(30) as spent:
            client.get(place_url(module, place))
        counts.append(len(spent))
    assert counts[0] == counts[1]
    assert Clause.objects.count() == 3
