"""Item analysis beside the plain numpy operations it consists of, and beside a general statistics package.

Run with `python -m tests.load.bench_item_analysis`. Prints times, their ratios and peak memory; asserts
that both sides find the same alpha and the same correlations, so that they have done the same work.
"""

import tracemalloc
from collections.abc import Callable
from time import perf_counter
from typing import Any

import numpy as np
import pandas as pd
import pingouin

from assessments.statistics.item_analysis import Floats, analyse

LARGE = (20_000, 200)
BEARABLE = (2_000, 60)
MISSING = 0.3


def answers(people: int, items: int) -> Floats:
    """Part scores that hang on ability and difficulty, a share of them missing."""
    chance = np.random.default_rng(19)
    ability = chance.normal(size=(people, 1))
    scores = 1 / (1 + np.exp(-(ability + chance.normal(size=items) + chance.normal(size=(people, items)))))
    scores[chance.random(scores.shape) < MISSING] = np.nan
    return scores


def plain(scores: Floats) -> tuple[float, Floats]:
    """The operations alone, each on the whole table: no checks, nothing degenerate, no explanation."""
    seen = ~np.isnan(scores)
    ones, filled = seen.astype(float), np.where(seen, scores, 0)
    given, presented = ones.sum(axis=1), ones.sum(axis=0)
    totals = filled.sum(axis=1)
    means = totals / given
    facility = filled.sum(axis=0) / presented

    rest = np.where(seen, (totals[:, None] - filled) / (given[:, None] - 1), 0)
    own = np.where(seen, scores - facility, 0)
    rest = np.where(seen, rest - rest.sum(axis=0) / presented, 0)
    discrimination = (own * rest).sum(axis=0) / np.sqrt((own**2).sum(axis=0) * (rest**2).sum(axis=0))

    both, sums = ones.T @ ones, own.T @ ones
    covariances = (own.T @ own - sums * sums.T / both) / (both - 1)
    total, variances, items = covariances.sum(), covariances.diagonal(), scores.shape[1]
    alpha = items / (items - 1) * (1 - variances.sum() / total)
    left = total - 2 * covariances.sum(axis=0) + variances
    (items - 1) / (items - 2) * (1 - (variances.sum() - variances) / left)

    order, size = np.argsort(-means, kind="stable"), round(0.27 * len(means))
    for group in (order[:size], order[-size:]):
        filled[group].sum(axis=0) / ones[group].sum(axis=0)
    means.std(ddof=1)
    return float(alpha), discrimination


def general_package(scores: Floats) -> tuple[float, Floats]:
    """The same figures asked of pingouin and pandas, item by item."""
    frame = pd.DataFrame(scores)
    frame.mean()
    alpha = pingouin.cronbach_alpha(frame)[0]
    correlations = []
    for item in frame:
        others = frame.drop(columns=item)
        pingouin.cronbach_alpha(others)
        correlations.append(frame[item].corr(others.mean(axis=1)))
    ranked = frame.loc[frame.mean(axis=1).sort_values(ascending=False, kind="stable").index]
    size = round(0.27 * len(frame))
    ranked.head(size).mean() - ranked.tail(size).mean()
    return float(alpha), np.array(correlations)


def seconds(work: Callable[[Floats], Any], scores: Floats) -> float:
    start = perf_counter()
    work(scores)
    return perf_counter() - start


def peak_megabytes(work: Callable[[Floats], Any], scores: Floats) -> float:
    """Most memory held at once beyond the table itself."""
    tracemalloc.start()
    work(scores)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def compare(size: tuple[int, int], name: str, other: Callable[[Floats], Any], repeats: int) -> None:
    scores = answers(*size)
    ours, (alpha, correlations) = analyse(scores), other(scores)
    np.testing.assert_allclose(ours.alpha, alpha, rtol=1e-9)
    np.testing.assert_allclose(ours.discrimination, correlations, rtol=1e-7)
    # The best of turns taken in alternation, so that what else the machine does weighs least.
    turns = [(seconds(analyse, scores), seconds(other, scores)) for _ in range(repeats)]
    mine, theirs = (min(times) for times in zip(*turns, strict=True))
    my_peak, their_peak = peak_megabytes(analyse, scores), peak_megabytes(other, scores)
    print(f"{size[0]:,} people × {size[1]} items, {MISSING:.0%} missing ({scores.nbytes / 1e6:.0f} MB)")
    print(f"  item analysis   {mine:8.3f} s   peak {my_peak:6.1f} MB beyond the table")
    print(f"  {name:<15} {theirs:8.3f} s   peak {their_peak:6.1f} MB")
    print(f"  ratio           {mine / theirs:8.3f}")


if __name__ == "__main__":
    compare(LARGE, "plain numpy", plain, repeats=9)
    compare(BEARABLE, "pingouin/pandas", general_package, repeats=2)
