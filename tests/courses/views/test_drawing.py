"""Drawing an exhibit: previewed, refused by name, kept with all that the drawing knows."""

import io

import pytest
from PIL import Image

from courses.figure import preview
from courses.forms.drawing import DrawingForm
from courses.models import Exhibit
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def fault(cast):
    return makers.make_fault(makers.make_edition(cast.club), figure="upright_shoulder")


def test_the_address_says_what_is_drawn():
    form = DrawingForm({"view": "profile", "coat": "red", "p.layback": "33", "f.upright_shoulder": "0.5"})
    assert form.is_valid(), form.errors
    settings = form.cleaned_data["settings"]
    # Halfway from the ideal to the fault's own layback, counted from the dog's own 33°.
    assert settings["layback"] == pytest.approx(33 + 0.5 * (22 - 35), abs=1.5)
    assert settings.coat == "red"
    assert form.cleaned_data["faults"] == {"upright_shoulder": 0.5}


def test_a_fault_that_the_view_does_not_show_is_left_out():
    form = DrawingForm({"view": "rear", "f.upright_shoulder": "0.5"})
    assert form.is_valid()
    assert form.cleaned_data["faults"] == {}


def test_the_preview_is_the_figure(cast):
    address = f"{CLUB}/drawing/preview/?view=feet&seed=4"
    response = cast.client("educator").get(address)
    assert response["Content-Type"] == "image/png"
    form = DrawingForm({"view": "feet", "seed": "4"})
    assert form.is_valid()
    expected = preview("feet", form.cleaned_data["settings"], width=640).image
    assert Image.open(io.BytesIO(response.content)).tobytes() == expected.tobytes()


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("p.layback=900", "Ensure this value is less than or equal to"),
        ("f.upright_shoulder=2", "Ensure this value is less than or equal to 1"),
        ("coat=tartan", "tartan"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_words(cast, query, words):
    response = cast.client("educator").get(f"{CLUB}/drawing/preview/?view=profile&{query}")
    assert response.status_code == 422
    assert words in response.json()["error"]
    page = cast.client("educator").get(f"{CLUB}/drawing/?view=profile&{query}")
    assert page.status_code == 200
    assert words in page.content.decode()


def test_a_drawing_is_kept_with_points_verdict_and_proposed_key(cast, fault):
    sent = {"view": "profile", "f.upright_shoulder": "0.9", "breed": fault.breed_id}
    response = cast.client("educator").post(f"{CLUB}/drawing/keep/", sent)
    exhibit = Exhibit.objects.get()
    assert response.url == f"{CLUB}/exhibits/{exhibit.number}/"
    assert (exhibit.kind, exhibit.view, exhibit.verdict) == ("drawn", "profile", "incorrect")
    assert "withers" in exhibit.placements.get().points
    shown = exhibit.shown_faults.get()
    assert (shown.fault, shown.clause, shown.level) == (fault, fault.clause, fault.level)
    assert all(len(region) >= 3 for region in shown.regions)


@pytest.mark.parametrize("given", ["other club's", "", "x", "9" * 30])
def test_a_breed_that_is_not_the_clubs_is_refused(cast, fault, given):
    other = makers.make_breed(cast.other_club, slug="spaniel").pk if given == "other club's" else given
    response = cast.client("educator").post(f"{CLUB}/drawing/keep/", {"view": "feet", "breed": other})
    assert response.status_code == 422
    assert "Say of which of the club’s breeds it is." in response.content.decode()
    assert not Exhibit.objects.exists()


def test_the_regions_are_those_that_a_key_would_propose(cast):
    response = cast.client("educator").get(f"{CLUB}/drawing/regions/?view=profile&f.roached_back=1")
    (regions,) = response.json()["regions"]
    xs = [x for region in regions for x, _y in region]
    assert 0 < min(xs) < max(xs) < 1
