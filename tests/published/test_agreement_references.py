"""Agreement beside reference libraries, on seeded data with the awkward cases in it."""

import krippendorff
import numpy as np
import pytest
from scipy import stats
from sklearn.metrics import cohen_kappa_score
from statsmodels.stats.inter_rater import cohens_kappa

from assessments.statistics.agreement import (
    kendalls_w,
    krippendorff_alpha,
    limits_of_agreement,
    severity_bias,
    weighted_kappa,
)

SEEDS = range(8)


def two_people(seed):
    """Levels of two people who agree more or less, some ladders with levels that nobody uses."""
    chance = np.random.default_rng(seed)
    levels = int(chance.integers(2, 6))
    used = int(chance.integers(2, levels + 1))
    first = chance.integers(0, used, size=int(chance.integers(5, 200)))
    second = np.where(chance.random(first.size) < 0.6, first, chance.integers(0, used, first.size))
    return first, second, levels


@pytest.mark.parametrize("weights", ["linear", "quadratic"])
@pytest.mark.parametrize("seed", SEEDS)
def test_kappa_is_scikit_learns(seed, weights):
    first, second, levels = two_people(seed)
    expected = cohen_kappa_score(first, second, labels=list(range(levels)), weights=weights)
    assert weighted_kappa(first, second, levels, weights).value == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("weights", ["linear", "quadratic"])
@pytest.mark.parametrize("seed", SEEDS)
def test_standard_error_of_kappa_is_statsmodels(seed, weights):
    first, second, levels = two_people(seed)
    table = np.zeros((levels, levels))
    np.add.at(table, (first, second), 1)
    expected = cohens_kappa(table, wt=weights).std_kappa
    assert weighted_kappa(first, second, levels, weights).standard_error == pytest.approx(expected, abs=1e-12)


def panel(seed, values):
    """Raters × units with gaps, whole raters and whole units missing among them."""
    chance = np.random.default_rng(seed)
    ratings = values(chance, (int(chance.integers(2, 7)), int(chance.integers(2, 40)))).astype(float)
    ratings[chance.random(ratings.shape) < 0.3] = np.nan
    if seed % 3 == 0:
        ratings[0] = np.nan
        ratings = np.vstack([ratings, ratings[-1:]])
    ratings[:, 0] = np.nan
    ratings[:2, 1] = (0, 3)
    return ratings


@pytest.mark.parametrize("level", ["nominal", "ordinal", "interval"])
@pytest.mark.parametrize(
    "values",
    [
        lambda chance, shape: chance.integers(0, 5, shape),
        lambda chance, shape: chance.integers(0, 2, shape) * 3,
        lambda chance, shape: chance.normal(1e6, 1, shape),
    ],
    ids=["five levels", "two levels far apart", "all different, far from zero"],
)
@pytest.mark.parametrize("seed", SEEDS)
def test_alpha_is_the_krippendorff_packages(seed, values, level):
    ratings = panel(seed, values)
    expected = krippendorff.alpha(ratings, level_of_measurement=level)
    assert krippendorff_alpha(ratings, level) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("level", ["nominal", "ordinal", "interval"])
def test_alpha_of_a_rater_who_stands_alone_on_some_units(level):
    # A single rating of a unit must not enter the spread of the others.
    ratings = [[1, 2, 3, 4, 9], [1, 2, 4, 4, np.nan]]
    expected = krippendorff.alpha(np.array(ratings, dtype=float), level_of_measurement=level)
    assert krippendorff_alpha(ratings, level) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_concordance_is_scipys_friedman_test(seed):
    chance = np.random.default_rng(seed)
    scores = chance.integers(0, 6, size=(int(chance.integers(2, 9)), int(chance.integers(3, 12))))
    expected = stats.friedmanchisquare(*scores.T)
    concordance = kendalls_w(scores)
    raters, exhibits = scores.shape
    assert concordance.chi_square == pytest.approx(expected.statistic, rel=1e-10)
    assert concordance.p_value == pytest.approx(expected.pvalue, rel=1e-9)
    assert concordance.w == pytest.approx(expected.statistic / (raters * (exhibits - 1)), rel=1e-10)


@pytest.mark.parametrize("seed", SEEDS)
def test_concordance_is_the_mean_rank_correlation(seed):
    # (m · W − 1) / (m − 1) is the mean Spearman correlation of all pairs of raters: Kendall (1948), Rank
    # Correlation Methods (from memory). Holds exactly where nobody ties.
    chance = np.random.default_rng(seed)
    raters = int(chance.integers(2, 7))
    ranks = np.stack([chance.permutation(9) for _ in range(raters)])
    pairs = np.corrcoef(ranks)[np.triu_indices(raters, 1)]
    assert (raters * kendalls_w(ranks).w - 1) / (raters - 1) == pytest.approx(pairs.mean(), abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_interval_of_bias_is_scipys_t_interval(seed):
    chance = np.random.default_rng(seed)
    key = chance.integers(0, 4, size=int(chance.integers(2, 60))).astype(float)
    given = np.clip(key + chance.integers(-1, 3, key.size), 0, 3)
    given[2::5] = np.nan
    weighed = ~np.isnan(given)
    expected = stats.ttest_rel(given[weighed], key[weighed]).confidence_interval(0.95)
    bias = severity_bias(given, key)
    assert (bias.low, bias.high) == pytest.approx((expected.low, expected.high), abs=1e-12)
    assert bias.n == weighed.sum()


@pytest.mark.parametrize("seed", SEEDS)
def test_interval_of_kappa_is_statsmodels(seed):
    first, second, levels = two_people(seed)
    table = np.zeros((levels, levels))
    np.add.at(table, (first, second), 1)
    expected = cohens_kappa(table, wt="linear")
    assert weighted_kappa(first, second, levels).interval == pytest.approx(
        (max(-1, expected.kappa_low), min(1, expected.kappa_upp)), abs=1e-12
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_limits_of_agreement_are_scipys_intervals(seed):
    chance = np.random.default_rng(seed)
    first = chance.uniform(0, 100, size=int(chance.integers(2, 60)))
    second = first + chance.normal(2, 5, first.size)
    found, apart = limits_of_agreement(first, second), first - second
    assert (found.low, found.high) == pytest.approx(
        stats.norm.interval(0.95, apart.mean(), apart.std(ddof=1)), rel=1e-10
    )
    expected = stats.ttest_rel(first, second).confidence_interval(0.95)
    assert (found.mean_low, found.mean_high) == pytest.approx((expected.low, expected.high), rel=1e-10)
    assert found.enough == (first.size >= 10)
