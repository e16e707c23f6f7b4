"""A drawing is kept with what it knows of itself."""

import pytest
from shapely.geometry import Point, Polygon

from courses.actions.drawing import keep_drawing
from courses.figure import PRESETS, apply_faults, preview
from courses.measures.measures import measure
from tests.makers import make_edition, make_fault


@pytest.fixture
def drawn(cast):
    edition = make_edition(cast.club)
    make_fault(edition, figure="upright_shoulder", level=2)
    make_fault(edition, "Roached back", "6.2", zone="topline", figure="roached_back", level=1)
    faults = {"upright_shoulder": 0.8, "roached_back": 0.7, "weak_pasterns": 0.4}
    figure = apply_faults(faults)
    drawing = preview("profile", figure, width=480)
    return keep_drawing(
        club=cast.club,
        breed=edition.breed,
        drawing=drawing,
        settings=figure,
        faults=faults,
        made_by=cast.educator.person,
    )


def test_a_drawn_exhibit_is_labelled_as_drawn(drawn):
    assert (drawn.kind, drawn.view, drawn.verdict, drawn.camera) == ("drawn", "profile", "incorrect", "exact")
    assert drawn.drawing["faults"] == {"upright_shoulder": 0.8, "roached_back": 0.7, "weak_pasterns": 0.4}
    assert {row.format for row in drawn.renditions.all()} == {"avif", "webp", "jpeg"}
    assert not drawn.original


def test_its_points_are_exact(drawn):
    placement = drawn.placements.get()
    assert placement.exact
    assert placement.placed_by is None
    layback = measure(placement.points, "layback", placement_sd=0, camera="exact")
    ideal, full = 35, PRESETS["upright_shoulder"].changes["layback"]
    assert layback.value == pytest.approx(ideal + 0.8 * (full - ideal), abs=0.05)


def test_it_proposes_the_faults_that_the_club_knows_each_in_its_own_place(drawn):
    shown = {each.fault.name: each for each in drawn.shown_faults.select_related("fault", "clause")}
    assert set(shown) == {"Upright shoulder", "Roached back"}
    assert (shown["Upright shoulder"].level, shown["Upright shoulder"].clause.number) == (2, "5.1")
    points = drawn.placements.get().points
    shoulder = [Polygon(region) for region in shown["Upright shoulder"].regions]
    back = [Polygon(region) for region in shown["Roached back"].regions]
    assert any(region.contains(Point(points["point_of_shoulder"])) for region in shoulder)
    assert any(region.contains(Point(points["loin_top"])) for region in back)
    assert not any(region.contains(Point(points["loin_top"])) for region in shoulder)


def test_its_outline_holds_its_points(drawn):
    outline = [Polygon(part) for part in drawn.drawing["outline"]]
    assert sum(len(part) for part in drawn.drawing["outline"]) < 600
    points = drawn.placements.get().points
    for name in ("elbow", "stifle", "hip_joint", "wrist"):
        assert any(part.contains(Point(points[name])) for part in outline)


def test_without_faults_it_is_correct(cast):
    figure = apply_faults({})
    exhibit = keep_drawing(
        club=cast.club,
        breed=make_edition(cast.club).breed,
        drawing=preview("head", figure, width=480),
        settings=figure,
        faults={},
        made_by=cast.educator.person,
    )
    assert (exhibit.verdict, exhibit.view, exhibit.shown_faults.count()) == ("correct", "head", 0)
