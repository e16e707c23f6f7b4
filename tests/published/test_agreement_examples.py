"""Published tables of agreement between raters."""

from statistics import NormalDist

import numpy as np
import pytest

from assessments.statistics.agreement import (
    kendalls_w,
    krippendorff_alpha,
    limits_of_agreement,
    weighted_kappa,
)

NaN = np.nan


def levels_of(table):
    """Two sequences of levels that make up a table of counts (first person in rows)."""
    rows, columns = np.nonzero(table)
    counts = np.asarray(table)[rows, columns]
    return np.repeat(rows, counts), np.repeat(columns, counts)


@pytest.mark.parametrize(
    ("weights", "expected"), [("linear", 0.9412), ("quadratic", 0.9541)], ids=["linear", "quadratic"]
)
def test_kappa_of_three_ordered_levels(weights, expected):
    # T2-D-03. scikit-learn 1.9, test of cohen_kappa_score.
    first, second = levels_of([[46, 0, 0], [4, 40, 0], [0, 0, 10]])
    assert weighted_kappa(first, second, 3, weights).value == pytest.approx(expected, abs=1e-4)


def test_kappa_of_two_categories():
    # T2-D-04. Artstein and Poesio (2008), Computational Linguistics 34(4), Table 1. With two levels the
    # linear weights are those of the plain kappa.
    first, second = levels_of([[20, 20], [10, 50]])
    assert weighted_kappa(first, second, 2).value == pytest.approx(0.348, abs=5e-4)


def test_linear_kappa_with_standard_error_and_an_unused_level():
    # T2-D-05. SAS printout in the statsmodels test suite, test_inter_rater.py (J. Perktold 2012).
    first, second = levels_of([[0, 4, 1], [0, 8, 0], [0, 1, 5]])
    kappa = weighted_kappa(first, second, 3, "linear")
    reach = NormalDist().inv_cdf(0.975) * kappa.standard_error
    assert kappa.value == pytest.approx(0.4701, abs=6e-5)
    assert kappa.standard_error == pytest.approx(0.1457, abs=6e-5)
    assert (kappa.value - reach, kappa.value + reach) == pytest.approx((0.1845, 0.7558), abs=6e-5)


@pytest.mark.parametrize(
    ("level", "expected"),
    [
        ("nominal", 0.743),  # printed, as is the next
        ("ordinal", 0.815),
        ("interval", 0.849),  # T3-D-02, from memory: Krippendorff (2011)
    ],
)
def test_alpha_of_krippendorffs_data_c(level, expected):
    # T3-D-01. Data: Krippendorff (1980), Content Analysis; values: documentation of the Python package
    # krippendorff (S. Castro 2017).
    ratings = [
        [1, 2, 3, 3, 2, 1, 4, 1, 2, NaN, NaN, NaN],
        [1, 2, 3, 3, 2, 2, 4, 1, 2, 5, NaN, 3],
        [NaN, 3, 3, 3, 2, 3, 4, 2, 2, 5, 1, NaN],
        [1, 2, 3, 3, 2, 4, 4, 1, 2, 5, 1, NaN],
    ]
    assert krippendorff_alpha(ratings, level) == pytest.approx(expected, abs=6e-4)


def test_concordance_of_four_judges_on_ten_projects():
    # T6-D-01. Handout "The Kendall Coefficient of Concordance" (author and year not shown): the squared
    # deviations of the rank sums are printed as 1048; W follows from the formula printed there.
    ranks = [
        [1, 3, 4, 5, 2, 8, 6, 7, 10, 9],
        [2, 1, 4, 5, 6, 3, 8, 7, 10, 9],
        [3, 2, 1, 5, 7, 4, 6, 8, 9, 10],
        [4, 2, 3, 1, 6, 7, 5, 9, 8, 10],
    ]
    judges, projects = 4, 10
    w = kendalls_w(ranks).w
    assert w * judges**2 * (projects**3 - projects) / 12 == pytest.approx(1048, abs=1e-9)


def test_concordance_from_friedmans_statistic():
    # T6-D-02 (results derived). Data: Sprent and Smeeton (2000), Applied Nonparametric Statistical
    # Methods, section 6.3.2, in the SciPy tutorial on friedmanchisquare.
    before = [72, 96, 88, 92, 74, 76, 82]
    at_once = [120, 120, 132, 120, 101, 96, 112]
    five_minutes_after = [76, 95, 104, 96, 84, 72, 76]
    concordance = kendalls_w(np.transpose([before, at_once, five_minutes_after]))
    assert concordance.chi_square == pytest.approx(10.5714285714, abs=1e-6)
    assert concordance.w == pytest.approx(0.7551020408, abs=1e-6)


def test_limits_of_agreement_of_two_peak_flow_meters():
    # Bland and Altman (1986), Statistical methods for assessing agreement between two methods of clinical
    # measurement, The Lancet 327:307-310: first readings of 17 people by the large and the mini Wright meter,
    # in l/min. Data and printed values from memory: mean -2.1, standard deviation 38.8, interval of the mean
    # -22.0 to 17.8. Printed limits are mean ± 2 standard deviations, -79.7 and 75.5; ours take 1.96.
    large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
    mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]
    found = limits_of_agreement(large, mini)
    assert (found.n, found.enough) == (17, True)
    assert found.mean == pytest.approx(-2.1, abs=0.05)
    assert (found.mean_low, found.mean_high) == pytest.approx((-22.0, 17.8), abs=0.06)
    sd = (found.high - found.low) / (2 * 1.96)
    assert sd == pytest.approx(38.8, abs=0.05)
    assert (found.mean - 2 * sd, found.mean + 2 * sd) == pytest.approx((-79.7, 75.5), abs=0.1)


def test_limits_of_agreement_from_a_printed_mean_and_standard_deviation():
    # Bland and Altman (1999), Measuring agreement in method comparison studies, Statistical Methods in Medical
    # Research 8:135-160: systolic pressure by an observer and a machine, 85 people; mean -16.29, standard
    # deviation 19.61 mmHg, limits -54.7 and 22.1 (from memory). Differences constructed to have just these.
    shape = np.linspace(-1, 1, 85)
    differences = -16.29 + 19.61 * shape / shape.std(ddof=1)
    found = limits_of_agreement(differences, np.zeros(85))
    assert (found.low, found.high) == pytest.approx((-54.7, 22.1), abs=0.06)
