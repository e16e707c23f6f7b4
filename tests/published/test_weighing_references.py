"""The marks of weighed faults beside weighted kappa of a reference library."""

from itertools import product

import numpy as np
import pytest
from sklearn.metrics import cohen_kappa_score

from assessments.scoring import SeverityLadder
from assessments.scoring.shown_fault import WeighingRules, score_shown_fault

NO_LIMIT = WeighingRules(disqualifying_cap=1)


@pytest.mark.parametrize("seed", range(6))
def test_mean_marks_are_the_observed_and_expected_agreement_of_linear_kappa(seed):
    """kappa = (observed − expected) / (1 − expected), scikit-learn's with linear weights (Cohen 1968)."""
    chance = np.random.default_rng(seed)
    levels = int(chance.integers(2, 6))
    ladder = SeverityLadder(tuple("abcde"[:levels]), tuple(range(1, levels + 1)))
    key = chance.integers(0, levels, 80)
    given = np.where(chance.random(80) < 0.5, key, chance.integers(0, levels, 80))

    def mean_mark(pairs):
        return np.mean([score_shown_fault(int(k), int(g), ladder, NO_LIMIT).score for k, g in pairs])

    observed = mean_mark(zip(key, given, strict=True))
    expected = mean_mark(product(key, given))
    kappa = cohen_kappa_score(given, key, labels=list(range(levels)), weights="linear")
    assert (observed - expected) / (1 - expected) == pytest.approx(kappa, abs=1e-12)
