"""A mark that a person gives by a rubric: for each part one of its described levels, weighed together.

The score is the weighted mean of the levels reached, each as a share of its part's highest level. Worked by
hand: accuracy weighs 3 and language 1, both from 0 to 4. Accuracy 3 and language 2 give
(3 × 3/4 + 1 × 2/4) / 4 = 0.6875.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isfinite

from .explanation import Line


@dataclass(frozen=True)
class RubricPart:
    """One part of a rubric: what is looked at, how much it weighs beside the others, its levels from 0 up.

    Raises ValueError for a part without a name, fewer than two levels, or a weight that is not above 0.
    """

    name: str
    weight: float
    levels: tuple[str, ...]

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("every part of a rubric has a name")
        if len(self.levels) < 2:
            raise ValueError(f"{self.name} has {len(self.levels)} level; a part has at least 2")
        if not (isfinite(self.weight) and self.weight > 0):
            raise ValueError(f"{self.name} weighs {self.weight}; a weight must be a finite number above 0")

    @property
    def top(self) -> int:
        """The highest level."""
        return len(self.levels) - 1


@dataclass(frozen=True)
class RubricScore:
    """score: 0 to 1. lines: one for each part, in order; their points sum to the score."""

    score: float
    lines: tuple[Line, ...]


def score_rubric(parts: Sequence[RubricPart], reached: Sequence[int]) -> RubricScore:
    """Mark by the level reached in each part, in the order of the parts.

    Raises ValueError if there is no part, not one level for each part, or a level that a part does not have.
    """
    if not parts:
        raise ValueError("a rubric has at least one part")
    if len(reached) != len(parts):
        raise ValueError(f"{len(reached)} levels for {len(parts)} parts: every part needs one")
    whole = fsum(part.weight for part in parts)
    lines = tuple(
        _line(place, part, level, part.weight / whole)
        for place, (part, level) in enumerate(zip(parts, reached, strict=True))
    )
    return RubricScore(min(1.0, fsum(line.points for line in lines)), lines)


def _line(place: int, part: RubricPart, level: int, share: float) -> Line:
    if isinstance(level, bool) or not 0 <= level <= part.top:
        raise ValueError(f"{part.name} has levels from 0 to {part.top}, not {level}")
    return Line(
        f"{part.name}: {level} of {part.top}. {part.levels[level]}",
        share * level / part.top,
        "rubric",
        entry=None,
        mark=None,
        available=share,
    )
