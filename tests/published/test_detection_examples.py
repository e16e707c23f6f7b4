"""Published examples of signal detection, and the standard errors beside the exact distribution."""

from math import exp

import numpy as np
import pytest
from scipy import stats

from assessments.statistics.detection import sensitivity_and_bias


def test_rates_from_counts():
    # T4-D-01. Walter Schneider, "Short Notes on Theory of Signal Detection" (lecture slides).
    found = sensitivity_and_bias(40, 10, 5, 45, correction=None)
    assert (found.hit_rate, found.false_alarm_rate) == (0.8, 0.1)


@pytest.mark.parametrize(
    ("h", "f", "d_prime", "beta"), [(70, 10, 1.806, 1.981), (50, 40, 0.253, 1.033), (85, 5, 2.681, 2.261)]
)
def test_three_observers(h, f, d_prime, beta):
    # T4-D-02. The same slides. They print beta, which is exp(d′ · c), and so checks the criterion as well.
    found = sensitivity_and_bias(h, 100 - h, f, 100 - f, correction=None)
    assert found.d_prime == pytest.approx(d_prime, abs=6e-4)
    assert exp(found.d_prime * found.criterion) == pytest.approx(beta, abs=6e-4)


def test_mean_of_three_observers():
    # T4-D-03. The same slides: the mean of their d′, not the d′ of their mean rates.
    rates = [(70, 10), (50, 40), (85, 5)]
    found = [sensitivity_and_bias(h, 100 - h, f, 100 - f, correction=None) for h, f in rates]
    assert np.mean([one.d_prime for one in found]) == pytest.approx(1.5802, abs=6e-4)
    assert np.mean([exp(one.d_prime * one.criterion) for one in found]) == pytest.approx(1.758, abs=6e-4)


def test_perfect_observer_under_the_log_linear_rule():
    # T4-D-05 (derived). Rule of Hautus (1995) as stated in the R package utilityf, help page binarySDT.
    found = sensitivity_and_bias(10, 0, 0, 10)
    assert found.hit_rate == pytest.approx(0.9545454545, abs=1e-6)
    assert found.false_alarm_rate == pytest.approx(0.0454545455, abs=1e-6)
    assert found.d_prime == pytest.approx(3.3812432592, abs=1e-6)
    assert found.criterion == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(("h", "f"), [(0.8, 0.1), (0.69, 0.31), (0.5, 0.4)])
@pytest.mark.parametrize("zones", [60, 200])
def test_standard_errors_are_those_of_the_exact_distribution(h, f, zones):
    # Both counts are binomial; d′ and c over all pairs of counts, each with its probability, have an exact
    # standard deviation, which the formula of Gourevitch and Galanter (1967) approximates.
    counts = np.arange(zones + 1)
    z = stats.norm.ppf((counts + 0.5) / (zones + 1))
    variances = []
    for rate in (h, f):
        probability = stats.binom.pmf(counts, zones, rate)
        variances.append(probability @ z**2 - (probability @ z) ** 2)
    hits, alarms = round(h * zones), round(f * zones)
    found = sensitivity_and_bias(hits, zones - hits, alarms, zones - alarms)
    assert found.d_prime_se == pytest.approx(np.sqrt(sum(variances)), rel=0.06)
    assert found.criterion_se == pytest.approx(np.sqrt(sum(variances)) / 2, rel=0.06)
