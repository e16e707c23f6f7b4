"""How far people who looked at the same dogs agree: kappa, alpha, W, limits, and who weighs too heavily.

Everything here is about people and levels; nothing is said about which of them is right, except in
`severity_bias`, where one side is the key.
"""

from dataclasses import dataclass
from math import nan, sqrt
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import chdtrc, ndtri, stdtrit

Floats = NDArray[np.float64]
NORMAL_95 = float(ndtri(0.975))

# Cicchetti (1981): a weighted kappa of k levels wants about 2k² pairs (from memory).
PAIRS_PER_SQUARED_LEVEL = 2
# Siegel and Castellan: the chi-square for W serves from 8 objects on; below, a table (from memory).
EXHIBITS_FOR_CHI_SQUARE = 8
# House rule: fewer weighed faults say too little about a habit.
WEIGHED_FOR_BIAS = 10
# House rule: with fewer pairs of marks the limits of agreement move too much to be told.
PAIRS_FOR_LIMITS = 10


@dataclass(frozen=True)
class Kappa:
    """Agreement of two people on ordered levels, beyond chance.

    value: 1 is full agreement, 0 what chance gives; NaN where both used one and the same level only,
        because chance alone then explains everything.
    standard_error: of `value`; NaN together with it.
    n: pairs compared. enough: whether n is large enough for the levels and the value is known.
    """

    value: float
    standard_error: float
    n: int
    enough: bool

    @property
    def interval(self) -> tuple[float, float]:
        """95 % interval of `value`, kept within −1 and 1; NaN together with it."""
        reach = NORMAL_95 * self.standard_error
        return max(-1.0, self.value - reach), min(1.0, self.value + reach)


@dataclass(frozen=True)
class Concordance:
    """Agreement of several people on an order.

    w: 0 (none) to 1 (one and the same order); NaN where everybody tied everything.
    chi_square, p_value: of the hypothesis that the orders have nothing to do with one another; NaN
        together with w.
    enough: whether w is known and there are enough exhibits for the p-value to be relied on.
    """

    w: float
    chi_square: float
    p_value: float
    raters: int
    exhibits: int
    enough: bool


@dataclass(frozen=True)
class Bias:
    """How many levels somebody weighs above (+) or below (−) the key, on average.

    low, high: 95 % interval of `mean`, in levels. n: faults weighed. enough: whether n is large enough
        to call it a habit.
    """

    mean: float
    low: float
    high: float
    n: int
    enough: bool


@dataclass(frozen=True)
class Limits:
    """How far two people's marks of the same answers lie apart, in the marks' own unit.

    mean: of first − second, with its 95 % interval from mean_low to mean_high. low, high: the 95 % limits of
    agreement, between which 19 of 20 differences lie. n: pairs of marks. enough: whether n is large enough to
    tell the limits.
    """

    mean: float
    mean_low: float
    mean_high: float
    low: float
    high: float
    n: int
    enough: bool


def weighted_kappa(
    first: ArrayLike,
    second: ArrayLike,
    levels: int,
    weights: Literal["linear", "quadratic"] = "linear",
) -> Kappa:
    """Cohen's weighted kappa of two people's levels, with its non-null asymptotic standard error.

    first, second: equally long sequences of whole numbers 0 … levels − 1, in the same order. Levels that
    nobody used count: they are part of the ladder. With two levels this is the plain kappa.
    Raises ValueError for anything else, a missing level (NaN) included.

    Source: Cohen (1968), Psychological Bulletin 70:213–220; standard error: Fleiss, Cohen and Everitt
    (1969), Psychological Bulletin 72:323–327.
    """
    if levels < 2:
        raise ValueError(f"levels = {levels}: a ladder has at least 2 levels")
    a, b = _levels("first", first, levels), _levels("second", second, levels)
    if a.size != b.size or a.size == 0:
        raise ValueError(f"{a.size} and {b.size} levels: both people rate the same exhibits, at least 1")
    agreement = _agreement_weights(levels, weights)
    if min(a.min(), b.min()) == max(a.max(), b.max()):
        return Kappa(nan, nan, a.size, enough=False)
    observed = np.bincount(a * levels + b, minlength=levels * levels).reshape(levels, levels) / a.size
    value, variance = _kappa_and_variance(observed, agreement)
    return Kappa(
        value, sqrt(variance / a.size), a.size, enough=a.size >= PAIRS_PER_SQUARED_LEVEL * levels * levels
    )


def _levels(name: str, given: ArrayLike, levels: int) -> NDArray[np.intp]:
    values = np.asarray(given, dtype=float)
    if values.ndim != 1:
        raise ValueError(f"{name} has {values.ndim} dimensions: one sequence of levels is needed")
    wrong = values[~((values >= 0) & (values < levels) & (values == np.floor(values)))]
    if wrong.size:
        raise ValueError(f"{name} holds {wrong[0]:g}: levels are whole numbers from 0 to {levels - 1}")
    return values.astype(np.intp)


def _agreement_weights(levels: int, weights: str) -> Floats:
    if weights not in ("linear", "quadratic"):
        raise ValueError(f'weights = {weights!r}: must be "linear" or "quadratic"')
    steps = np.abs(np.subtract.outer(np.arange(levels), np.arange(levels))) / (levels - 1)
    return 1 - steps ** (1 if weights == "linear" else 2)


def _kappa_and_variance(observed: Floats, agreement: Floats) -> tuple[float, float]:
    """Kappa of a table of proportions, and n times its variance."""
    rows, columns = observed.sum(axis=1), observed.sum(axis=0)
    found = float((agreement * observed).sum())
    chance = float(rows @ agreement @ columns)
    marginal = np.add.outer(agreement @ columns, rows @ agreement)
    spread = (observed * (agreement * (1 - chance) - marginal * (1 - found)) ** 2).sum()
    centre = (found * chance - 2 * chance + found) ** 2
    variance = max(0.0, float(spread - centre)) / (1 - chance) ** 4
    return (found - chance) / (1 - chance), variance


def krippendorff_alpha(
    ratings: ArrayLike, level: Literal["nominal", "ordinal", "interval"] = "ordinal"
) -> float:
    """Krippendorff's alpha: 1 is full agreement, 0 what chance gives, below 0 is worse than chance.

    ratings: raters × units, NaN where a rater did not rate a unit. Units with a single rating say nothing
    about agreement and are left out. If all ratings that remain are equal there is no variation at all,
    and alpha is 1 by convention. Raises ValueError where no unit has two ratings.

    Computed as 1 − (spread within units / spread overall), both as variances with divisor n − 1 of the
    ratings themselves (interval), their average ranks (ordinal) or their categories (nominal); which is
    the coincidence-matrix form written without the matrix.

    Source: Krippendorff (2011), "Computing Krippendorff's Alpha-Reliability"; Content Analysis (1980).
    """
    if level not in ("nominal", "ordinal", "interval"):
        raise ValueError(f'level = {level!r}: must be "nominal", "ordinal" or "interval"')
    values, units = _pairable(ratings)
    if values.min() == values.max():
        return 1.0
    if level == "nominal":
        within, overall = _nominal_spreads(values, units)
    else:
        within, overall = _squared_spreads(_midranks(values) if level == "ordinal" else values, units)
    return 1.0 - within / overall


def _pairable(ratings: ArrayLike) -> tuple[Floats, NDArray[np.intp]]:
    """Ratings of units that at least two raters rated, and the number of the unit of each."""
    table = np.asarray(ratings, dtype=float)
    if table.ndim != 2:
        raise ValueError(f"ratings have {table.ndim} dimensions: raters × units are needed")
    if np.isinf(table).any():
        raise ValueError("ratings hold an infinite value: a rating is a number, or NaN where missing")
    present = ~np.isnan(table)
    present &= present.sum(axis=0) >= 2
    if not present.any():
        raise ValueError(
            f"no unit of {table.shape[0]} × {table.shape[1]} ratings has 2 of them: "
            "agreement needs 2 raters on the same unit"
        )
    _, units = np.nonzero(present)
    return table[present], units


def _midranks(values: Floats) -> Floats:
    """Ranks from 1, equal values sharing their average rank."""
    _, inverse, counts = np.unique(values, return_inverse=True, return_counts=True)
    ranks: Floats = (np.cumsum(counts) - (counts - 1) / 2)[inverse]
    return ranks


def _squared_spreads(values: Floats, units: NDArray[np.intp]) -> tuple[float, float]:
    """Variance within units, weighted by their ratings, and variance overall."""
    values = values - values.mean()
    sizes = np.bincount(units)
    rated = np.maximum(sizes, 1)
    deviations = values - (np.bincount(units, values) / rated)[units]
    squares = np.bincount(units, deviations**2)
    within = (squares * sizes / np.maximum(sizes - 1, 1)).sum() / values.size
    return float(within), float((values**2).sum() / (values.size - 1))


def _nominal_spreads(values: Floats, units: NDArray[np.intp]) -> tuple[float, float]:
    """The same for categories: a variance is the share of pairs that differ (halved in both)."""
    _, categories = np.unique(values, return_inverse=True)
    sizes = np.bincount(units)
    cells = np.unique(np.stack([units, categories]), axis=1, return_counts=True)
    same = np.bincount(cells[0][0], cells[1].astype(float) ** 2, minlength=sizes.size)
    within = ((sizes**2 - same) / np.maximum(sizes - 1, 1)).sum() / values.size
    totals = np.bincount(categories)
    overall = (values.size**2 - (totals**2).sum()) / (values.size - 1)
    return float(within), float(overall) / values.size


def kendalls_w(ranks: ArrayLike) -> Concordance:
    """Kendall's coefficient of concordance, corrected for ties.

    ranks: raters × exhibits, ranks or scores; each rater's row is ranked, equal values sharing their
    average rank. Raises ValueError for fewer than 2 raters or 2 exhibits, and where a rating is missing:
    everybody ranks the whole class.

    Source: Kendall and Babington Smith (1939), Annals of Mathematical Statistics 10:275–287; chi-square
    = raters · (exhibits − 1) · W, the statistic of Friedman (1937).
    """
    table = np.asarray(ranks, dtype=float)
    if table.ndim != 2 or min(table.shape) < 2:
        raise ValueError(f"ranks of shape {table.shape}: at least 2 raters × 2 exhibits are needed")
    if not np.isfinite(table).all():
        raise ValueError("ranks hold a missing or infinite value: everybody ranks every exhibit")
    raters, exhibits = table.shape
    ranked = np.stack([_midranks(row) for row in table])
    ties = sum(float((np.unique(row, return_counts=True)[1] ** 3).sum() - exhibits) for row in table)
    possible = raters**2 * (exhibits**3 - exhibits) - raters * ties
    if possible == 0:
        return Concordance(nan, nan, nan, raters, exhibits, enough=False)
    sums = ranked.sum(axis=0)
    w = float(12 * ((sums - sums.mean()) ** 2).sum() / possible)
    chi_square = raters * (exhibits - 1) * w
    p_value = float(chdtrc(exhibits - 1, chi_square))
    return Concordance(w, chi_square, p_value, raters, exhibits, enough=exhibits >= EXHIBITS_FOR_CHI_SQUARE)


def severity_bias(given: ArrayLike, key: ArrayLike) -> Bias:
    """Mean of given level − key level, with its 95 % interval after Student's t.

    given, key: equally long sequences of levels in the same order. Pairs in which one is NaN (not
    weighed) are left out; fewer than 2 others raise ValueError.
    """
    a, b = np.asarray(given, dtype=float), np.asarray(key, dtype=float)
    if a.ndim != 1 or a.shape != b.shape:
        raise ValueError(f"given {a.shape} and key {b.shape}: two equally long sequences are needed")
    if np.isinf(a).any() or np.isinf(b).any():
        raise ValueError("levels hold an infinite value: a level is a number, or NaN where not weighed")
    differences = (a - b)[~np.isnan(a - b)]
    n = differences.size
    if n < 2:
        raise ValueError(f"n = {n} weighed faults: an interval needs at least 2")
    mean = float(differences.mean())
    reach = float(stdtrit(n - 1, 0.975) * differences.std(ddof=1) / sqrt(n))
    return Bias(mean, mean - reach, mean + reach, n, enough=n >= WEIGHED_FOR_BIAS)


def limits_of_agreement(first: ArrayLike, second: ArrayLike) -> Limits:
    """The mean of first − second and the limits of agreement, mean ± 1.96 standard deviations (ddof 1).

    first, second: equally long sequences of marks of the same answers. The interval of the mean is Student's
    t. Raises ValueError for fewer than 2 pairs and for a mark that is missing or infinite.

    Source: Bland and Altman (1986), The Lancet 327:307–310.
    """
    a, b = np.asarray(first, dtype=float), np.asarray(second, dtype=float)
    if a.ndim != 1 or a.shape != b.shape:
        raise ValueError(f"first {a.shape} and second {b.shape}: two equally long sequences are needed")
    if not np.isfinite(a - b).all():
        raise ValueError("marks hold a missing or infinite value: both people mark every answer")
    n = a.size
    if n < 2:
        raise ValueError(f"n = {n} pairs of marks: limits need at least 2")
    mean, sd = float((a - b).mean()), float((a - b).std(ddof=1))
    sure = float(stdtrit(n - 1, 0.975)) * sd / sqrt(n)
    return Limits(
        mean,
        mean - sure,
        mean + sure,
        mean - NORMAL_95 * sd,
        mean + NORMAL_95 * sd,
        n,
        enough=n >= PAIRS_FOR_LIMITS,
    )
