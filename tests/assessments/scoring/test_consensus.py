import krippendorff
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.scoring import KeyEntry, build_consensus

from .exhibits import LADDER, MINOR, MODERATE, SERIOUS, rectangle

ZONES = ("head", "neck", "forequarters", "topline", "hindquarters", "tail", "whole")


def shoulder(left=0.30, level=SERIOUS, clause="5.1", right=None):
    region = rectangle(left, 0.40, left + 0.1 if right is None else right, 0.55)
    return KeyEntry(region, "upright shoulder", clause, "forequarters", level)


def tail(level=MINOR, left=0.80):
    return KeyEntry(rectangle(left, 0.20, left + 0.1, 0.30), "gay tail", "9.1", "tail", level)


def too_long(level=MODERATE):
    return KeyEntry(None, "too long", "2.1", "whole", level)


def consensus(panel, **more):
    return build_consensus(panel, LADDER, ZONES, **more)


def ground(entry):
    return shapely.union_all([shapely.Polygon(part) for part in entry.region])


class TestGrouping:
    def test_two_of_three_make_the_key_one_of_three_does_not(self):
        found = consensus({"Ada": [shoulder(), tail()], "Bo": [shoulder(0.32)], "Cy": []})
        assert [entry.fault for entry in found.entries] == ["upright shoulder"]
        assert [entry.fault for entry in found.some_saw] == ["gay tail"]

    def test_groups_say_who_marked_what(self):
        found = consensus({"Cy": [shoulder(0.34)], "Bo": [], "Ada": [shoulder(), tail()]})
        key, seen = found.groups
        assert (key.panellists, key.in_key) == (("Ada", "Cy"), True)
        assert key.outlines == (shoulder().region, shoulder(0.34).region)
        assert (seen.panellists, seen.in_key, seen.entry) == (("Ada",), False, found.some_saw[0])

    def test_groups_say_how_each_weighed_it(self):
        twice = [shoulder(level=MINOR), shoulder(level=SERIOUS)]
        [group] = consensus({"Cy": [shoulder(level=MODERATE)], "Ada": twice}).groups
        assert group.levels == (SERIOUS, MODERATE)
        assert group.entry.level == MODERATE, "The lower median."

    @pytest.mark.parametrize(("left", "groups"), [(0.44, 1), (0.45, 1), (0.46, 2)])
    def test_regions_within_reach_mean_the_same(self, left, groups):
        """The first ends at 0.40, so 0.45 lies just within 0.05 of it."""
        assert len(consensus({"Ada": [shoulder()], "Bo": [shoulder(left)]}).groups) == groups

    def test_a_chain_of_near_regions_is_one_group(self):
        panel = {"Ada": [shoulder(0.10)], "Bo": [shoulder(0.22)], "Cy": [shoulder(0.34)]}
        assert len(consensus(panel).entries) == 1

    def test_different_faults_in_one_place_are_two_groups(self):
        arm = KeyEntry(shoulder().region, "short upper arm", "5.2", "forequarters", MINOR)
        assert len(consensus({"Ada": [shoulder()], "Bo": [arm]}).some_saw) == 2

    def test_faults_of_the_whole_dog_go_together_but_not_with_a_place(self):
        placed = KeyEntry(rectangle(0.1, 0.1, 0.9, 0.9), "too long", "2.1", "whole", MINOR)
        found = consensus({"Ada": [too_long()], "Bo": [too_long()], "Cy": [placed]})
        assert [entry.region for entry in found.entries] == [None]
        assert len(found.some_saw) == 1

    def test_a_panellist_counts_once_in_a_group_with_all_regions(self):
        """Ada marks both hocks apart, Bo in one go: one group of two."""
        left, right = rectangle(0.35, 0.7, 0.4, 0.8), rectangle(0.55, 0.7, 0.6, 0.8)

        def hocks(region, level):
            return KeyEntry(region, "cow hocks", "8.2", "hindquarters", level)

        panel = {
            "Ada": [hocks(left, MINOR), hocks(right, SERIOUS)],
            "Bo": [hocks((left, right), SERIOUS)],
            "Cy": [hocks((left, right), SERIOUS)],
        }
        (entry,) = consensus(panel).entries
        assert entry.level == SERIOUS
        assert ground(entry).equals(shapely.union(shapely.Polygon(left), shapely.Polygon(right)))

    @pytest.mark.parametrize(
        ("markers", "size", "in_key"), [(2, 3, 1), (1, 2, 0), (2, 4, 0), (3, 4, 1), (4, 6, 1)]
    )
    def test_quorum(self, markers, size, in_key):
        panel = {f"panellist {n}": [shoulder()] if n < markers else [] for n in range(size)}
        assert len(consensus(panel).entries) == in_key

    def test_the_order_of_the_panel_does_not_matter(self):
        panel = {"Ada": [shoulder(), tail()], "Bo": [tail(SERIOUS), shoulder(0.33)], "Cy": [shoulder(0.36)]}
        turned = dict(reversed(panel.items()))
        assert consensus(panel) == consensus(turned)


class TestEntry:
    def test_region_is_where_half_of_its_markers_agree(self):
        """Strips from 0.30, 0.32 and 0.34, each 0.10 wide: two or three of three cover 0.32 to 0.42."""
        (entry,) = consensus(
            {"Ada": [shoulder(0.30)], "Bo": [shoulder(0.32)], "Cy": [shoulder(0.34)]}
        ).entries
        assert ground(entry).bounds == pytest.approx((0.32, 0.40, 0.42, 0.55))

    def test_two_markers_are_half_each(self):
        (entry,) = consensus({"Ada": [shoulder(0.30)], "Bo": [shoulder(0.38)]}).entries
        assert ground(entry).bounds == pytest.approx((0.30, 0.40, 0.48, 0.55))

    def test_the_union_where_half_agree_nowhere(self):
        panel = {"Ada": [shoulder(0.10)], "Bo": [shoulder(0.22)], "Cy": [shoulder(0.34)]}
        (entry,) = consensus(panel).entries
        assert len(entry.region) == 3

    def test_holes_are_filled(self):
        """Four bars leave a hole between them, in which a trainee's pin would be lost."""
        bars = [
            rectangle(0.1, 0.1, 0.5, 0.2),
            rectangle(0.1, 0.4, 0.5, 0.5),
            rectangle(0.1, 0.1, 0.2, 0.5),
            rectangle(0.4, 0.1, 0.5, 0.5),
        ]
        entry = KeyEntry(bars, "upright shoulder", "5.1", "forequarters", SERIOUS)
        assert entry.shape.area == pytest.approx(0.12)
        (entry,) = consensus({"Ada": [entry], "Bo": [entry]}).entries
        assert len(entry.region) == 1
        assert entry.shape.area == pytest.approx(0.16)

    @pytest.mark.parametrize(
        ("levels", "median"), [((0, 2), 0), ((0, 1, 3), 1), ((0, 1, 2, 3), 1), ((3, 3, 0), 3), ((1,), 1)]
    )
    def test_level_is_the_lower_median(self, levels, median):
        panel = {f"panellist {n}": [shoulder(level=level)] for n, level in enumerate(levels)}
        assert consensus(panel).entries[0].level == median

    @pytest.mark.parametrize(
        ("clauses", "chosen"),
        [
            (("5.2", "5.1", "5.2"), "5.2"),
            (("5.10", "5.9"), "5.9"),
            (("10.1", "9.2"), "9.2"),
            (("5.2", "5.2.1"), "5.2"),
            ((None, "5.2"), "5.2"),
            ((None, None), None),
        ],
    )
    def test_clause_is_the_most_frequent_the_lowest_among_equals(self, clauses, chosen):
        panel = {f"panellist {n}": [shoulder(clause=clause)] for n, clause in enumerate(clauses)}
        (entry,) = consensus(panel).entries
        assert entry.clause == chosen
        assert entry.also == {}


class TestAgreement:
    def test_is_ordinal_alpha_over_the_zones(self):
        """Against the krippendorff package, zones as units, 0 for none and level + 1 for the highest."""
        panel = {
            "Ada": [shoulder(), tail(), shoulder(0.7, MINOR)],
            "Bo": [shoulder(level=MODERATE), too_long()],
            "Cy": [shoulder(), tail(MODERATE)],
        }
        ratings = np.array([[0, 0, 3, 0, 0, 1, 0], [0, 0, 2, 0, 0, 0, 2], [0, 0, 3, 0, 0, 2, 0]])
        expected = krippendorff.alpha(ratings, level_of_measurement="ordinal")
        found = consensus(panel)
        assert found.agreement == pytest.approx(expected)
        assert found.fit == "discussion"

    def test_full_agreement_of_three_is_fit_for_examination(self):
        panel = {name: [shoulder(), tail()] for name in ("Ada", "Bo", "Cy")}
        found = consensus(panel)
        assert (found.agreement, found.fit) == (pytest.approx(1), "examination")

    def test_full_agreement_of_two_is_fit_for_practice(self):
        found = consensus({name: [shoulder()] for name in ("Ada", "Bo")})
        assert (found.agreement, found.fit) == (pytest.approx(1), "practice")

    def test_a_panel_that_finds_nothing_agrees(self):
        found = consensus({"Ada": [], "Bo": [], "Cy": []})
        assert (found.entries, found.agreement, found.fit) == ((), 1, "examination")

    def test_one_panellist_cannot_agree(self):
        found = consensus({"Ada": [shoulder()]})
        assert (found.agreement, found.fit, len(found.entries)) == (None, "practice", 1)

    def test_between_the_limits_it_is_fit_for_practice(self):
        panel = {
            "Ada": [shoulder(), tail()],
            "Bo": [shoulder(), tail()],
            "Cy": [shoulder(), tail(), too_long(SERIOUS)],
        }
        found = consensus(panel)
        assert 0.667 <= found.agreement < 0.8
        assert found.fit == "practice"


@pytest.mark.parametrize(
    ("panel", "more", "message"),
    [
        ({}, {}, "panel {} is empty"),
        ({"Ada": []}, {"zones": ()}, r"zones \(\) must name at least one"),
        ({"Ada": []}, {"zones": ("head", "head")}, "each once"),
        ({"Ada": []}, {"quorum": 0}, "quorum is 0"),
        ({"Ada": []}, {"quorum": 1.1}, "quorum is 1.1"),
        ({"Ada": []}, {"together": -0.01}, "together is -0.01"),
        ({"Ada": []}, {"together": float("nan")}, "together is nan"),
        ({"Ada": [shoulder(level=4)]}, {}, r"Ada's entry \(upright shoulder\) has level 4"),
        (
            {"Ada": [tail()]},
            {"zones": ("head",)},
            "lies in zone 'tail', which is not",
        ),
        ({"Ada": [KeyEntry(None, "too long", "2.1", None, 0)]}, {}, "zone None"),
    ],
)
def test_refuses(panel, more, message):
    with pytest.raises(ValueError, match=message):
        build_consensus(panel, LADDER, **({"zones": ZONES} | more))


corner = st.integers(0, 12).map(lambda step: step / 12)
triangle = (
    st.tuples(*[st.tuples(corner, corner)] * 3)
    .filter(lambda corners: shapely.Polygon(corners).area > 1e-6)
    .map(lambda corners: KeyEntry(corners, "upright shoulder", "5.1", "forequarters", SERIOUS))
)


@settings(max_examples=40)
@given(st.lists(st.lists(triangle, max_size=3), min_size=1, max_size=5))
def test_any_panel_gives_a_key_of_proper_regions(drawn):
    """Every region is again made of simple polygons (KeyEntry refuses others) and lies within the union."""
    found = consensus({str(number): entries for number, entries in enumerate(drawn)})
    whole = shapely.union_all([ground(entry) for entries in drawn for entry in entries])
    filled = shapely.union_all([shapely.Polygon(part.exterior) for part in shapely.get_parts(whole)])
    for entry in (*found.entries, *found.some_saw):
        assert ground(entry).difference(filled).area < 1e-9
