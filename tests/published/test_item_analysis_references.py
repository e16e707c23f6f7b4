"""Item analysis beside pingouin and pandas, on seeded answers with gaps and awkward items."""

import numpy as np
import pandas as pd
import pingouin
import pytest

from assessments.statistics.item_analysis import analyse

SEEDS = range(6)


def answers(seed, missing):
    """Part scores that hang on ability and difficulty; the last item is constant."""
    chance = np.random.default_rng(seed)
    people, items = int(chance.integers(25, 120)), int(chance.integers(3, 15))
    ability = chance.normal(size=(people, 1))
    scores = 1 / (1 + np.exp(-(ability + chance.normal(size=items) + chance.normal(size=(people, items)))))
    scores[:, ::2] = scores[:, ::2] > 0.5
    scores[:, -1] = 0.7
    scores[chance.random(scores.shape) < missing] = np.nan
    return scores


@pytest.mark.parametrize("missing", [0, 0.3])
@pytest.mark.parametrize("seed", SEEDS)
def test_alpha_is_pingouins(seed, missing):
    scores = answers(seed, missing)
    frame = pd.DataFrame(scores)
    found = analyse(scores)
    assert found.alpha == pytest.approx(pingouin.cronbach_alpha(frame, nan_policy="pairwise")[0], abs=1e-10)
    without = [pingouin.cronbach_alpha(frame.drop(columns=item))[0] for item in frame]
    assert found.alpha_without == pytest.approx(without, abs=1e-10)


@pytest.mark.parametrize("missing", [0, 0.3])
@pytest.mark.parametrize("seed", SEEDS)
def test_facility_discrimination_and_spread_are_pandas(seed, missing):
    scores = answers(seed, missing)
    frame = pd.DataFrame(scores)
    found = analyse(scores)
    assert found.facility == pytest.approx(frame.mean().to_numpy(), abs=1e-12)
    assert found.presented.tolist() == frame.count().tolist()
    assert found.sd == pytest.approx(frame.mean(axis=1).std(), abs=1e-12)
    for item in frame.columns[:-1]:
        rest = frame.drop(columns=item).mean(axis=1)
        assert found.discrimination[item] == pytest.approx(frame[item].corr(rest), abs=1e-10)
    assert np.isnan(found.discrimination[-1])


@pytest.mark.parametrize("missing", [0, 0.3])
@pytest.mark.parametrize("seed", SEEDS)
def test_upper_lower_is_pandas(seed, missing):
    scores = answers(seed, missing)
    frame = pd.DataFrame(scores)
    ranked = frame.loc[frame.mean(axis=1).sort_values(ascending=False, kind="stable").index]
    size = round(0.27 * len(frame))
    expected = ranked.head(size).mean() - ranked.tail(size).mean()
    assert analyse(scores).upper_lower == pytest.approx(expected.to_numpy(), abs=1e-12, nan_ok=True)
