import numpy as np
import pytest

from assessments.statistics.cut_score import decide, modified_angoff

NaN = float("nan")


class TestModifiedAngoff:
    def test_cut_and_its_error(self):
        # Three panellists at 0.6, 0.7 and 0.8: sd = 0.1
        found = modified_angoff([[0.5, 0.7], [0.7, 0.7], [0.8, 0.8]])
        assert found.cut == pytest.approx(0.7)
        assert found.standard_error == pytest.approx(0.1 / np.sqrt(3))
        assert found.by_panellist == pytest.approx((0.6, 0.7, 0.8))

    def test_one_panellist_leaves_the_error_unknown(self):
        found = modified_angoff([[0.5, 0.7]])
        assert found.cut == pytest.approx(0.6)
        assert np.isnan(found.standard_error)
        assert found.enough is False

    def test_enough_from_five_panellists_on(self):
        assert [modified_angoff([[0.5]] * n).enough for n in (4, 5)] == [False, True]

    @pytest.mark.parametrize(
        ("estimates", "message"),
        [
            ([[0.5, 0.7], [0.6, NaN]], "panellist 2, item 2: nan is not a probability"),
            ([[0.5, 70]], "panellist 1, item 2: 70 is not a probability"),
            ([[-0.1]], "panellist 1, item 1: -0.1"),
            ([0.5, 0.6], r"shape \(2,\)"),
            ([[]], r"shape \(1, 0\)"),
        ],
    )
    def test_refuses(self, estimates, message):
        with pytest.raises(ValueError, match=message):
            modified_angoff(estimates)


class TestDecide:
    @pytest.mark.parametrize(
        ("score", "cut", "sem", "decision"),
        [
            (0.81, 0.75, 0.05, "pass"),
            (0.69, 0.75, 0.05, "refer"),
            (0.77, 0.75, 0.05, "borderline"),
            (0.73, 0.75, 0.05, "borderline"),
            (0.75, 0.70, 0.05, "borderline"),  # exactly one error away, though not in binary fractions
            (0.65, 0.70, 0.05, "borderline"),
            (0.75, 0.75, 0, "borderline"),
            (0.76, 0.75, 0, "pass"),
            (1, 0, None, "borderline"),
            (0, 1, NaN, "borderline"),
        ],
    )
    def test_decision(self, score, cut, sem, decision):
        assert decide(score, cut, sem) == decision

    @pytest.mark.parametrize(
        ("score", "cut", "sem", "message"),
        [
            (72, 0.7, 0.05, "score = 72: must be a fraction of the paper"),
            (NaN, 0.7, 0.05, "score = nan"),
            (0.7, 70, 0.05, "cut = 70"),
            (0.7, NaN, 0.05, "cut = nan"),
            (0.7, 0.7, -0.05, r"sem = -0.05"),
        ],
    )
    def test_refuses(self, score, cut, sem, message):
        with pytest.raises(ValueError, match=message):
            decide(score, cut, sem)
