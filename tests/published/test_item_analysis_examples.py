"""Published examples of item analysis and reliability."""

import numpy as np
import pytest

from assessments.statistics.item_analysis import analyse

# Karl L. Wuensch, East Carolina University, "The Kuder-Richardson 20" (KR20.txt): ten students × ten items.
WUENSCH = [
    [1, 1, 1, 1, 1, 1, 0, 1, 1, 0],
    [1, 0, 1, 1, 0, 1, 1, 1, 0, 1],
    [1, 1, 1, 1, 0, 1, 1, 0, 0, 1],
    [0, 0, 1, 0, 0, 0, 1, 0, 0, 0],
    [0, 0, 0, 0, 0, 1, 0, 0, 1, 0],
    [1, 1, 1, 0, 1, 1, 1, 1, 1, 1],
    [1, 1, 0, 1, 1, 1, 0, 1, 1, 1],
    [1, 1, 1, 1, 1, 1, 1, 1, 0, 1],
    [0, 1, 0, 1, 1, 1, 1, 1, 0, 1],
    [1, 1, 0, 1, 1, 0, 1, 1, 1, 0],
]


def test_facility_and_spread_of_ten_students():
    # T5-D-01, printed: p, the sum of p·q, and the variance of the totals with divisor n.
    found = analyse(WUENSCH)
    assert found.facility == pytest.approx([0.7, 0.7, 0.6, 0.7, 0.6, 0.8, 0.7, 0.7, 0.5, 0.6], abs=1e-9)
    assert (found.facility * (1 - found.facility)).sum() == pytest.approx(2.18, abs=1e-9)
    assert (10 * found.sd) ** 2 * 9 / 10 == pytest.approx(5.84, abs=1e-9)


def test_kr20_of_ten_students():
    # T5-D-02 (derived from the same data). KR-20 is alpha of items marked 0 or 1; the standard error is
    # given there in points of ten.
    found = analyse(WUENSCH)
    assert found.alpha == pytest.approx(0.696347032, abs=1e-6)
    assert found.discrimination == pytest.approx(
        [0.705889, 0.705889, 0, 0.473589, 0.583874, 0.286147, -0.027445, 0.705889, -0.123613, 0.475867],
        abs=1e-6,
    )
    assert found.flags[2] == ("weak",)  # nought, and not negative by rounding
    assert 10 * found.sem == pytest.approx(1.4036988, abs=1e-6)


def test_alpha_of_fifteen_people_on_a_seven_point_scale():
    # T5-D-03. real-statistics.com, as printed in the documentation of pingouin (R. Vallat). Alpha does not
    # depend on the unit, so that the scale is brought to 0 … 1.
    scale = np.array(
        [
            [3, 2, 4, 1, 4, 5, 1, 4, 3, 2],
            [5, 4, 6, 3, 5, 1, 2, 5, 5, 5],
            [7, 3, 5, 5, 6, 4, 3, 3, 6, 5],
            [2, 4, 3, 3, 2, 2, 2, 6, 6, 3],
            [6, 5, 6, 5, 4, 4, 4, 6, 7, 5],
            [1, 2, 3, 4, 2, 5, 2, 3, 5, 2],
            [4, 3, 5, 3, 5, 2, 1, 2, 4, 3],
            [2, 4, 4, 3, 7, 2, 2, 4, 6, 5],
            [6, 5, 5, 5, 1, 6, 5, 2, 3, 2],
            [5, 4, 6, 4, 3, 5, 3, 1, 7, 2],
            [4, 3, 5, 2, 5, 3, 2, 3, 4, 1],
            [4, 2, 3, 2, 5, 3, 4, 2, 3, 4],
            [5, 5, 6, 2, 3, 3, 2, 4, 4, 5],
            [6, 5, 5, 4, 2, 2, 1, 4, 6, 5],
            [4, 3, 5, 5, 3, 1, 3, 2, 3, 4],
        ]
    )
    assert analyse((scale - 1) / 6).alpha == pytest.approx(0.592, abs=6e-4)


def test_facility_of_thirty_takers():
    # T5-D-04. "Item Analysis" handout (author and year not shown): 24 and 12 of 30 right.
    right = np.arange(30)[:, None] < [24, 12]
    assert analyse(right).facility == pytest.approx([0.8, 0.4], abs=1e-9)


def test_point_biserial_correlation():
    # T5-D-05. SciPy reference, pointbiserialr. With two items each is set against the other.
    scores = np.column_stack([[0, 0, 0, 1, 1, 1, 1], np.arange(7) / 6])
    assert analyse(scores).discrimination == pytest.approx([0.8660254038] * 2, abs=1e-9)


def test_standard_error_of_measurement():
    # T5-D-06 (derived). Dudek (1979), Psychological Bulletin 86:335–337: spread 100 and reliability 0.9 give
    # 31.6227766, that is spread · √0.1. Two items of equal spread that correlate 9/11 have alpha 0.9.
    a, b = np.array([1, 1, -1, -1]), np.array([1, -1, 1, -1])
    both = np.column_stack([a, 9 / 11 * a + np.sqrt(1 - (9 / 11) ** 2) * b]) / 4 + 0.5
    found = analyse(both)
    assert found.alpha == pytest.approx(0.9, abs=1e-12)
    assert 100 * found.sem / found.sd == pytest.approx(31.6227766, abs=1e-6)


def test_ten_people_on_five_items():
    # T5-D-08 (results derived). Data: R package CTT (J. T. Willse 2018), help page itemAnalysis.
    scores = [
        [0, 0, 0, 0, 0],
        [0, 0, 0, 0, 0],
        [0, 0, 0, 0, 1],
        [0, 0, 0, 1, 1],
        [0, 0, 1, 1, 1],
        [0, 1, 1, 1, 1],
        [1, 1, 1, 1, 1],
        [1, 0, 1, 1, 1],
        [0, 0, 0, 1, 1],
        [0, 1, 1, 1, 1],
    ]
    found = analyse(scores)
    assert found.alpha == pytest.approx(0.8157894737, abs=1e-6)
    assert found.facility == pytest.approx([0.2, 0.3, 0.5, 0.7, 0.8], abs=1e-6)
    assert found.discrimination == pytest.approx([0.403604, 0.529958, 0.790569, 0.723747, 0.599544], abs=1e-6)


def test_upper_and_lower_groups_of_a_class_of_55():
    # T5-D-09 (numbers derived). Definition: UCLA page on test scoring. 27 % of 55 are 14.85, so 15 in each
    # group; 12 right above and 4 below.
    order = np.linspace(1, 0, 55)
    item = np.full(55, 0.0)
    item[:12], item[-4:] = 1, 1
    others = np.repeat(order[:, None], 40, axis=1)
    found = analyse(np.column_stack([item, others]))
    assert found.upper_lower[0] == pytest.approx(0.5333333333, abs=1e-9)
