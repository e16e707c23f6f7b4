import numpy as np
import pytest
from scipy.stats import norm

from assessments.statistics.detection import (
    LookedAt,
    ZoneCounts,
    count_zones,
    sensitivity_and_bias,
    zone_of_mark,
)


class TestSensitivityAndBias:
    def test_correction_is_on_unless_turned_off(self):
        corrected, plain = sensitivity_and_bias(8, 2, 1, 9), sensitivity_and_bias(8, 2, 1, 9, None)
        assert (corrected.hit_rate, corrected.false_alarm_rate) == (8.5 / 11, 1.5 / 11)
        assert (plain.hit_rate, plain.false_alarm_rate) == (0.8, 0.1)
        assert plain.d_prime == pytest.approx(norm.ppf(0.8) - norm.ppf(0.1))

    def test_guessing_has_no_sensitivity(self):
        assert sensitivity_and_bias(7, 3, 7, 3).d_prime == 0

    def test_exchanging_marked_and_unmarked_turns_the_criterion_round(self):
        there, back = sensitivity_and_bias(18, 2, 6, 14), sensitivity_and_bias(14, 6, 2, 18)
        assert back.d_prime == pytest.approx(there.d_prime)
        assert back.criterion == pytest.approx(-there.criterion)

    @pytest.mark.parametrize(("correction", "number"), [(None, 50), ("log-linear", 51)])
    def test_error_by_hand(self, correction, number):
        # H = F = 1/2: density of z(1/2) is 1/√(2π), so the variance of each z is (1/4) · 2π / number.
        found = sensitivity_and_bias(25, 25, 25, 25, correction)
        assert found.d_prime_se == pytest.approx(np.sqrt(2 * np.pi / 4 / number * 2))
        assert found.criterion_se == found.d_prime_se / 2

    @pytest.mark.parametrize(
        ("counts", "tendency"),
        [
            ((45, 5, 30, 20), "over-faults"),
            ((20, 30, 2, 48), "under-faults"),
            ((40, 10, 9, 41), None),
            ((9, 0, 9, 0), None),
        ],
        ids=["calls too readily", "too rarely", "neither", "too little seen"],
    )
    def test_tendency_needs_an_interval_clear_of_zero(self, counts, tendency):
        assert sensitivity_and_bias(*counts).tendency == tendency

    def test_interval_is_95_percent(self):
        found = sensitivity_and_bias(40, 10, 5, 45)
        low, high = found.criterion_interval
        assert (low + high) / 2 == pytest.approx(found.criterion)
        assert high - low == pytest.approx(2 * 1.959964 * found.criterion_se, abs=1e-6)

    def test_enough_from_ten_zones_of_each_kind_on(self):
        assert sensitivity_and_bias(5, 5, 5, 5).enough is True
        assert sensitivity_and_bias(5, 4, 50, 50).enough is False
        assert sensitivity_and_bias(50, 50, 4, 5).enough is False

    @pytest.mark.parametrize(
        ("counts", "message"),
        [
            ((-1, 2, 3, 4), "hits = -1: a count is a whole number"),
            ((1, 2.5, 3, 4), r"misses = 2\.5"),
            ((1, 2, float("nan"), 4), "false_alarms = nan"),
            ((1, 2, 3, float("inf")), "correct_rejections = inf"),
            ((0, 0, 3, 4), "0 faulty zones: a rate needs at least 1"),
            ((1, 2, 0, 0), "0 sound zones"),
        ],
    )
    def test_refuses(self, counts, message):
        with pytest.raises(ValueError, match=message):
            sensitivity_and_bias(*counts)

    @pytest.mark.parametrize(
        ("counts", "message"),
        [
            ((10, 0, 1, 9), "10 of 10 faulty zones marked"),
            ((9, 1, 0, 10), "0 of 10 sound zones marked"),
        ],
    )
    def test_without_correction_refuses_rates_of_0_and_1(self, counts, message):
        with pytest.raises(ValueError, match=message):
            sensitivity_and_bias(*counts, correction=None)

    def test_refuses_an_unknown_correction(self):
        with pytest.raises(ValueError, match=r"correction = '1/2N'"):
            sensitivity_and_bias(1, 2, 3, 4, "1/2N")


class TestCountZones:
    ALL = frozenset({"head", "forequarters", "topline", "hindquarters", "tail"})

    def test_each_zone_counts_once(self):
        looks = [
            LookedAt(self.ALL, {"forequarters", "topline"}, ("forequarters", "forequarters", "tail", "tail")),
            LookedAt(self.ALL, frozenset(), ()),
        ]
        assert count_zones(looks) == ZoneCounts(
            hits=1, misses=1, false_alarms=1, correct_rejections=7, left_out=0
        )

    def test_marks_without_a_zone_are_left_out_and_counted(self):
        look = LookedAt({"head"}, frozenset(), (None, "coat", "head"))
        assert count_zones([look]) == ZoneCounts(0, 0, 1, 0, left_out=2)

    def test_a_zone_of_the_key_counts_as_visible(self):
        assert count_zones([LookedAt({"head"}, {"whole"}, ("whole",))]) == ZoneCounts(1, 0, 0, 1, 0)

    def test_nothing_looked_at(self):
        assert count_zones([]) == ZoneCounts(0, 0, 0, 0, 0)

    @pytest.mark.parametrize(
        ("matched", "named", "containing", "zone"),
        [
            ("topline", "tail", "coat", "topline"),
            (None, "tail", "coat", "tail"),
            (None, None, "coat", "coat"),
            (None, None, None, None),
        ],
    )
    def test_zone_of_a_mark(self, matched, named, containing, zone):
        assert zone_of_mark(matched, named, containing) == zone
