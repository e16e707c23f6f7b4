"""Marks by a rubric against the weighted mean of a reference library: numpy.average with weights."""

import random

import numpy as np
import pytest

from assessments.scoring.rubric import RubricPart, score_rubric


def test_the_score_is_the_weighted_mean_of_the_levels_reached():
    chance = random.Random(1788)
    for _ in range(200):
        count = chance.randint(1, 6)
        tops = [chance.randint(1, 6) for _ in range(count)]
        weights = [chance.uniform(0.1, 5) for _ in range(count)]
        reached = [chance.randint(0, top) for top in tops]
        parts = [
            RubricPart(f"part {n}", weight, tuple(f"level {level}" for level in range(top + 1)))
            for n, (weight, top) in enumerate(zip(weights, tops, strict=True))
        ]
        expected = np.average(np.array(reached) / np.array(tops), weights=weights)
        assert score_rubric(parts, reached).score == pytest.approx(float(expected), abs=1e-12)
