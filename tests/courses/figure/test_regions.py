"""The region proposed for a fault is a simple polygon on the part concerned."""

import pytest
from shapely.geometry import Point, Polygon

from courses.figure import (
    PRESETS,
    VIEWS,
    ZONES,
    apply_faults,
    changed_regions,
    ideal,
    zone_outlines,
)

from .figures import described

SHOWN = [(key, view) for key, preset in PRESETS.items() for view in preset.views]
PLACELESS = {"coat", "whole"}


@pytest.mark.parametrize(("key", "view"), SHOWN)
def test_each_fault_has_a_region_in_each_of_its_views(key, view):
    figure = apply_faults({key: 0.7})
    regions = changed_regions(view, figure)
    drawing = described(view, figure)
    wide, high = (side / max(drawing.image.size) for side in drawing.image.size)
    assert 1 <= len(regions) <= 8
    for region in regions:
        shape = Polygon(region)
        assert shape.is_valid
        assert 3 <= len(region) <= 16
        assert all(-0.02 <= x <= wide + 0.02 and -0.02 <= y <= high + 0.02 for x, y in region)
    area = sum(Polygon(region).area for region in regions)
    assert 0.0004 < area < (0.25 if PRESETS[key].zone in PLACELESS else 0.12)


@pytest.mark.parametrize(
    ("key", "view", "point"),
    [
        ("upright_shoulder", "profile", "blade_top"),
        ("weak_pasterns", "profile", "wrist"),
        ("roached_back", "profile", "loin_top"),
        ("steep_croup", "profile", "set_on"),
        ("straight_stifle", "profile", "stifle"),
        ("sickle_hocks", "profile", "hock_joint"),
        ("short_muzzle", "head", "nose"),
        ("flat_stop", "head", "stop"),
        ("undershot_jaw", "head", "chin"),
        ("out_at_elbow", "front", "elbow_l"),
        ("toes_out", "front", "foot_r"),
        ("cow_hocks", "rear", "hock_l"),
        ("side_tail", "rear", "tail_tip"),
    ],
)
def test_the_region_lies_where_a_judge_would_point(key, view, point):
    figure = apply_faults({key: 0.8})
    place = Point(described(view, figure).points[point])
    assert any(Polygon(r).buffer(0.01).contains(place) for r in changed_regions(view, figure))


def test_a_shoulder_leaves_the_head_alone():
    figure = apply_faults({"upright_shoulder": 1.0})
    nose = Point(described("profile", figure).points["nose"])
    assert not any(Polygon(r).contains(nose) for r in changed_regions("profile", figure))


@pytest.mark.parametrize(
    ("key", "carried"),
    [
        ("short_upper_arm", ("wrist", "front_foot")),
        ("straight_stifle", ("rear_foot",)),
        ("over_angulated", ("rear_foot",)),
        ("long_rear_pasterns", ("stifle",)),
        ("back_at_wrist", ("elbow",)),
    ],
)
@pytest.mark.parametrize("degree", [0.35, 0.7, 1.0])
def test_what_hangs_below_a_joint_is_carried_along_and_no_part_of_the_fault(key, carried, degree):
    figure = apply_faults({key: degree})
    points = described("profile", figure).points
    regions = [Polygon(region) for region in changed_regions("profile", figure)]
    assert not any(region.contains(Point(points[name])) for region in regions for name in carried)


def test_only_what_differs_from_the_baseline_counts():
    short = apply_faults({"short_tail": 1.0})
    both = apply_faults({"short_tail": 1.0, "roached_back": 1.0})
    assert changed_regions("profile", both, short) != changed_regions("profile", both)
    tip = Point(described("profile", both).points["tail_tip"])
    assert not any(Polygon(r).contains(tip) for r in changed_regions("profile", both, short))


def test_what_a_view_does_not_show_has_no_region_there():
    assert changed_regions("rear", apply_faults({"upright_shoulder": 1.0})) == []
    assert changed_regions("profile", ideal()) == []


@pytest.mark.parametrize("view", VIEWS)
def test_zones_do_not_overlap(view):
    outlines = zone_outlines(view, ideal())
    assert set(outlines) <= set(ZONES)
    shapes = [Polygon(outline).buffer(-1e-6) for outline in outlines.values()]
    assert all(shape.is_valid for shape in shapes)
    for i, shape in enumerate(shapes):
        assert all(shape.intersection(other).area < 1e-6 for other in shapes[i + 1 :])


@pytest.mark.parametrize(
    ("view", "point", "zone"),
    [
        ("profile", "nose", "head"),
        ("profile", "blade_top", "topline"),
        ("profile", "point_of_shoulder", "forequarters"),
        ("profile", "loin_top", "topline"),
        ("profile", "stifle", "hindquarters"),
        ("profile", "rear_foot", "feet"),
        ("profile", "tail_tip", "tail"),
        ("front", "elbow_l", "forequarters"),
        ("front", "foot_r", "feet"),
        ("rear", "hock_l", "hindquarters"),
        ("rear", "tail_tip", "tail"),
        ("head", "chin", "head"),
        ("feet", "front_foot", "feet"),
    ],
)
def test_points_lie_in_their_zones(view, point, zone):
    place = Point(described(view, ideal()).points[point])
    outlines = zone_outlines(view, ideal())
    assert [name for name, outline in outlines.items() if Polygon(outline).contains(place)] == [zone]
