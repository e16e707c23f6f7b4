"""How items and a whole paper behave: hard or easy, telling good judges from poor or not, how reliable."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import nan, sqrt
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Flag = Literal["easy", "hard", "negative", "weak"]

EASY, HARD, WEAK = 0.95, 0.20, 0.15
# Kelley (1939), Journal of Educational Psychology 30:17–24: the outer 27 % tell most.
OUTER_SHARE = 0.27
# Common practice: item figures from fewer than 30 people are not acted upon.
PEOPLE_FOR_FIGURES = 30
# Scores are fractions; a spread below this is rounding, not difference.
NO_SPREAD = 1e-12
# Rows taken at a time, so that memory does not grow with the number of people.
ROWS = 2048


@dataclass(frozen=True, eq=False)
class ItemAnalysis:
    """Figures of a paper and, as one value per item in the order given, of its items.

    facility: mean score, 0 (nobody) to 1 (everybody). discrimination: correlation of the item with the
    person's mean over the other items they were given; NaN for a constant item. upper_lower: mean score
    among the best 27 % of people less that among the worst 27 %. alpha: Cronbach's alpha of the paper;
    alpha_without: the same without the item. sd, sem: spread of people's mean scores and their standard
    error of measurement, as fractions of the paper. presented: people who were given the item.
    flags: what an educator should look at: "easy" (facility above 0.95), "hard" (below 0.20), "negative"
    (discrimination below 0) or else "weak" (below 0.15).
    people: those with at least one score. enough, item_enough: whether the paper, and each item, was
    answered by 30 people or more. NaN stands wherever a figure cannot be known.
    """

    facility: Floats
    discrimination: Floats
    upper_lower: Floats
    alpha: float
    alpha_without: Floats
    sd: float
    sem: float
    flags: tuple[tuple[Flag, ...], ...]
    presented: NDArray[np.intp]
    people: int
    enough: bool
    item_enough: NDArray[np.bool_]


def analyse(scores: ArrayLike) -> ItemAnalysis:
    """Classical item analysis of people × items, scores from 0 to 1, NaN where an item was not presented.

    Raises ValueError for other scores and where fewer than 2 people have a score or fewer than 2 items
    were presented. People without any score count nowhere.

    alpha uses pairwise covariances (ddof 1): each from the people who were given both items. Items given
    to fewer than 2 people are left out of it; it is NaN if two other items never met in 2 people, or if
    people do not differ at all. The 27 % groups are the first and the last of the people put in order of
    their mean score, best first, those with equal means in the order given.

    Sources: Cronbach (1951), Psychometrika 16:297–334; corrected item-total correlation and index of
    discrimination as in Ebel and Frisbie (1991), Essentials of Educational Measurement.
    """
    table = _checked(scores)
    present = ~np.isnan(table)
    given = present.sum(axis=1)
    table, present, given = _people_with_a_score(table, present, given)
    presented = present.sum(axis=0)
    _require_two(len(table), int((presented > 0).sum()))
    totals = table.sum(axis=1, where=present)
    means = totals / given
    facility = _ratio(table.sum(axis=0, where=present), presented)
    discrimination = _discrimination(table, present, totals, given)
    alpha, alpha_without = _alphas(table, present, facility, presented)
    sd = float(means.std(ddof=1))
    return ItemAnalysis(
        facility=facility,
        discrimination=discrimination,
        upper_lower=_upper_lower(table, present, means),
        alpha=alpha,
        alpha_without=alpha_without,
        sd=sd,
        sem=sd * sqrt(1 - alpha) if alpha <= 1 else nan,
        flags=tuple(map(_flags, facility.tolist(), discrimination.tolist())),
        presented=presented,
        people=len(table),
        enough=len(table) >= PEOPLE_FOR_FIGURES,
        item_enough=presented >= PEOPLE_FOR_FIGURES,
    )


def _checked(scores: ArrayLike) -> Floats:
    table = np.asarray(scores, dtype=float)
    if table.ndim != 2:
        raise ValueError(f"scores have {table.ndim} dimensions: people × items are needed")
    _require_two(*table.shape)
    low, high = np.fmin.reduce(table, axis=None), np.fmax.reduce(table, axis=None)
    if low < 0 or high > 1:
        raise ValueError(f"score {low if low < 0 else high:g}: must be from 0 to 1, or NaN if not presented")
    return table


def _require_two(people: int, items: int) -> None:
    if people < 2 or items < 2:
        raise ValueError(f"{people} people and {items} items with scores: at least 2 of each are needed")


def _people_with_a_score(
    table: Floats, present: NDArray[np.bool_], given: NDArray[np.intp]
) -> tuple[Floats, NDArray[np.bool_], NDArray[np.intp]]:
    kept = given > 0
    return (table, present, given) if kept.all() else (table[kept], present[kept], given[kept])


def _ratio(sums: Floats, counts: NDArray[np.intp]) -> Floats:
    """Sums over counts, NaN where nothing was counted."""
    means: Floats = np.divide(sums, counts, out=np.full(sums.shape, nan), where=counts > 0)
    return means


def _discrimination(
    table: Floats, present: NDArray[np.bool_], totals: Floats, given: NDArray[np.intp]
) -> Floats:
    several = given >= 2
    found = np.full(table.shape[1], nan)
    for item in range(table.shape[1]):
        people = np.flatnonzero(present[:, item] & several)
        if people.size >= 2:
            own = table[people, item]
            found[item] = _correlation(own, (totals[people] - own) / (given[people] - 1))
    return found


def _correlation(x: Floats, y: Floats) -> float:
    """Pearson's r; NaN where one of the two does not vary."""
    if min(np.ptp(x), np.ptp(y)) <= NO_SPREAD:
        return nan
    x, y = x - x.mean(), y - y.mean()
    return float((x * y).sum() / np.sqrt((x**2).sum() * (y**2).sum()))


def _upper_lower(table: Floats, present: NDArray[np.bool_], means: Floats) -> Floats:
    size = max(1, round(OUTER_SHARE * means.size))
    order = np.argsort(-means, kind="stable")
    upper, lower = (
        _ratio(table[group].sum(axis=0, where=present[group]), present[group].sum(axis=0))
        for group in (order[:size], order[-size:])
    )
    return upper - lower


def _alphas(
    table: Floats, present: NDArray[np.bool_], facility: Floats, presented: NDArray[np.intp]
) -> tuple[float, Floats]:
    """Cronbach's alpha of the paper, and of the paper without each item."""
    counted = presented >= 2
    covariances = _pairwise_covariances(table, present, facility)[np.ix_(counted, counted)]
    k, own = len(covariances), covariances.diagonal()
    variances, total = own.sum(), covariances.sum()
    without = np.full(counted.size, nan)
    without[counted] = _alpha(k - 1, variances - own, total - 2 * covariances.sum(axis=0) + own)
    return float(_alpha(k, variances, total)), without


def _alpha(k: int, variances: Floats | np.float64, total: Floats | np.float64) -> Floats:
    """Alpha from the sum of the variances of k items and the variance of their total."""
    known = (total > NO_SPREAD) & (k >= 2)
    shares = np.divide(variances, total, out=np.full(np.shape(total), nan), where=known)
    alphas: Floats = k / max(1, k - 1) * (1 - shares)
    return alphas


def _pairwise_covariances(table: Floats, present: NDArray[np.bool_], facility: Floats) -> Floats:
    """Covariance (ddof 1) of each two items over the people given both; NaN for fewer than 2 of them."""
    items = table.shape[1]
    products, sums, both = np.zeros((3, items, items))
    for deviations, seen in _blocks(table, present, facility):
        products += deviations.T @ deviations
        sums += deviations.T @ seen
        both += seen.T @ seen
    with np.errstate(divide="ignore", invalid="ignore"):
        covariances: Floats = (products - sums * sums.T / both) / (both - 1)
    covariances[both < 2] = nan
    return covariances


def _blocks(table: Floats, present: NDArray[np.bool_], facility: Floats) -> Iterator[tuple[Floats, Floats]]:
    """Some rows at a time: deviations from the items' means (0 where not presented), presence as 0 and 1."""
    for start in range(0, len(table), ROWS):
        seen = present[start : start + ROWS]
        deviations = np.where(seen, table[start : start + ROWS] - facility, 0.0)
        yield deviations, seen.astype(float)


def _flags(facility: float, discrimination: float) -> tuple[Flag, ...]:
    flags: list[Flag] = []
    if facility > EASY:
        flags.append("easy")
    if facility < HARD:
        flags.append("hard")
    if discrimination < -NO_SPREAD:  # what is nought but for rounding is weak, not negative
        flags.append("negative")
    elif discrimination < WEAK:
        flags.append("weak")
    return tuple(flags)
