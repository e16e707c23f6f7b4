import numpy as np
import pytest
from hypothesis import given as sampled
from hypothesis import strategies as st

from assessments.statistics.agreement import (
    kendalls_w,
    krippendorff_alpha,
    limits_of_agreement,
    severity_bias,
    weighted_kappa,
)

NaN = float("nan")


class TestWeightedKappa:
    def test_full_agreement_is_one_without_error(self):
        kappa = weighted_kappa([0, 1, 2, 3] * 8, [0, 1, 2, 3] * 8, 4)
        assert (kappa.value, kappa.standard_error, kappa.n, kappa.enough) == (1.0, 0.0, 32, True)

    def test_few_pairs_are_not_enough(self):
        assert weighted_kappa([0, 1, 2, 3] * 7, [0, 1, 2, 3] * 7, 4).enough is False

    def test_one_level_used_by_both_leaves_it_unknown(self):
        kappa = weighted_kappa([2] * 50, [2] * 50, 4)
        assert np.isnan(kappa.value)
        assert np.isnan(kappa.standard_error)
        assert kappa.enough is False

    def test_different_constant_levels_agree_as_chance_does(self):
        assert weighted_kappa([0] * 5, [3] * 5, 4).value == 0.0

    def test_a_near_miss_counts_less_under_quadratic_weights(self):
        first, second = [0, 1, 2, 3, 0, 3], [1, 1, 2, 3, 0, 3]
        assert weighted_kappa(first, second, 4, "quadratic").value > weighted_kappa(first, second, 4).value

    @sampled(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=1, max_size=30))
    def test_order_of_people_and_pairs_is_no_matter(self, pairs):
        first, second = zip(*pairs, strict=True)
        there = weighted_kappa(first, second, 4)
        back = weighted_kappa(second[::-1], first[::-1], 4)
        assert there.value == pytest.approx(back.value, abs=1e-12, nan_ok=True)
        assert there.standard_error == pytest.approx(back.standard_error, abs=1e-7, nan_ok=True)

    @pytest.mark.parametrize(
        ("first", "second", "levels", "message"),
        [
            ([0, 4], [0, 1], 4, "first holds 4: levels are whole numbers from 0 to 3"),
            ([0, 1], [0, -1], 4, "second holds -1"),
            ([0, 1.5], [0, 1], 4, "first holds 1.5"),
            ([0, NaN], [0, 1], 4, "first holds nan"),
            ([0, 1], [0], 4, "2 and 1 levels"),
            ([], [], 4, "0 and 0 levels"),
            ([[0]], [[0]], 4, "first has 2 dimensions"),
            ([0], [0], 1, "levels = 1"),
        ],
    )
    def test_refuses(self, first, second, levels, message):
        with pytest.raises(ValueError, match=message):
            weighted_kappa(first, second, levels)

    def test_refuses_unknown_weights(self):
        with pytest.raises(ValueError, match=r"weights = 'cubic'"):
            weighted_kappa([0, 1], [0, 1], 2, "cubic")


class TestKrippendorffAlpha:
    @pytest.mark.parametrize("level", ["nominal", "ordinal", "interval"])
    def test_no_variation_at_all_is_one(self, level):
        assert krippendorff_alpha([[0.1, 0.1, NaN], [0.1, 0.1, 0.1]], level) == 1.0

    @pytest.mark.parametrize("level", ["nominal", "ordinal", "interval"])
    def test_full_agreement_on_different_units_is_one(self, level):
        assert krippendorff_alpha([[0, 1, 3], [0, 1, 3], [NaN, 1, 3]], level) == 1.0

    @pytest.mark.parametrize("level", ["nominal", "ordinal", "interval"])
    def test_agreement_ruled_out_is_below_zero(self, level):
        assert krippendorff_alpha([[0, 1], [1, 0]], level) == -0.5

    def test_ordinal_heeds_order_and_nominal_does_not(self):
        ratings = np.array([[0, 1, 2, 3, 4], [1, 2, 3, 4, 4]])
        renamed = np.array([2, 0, 4, 1, 3])[ratings]
        assert krippendorff_alpha(ratings, "nominal") == krippendorff_alpha(renamed, "nominal")
        assert krippendorff_alpha(ratings) > krippendorff_alpha(renamed)

    def test_ordinal_heeds_nothing_but_order(self):
        ratings = np.array([[0, 1, 2, 3], [1, 1, 2, 3], [0, 2, 2, NaN]])
        assert krippendorff_alpha(ratings) == krippendorff_alpha(ratings**3 * 100 - 7)

    def test_takes_none_for_missing(self):
        assert krippendorff_alpha([[0, 1, None], [0, 1, 2]]) == 1.0

    @pytest.mark.parametrize(
        ("ratings", "message"),
        [
            ([[0, 1, 2]], "no unit of 1 × 3 ratings has 2 of them"),
            ([[NaN, NaN], [NaN, NaN]], "no unit"),
            ([[0, NaN], [NaN, 1]], "no unit"),
            ([[], []], "no unit"),
            ([0, 1], "1 dimensions"),
            ([[0, np.inf], [0, 1]], "infinite"),
        ],
    )
    def test_refuses(self, ratings, message):
        with pytest.raises(ValueError, match=message):
            krippendorff_alpha(ratings)

    def test_refuses_unknown_level(self):
        with pytest.raises(ValueError, match=r"level = 'ratio'"):
            krippendorff_alpha([[0, 1], [0, 1]], "ratio")


class TestKendallsW:
    def test_one_and_the_same_order_is_one(self):
        concordance = kendalls_w([[1, 2, 3, 4]] * 3)
        assert (concordance.w, concordance.chi_square) == (1.0, 9.0)
        assert (concordance.raters, concordance.exhibits, concordance.enough) == (3, 4, False)

    def test_opposite_orders_are_zero(self):
        concordance = kendalls_w([range(8), range(8, 0, -1)])
        assert (concordance.w, concordance.p_value, concordance.enough) == (0.0, 1.0, True)

    def test_everything_tied_leaves_it_unknown(self):
        concordance = kendalls_w([[2, 2, 2], [5, 5, 5]])
        assert np.isnan([concordance.w, concordance.chi_square, concordance.p_value]).all()
        assert concordance.enough is False

    def test_scores_serve_as_ranks(self):
        scores = [[70, 65, 90, 90], [50, 50, 88, 60]]
        assert kendalls_w(scores) == kendalls_w([[2, 1, 3.5, 3.5], [1.5, 1.5, 4, 3]])

    @pytest.mark.parametrize(
        ("ranks", "message"),
        [
            ([[1, 2, 3]], r"shape \(1, 3\): at least 2 raters"),
            ([[1], [1]], r"shape \(2, 1\)"),
            ([1, 2], r"shape \(2,\)"),
            ([[1, 2, NaN], [1, 2, 3]], "missing or infinite"),
        ],
    )
    def test_refuses(self, ranks, message):
        with pytest.raises(ValueError, match=message):
            kendalls_w(ranks)


class TestSeverityBias:
    def test_heavier_than_the_key_is_positive(self):
        bias = severity_bias([1, 2, 3, 2], [0, 1, 2, 2])
        assert bias.mean == 0.75
        # Student's t for 3 degrees of freedom, 95 %: 3.182 (printed in any table); sd = 0.5
        assert (bias.low, bias.high) == pytest.approx((0.75 - 3.182 / 4, 0.75 + 3.182 / 4), abs=2e-4)
        assert (bias.n, bias.enough) == (4, False)

    def test_what_was_not_weighed_is_left_out(self):
        assert severity_bias([1, NaN, 3, 2], [0, 1, 2, NaN]) == severity_bias([1, 3], [0, 2])

    def test_enough_from_ten_on(self):
        assert [severity_bias([1] * n, [1] * n).enough for n in (9, 10)] == [False, True]

    @pytest.mark.parametrize(
        ("given", "key", "message"),
        [
            ([1], [1], "n = 1 weighed faults"),
            ([1, NaN, NaN], [1, 1, 1], "n = 1"),
            ([NaN], [NaN], "n = 0"),
            ([1, 2], [1], "equally long"),
            ([1, np.inf], [1, np.inf], "infinite"),
        ],
    )
    def test_refuses(self, given, key, message):
        with pytest.raises(ValueError, match=message):
            severity_bias(given, key)


class TestLimitsOfAgreement:
    def test_marks_that_are_always_as_far_apart_have_no_spread(self):
        found = limits_of_agreement([50, 60, 70], [48, 58, 68])
        assert (found.mean, found.low, found.high, found.n, found.enough) == (2, 2, 2, 3, False)

    def test_the_other_way_round_is_the_same_with_its_sign_turned(self):
        there = limits_of_agreement([50, 61, 70.5], [48, 63, 68])
        back = limits_of_agreement([48, 63, 68], [50, 61, 70.5])
        assert (back.mean, back.low, back.high) == pytest.approx((-there.mean, -there.high, -there.low))

    @pytest.mark.parametrize(
        ("first", "second", "message"),
        [
            ([50], [50], "n = 1 pairs"),
            ([50, 60], [50], "equally long"),
            ([50, NaN], [50, 60], "missing or infinite"),
        ],
    )
    def test_refuses(self, first, second, message):
        with pytest.raises(ValueError, match=message):
            limits_of_agreement(first, second)
