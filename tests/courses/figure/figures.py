"""Figures for the tests: drawn at random over the whole range of every parameter, but the same each time."""

from collections.abc import Iterator

import numpy as np
from PIL import Image

from courses.figure import PARAMETERS, Drawing, ImpossibleFigure, Settings
from courses.figure.drawing import drawing_of, plan


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


def described(view: str, figure: Settings, width: int = 96) -> Drawing:
    """A drawing with its points and outline, its picture left blank."""
    frame = plan(view, figure).frame(width)
    return drawing_of(view, figure, Image.new("RGB", (frame.width, frame.height)))
