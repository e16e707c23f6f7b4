"""Figures for the tests: drawn at random over the whole range of every parameter, but the same each time."""

from collections.abc import Iterator

import numpy as np

from courses.figure import PARAMETERS, ImpossibleFigure, Settings


def random_settings(seed: int, count: int) -> Iterator[Settings]:
    rng = np.random.default_rng(seed)
    found = 0
    while found < count:
        values = {name: rng.uniform(p.low, p.high) for name, p in PARAMETERS.items()}
        try:
            settings = Settings(values)
        except ImpossibleFigure:
            continue
        found += 1
        yield settings
