import numpy as np
import pytest
import shapely

from shared.geometry.polygons import common_ground, distances, gap, polygon, polygons, shape, within


def box(left, upper, right, lower):
    return ((left, upper), (right, upper), (right, lower), (left, lower))


def area(region):
    return shapely.union_all([shapely.Polygon(part) for part in region]).area


class TestPolygon:
    def test_leaves_the_closing_point_out(self):
        assert polygon([(0, 0), (1, 0), (1, 1), (0, 0)]) == ((0, 0), (1, 0), (1, 1))

    @pytest.mark.parametrize(
        ("corners", "message"),
        [
            ([(0, 0), (1, 1)], "2 different corners; it needs at least 3"),
            ([(0, 0), (1, 1), (0, 0)], "2 different corners"),
            ([(0, 0), (1, 1), (1, 0), (0, 1)], "not simple.*Self-intersection"),
            ([(0, 0), (1, 1), (2, 2)], "not simple"),
            ([(0, 0), (2, 0), (2, 2), (1, 0), (0, 2)], "not simple"),
            ([(0, 0), (1, float("nan")), (1, 1)], r"corner \(1.0, nan\).*finite"),
            ([(0, 0), (1, float("inf")), (1, 1)], "finite"),
            ([(0, 0), (1, 0, 0), (1, 1)], r"corner \(1, 0, 0\) is not a point"),
            ([(0, 0), ("left", 0), (1, 1)], "is not a point"),
            ([(0, 0), 7, (1, 1)], "corner 7 is not a point"),
        ],
    )
    def test_refuses(self, corners, message):
        with pytest.raises(ValueError, match=message):
            polygon(corners)

    def test_a_region_is_one_polygon_or_several(self):
        one, other = box(0, 0, 1, 1), box(2, 2, 3, 3)
        assert polygons(one) == (one,)
        assert polygons([one, other]) == (one, other)
        assert polygons(np.array(one)) == (one,)

    def test_an_empty_region_is_refused(self):
        with pytest.raises(ValueError, match="empty"):
            polygons([])

    def test_numbers_alone_are_no_region(self):
        with pytest.raises(ValueError, match="not a point"):
            polygons([1, 2, 3])


class TestDistances:
    REGIONS = (shape([box(0, 0, 1, 1), box(3, 0, 4, 1)]), shape([box(0, 5, 1, 6)]))

    def test_the_nearest_polygon_of_a_region_counts(self):
        points = np.array([[2.2, 0.5], [0.5, 0.5], [0.5, 2.0]])
        assert distances(points, self.REGIONS) == pytest.approx(
            np.array([[0.8, np.hypot(1.2, 4.5)], [0, 4.5], [1, 3]])
        )

    def test_overlapping_polygons_of_a_region_are_one(self):
        region = shape([box(0, 0, 2, 2), box(1, 1, 3, 3)])
        assert distances(np.array([[1.5, 1.5], [3.0, 0.0]]), [region])[:, 0] == pytest.approx([0, 1])

    def test_within_finds_what_all_distances_show(self):
        points = np.random.default_rng(7).uniform(-1, 7, (200, 2))
        everything = distances(points, self.REGIONS)
        near, which, apart = within(*points.T, self.REGIONS, 0.8)
        assert sorted(zip(near, which, strict=True)) == list(zip(*np.nonzero(everything <= 0.8), strict=True))
        assert (apart == everything[near, which]).all()
        assert len(apart) > 20

    def test_gap(self):
        assert gap(shape([box(0, 0, 1, 1)]), shape([box(1.5, 0, 2, 1)])) == pytest.approx(0.5)
        assert gap(shape([box(0, 0, 1, 1)]), shape([box(0.5, 0, 2, 1)])) == 0


class TestCommonGround:
    STRIPS = (shape([box(0, 0, 3, 1)]), shape([box(1, 0, 4, 1)]), shape([box(2, 0, 5, 1)]))

    @pytest.mark.parametrize(("at_least", "left", "right"), [(1, 0, 5), (2, 1, 4), (3, 2, 3)])
    def test_overlapping_strips(self, at_least, left, right):
        ground = common_ground(self.STRIPS, at_least)
        assert len(ground) == 1
        assert shapely.Polygon(ground[0]).equals(shapely.box(left, 0, right, 1))

    def test_none_where_nothing_is_shared(self):
        apart = (shape([box(0, 0, 1, 1)]), shape([box(2, 0, 3, 1)]))
        assert common_ground(apart, 2) == ()
        assert [area([part]) for part in common_ground(apart, 1)] == pytest.approx([1, 1])

    def test_a_shared_edge_is_no_ground(self):
        assert common_ground((shape([box(0, 0, 1, 1)]), shape([box(1, 0, 2, 1)])), 2) == ()

    def test_edge_and_ground_shared_at_once(self):
        """Three shapes whose overlaps meet in ground here and in a mere line there."""
        first = shape([box(0, 0, 1, 1), box(2, 0, 3, 1)])
        second = shape([box(0.5, 0, 1.5, 1), box(3, 0, 4, 1)])
        assert area(common_ground((first, second, first), 3)) == pytest.approx(0.5)

    def test_holes_are_filled(self):
        ring = shape([box(0, 0, 3, 1), box(0, 2, 3, 3), box(0, 0, 1, 3), box(2, 0, 3, 3)])
        assert ring.area == pytest.approx(8)
        assert area(common_ground((ring,), 1)) == pytest.approx(9)

    def test_what_lies_in_a_filled_hole_is_swallowed(self):
        ring = [box(0, 0, 9, 1), box(0, 8, 9, 9), box(0, 0, 1, 9), box(8, 0, 9, 9)]
        ground = common_ground((shape([*ring, box(4, 4, 5, 5)]),), 1)
        assert len(ground) == 1
        assert area(ground) == pytest.approx(81)

    @pytest.mark.parametrize("at_least", [0, 4])
    def test_refuses_more_than_there_are(self, at_least):
        with pytest.raises(ValueError, match="between 1 and the 3 shapes"):
            common_ground(self.STRIPS, at_least)
