"""Cut scores by the Angoff method."""

import pytest

from assessments.statistics.cut_score import modified_angoff


def test_three_judges_on_five_items():
    # T7-D-02 (ratings derived). Definition: Shulruf, Wilkinson, Weller, Jones and Poole (2016), BMC Medical
    # Education 16:134. The numbers there are in points of five; ours are fractions of the paper.
    ratings = [[0.9, 0.7, 0.6, 0.8, 0.5], [0.85, 0.75, 0.5, 0.8, 0.6], [0.95, 0.65, 0.55, 0.7, 0.55]]
    found = modified_angoff(ratings)
    assert [5 * cut for cut in found.by_panellist] == pytest.approx([3.5, 3.5, 3.4], abs=1e-9)
    assert 5 * found.cut == pytest.approx(3.4666666667, abs=1e-9)
    assert 100 * found.cut == pytest.approx(69.3333333333, abs=1e-8)
    assert 5 * found.standard_error == pytest.approx(0.0333333333, abs=1e-9)
