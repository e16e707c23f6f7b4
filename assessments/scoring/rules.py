"""The rules of marking as data: they belong to a quiz, are versioned with it, and are shown beforehand."""

from dataclasses import dataclass
from math import isclose, isfinite
from typing import Literal

from .severity import SeverityLadder


@dataclass(frozen=True)
class MarkingRules:
    """How one answer is marked.

    see, name, weigh: the shares of a fault's points for seeing, naming and weighing it; together 1.
    tolerance: how far outside a region a pin still earns part of the credit, in units of the picture's
    longer side. false_alarm: the share of its weight that a fault called where there is none costs.
    disqualifying_cap: the highest score of an answer that is wrong about a disqualification.
    unweighed_level: the level as which a mark without one counts when it is a false alarm.
    sought: what is looked for, for the words of the explanation.

    Raises ValueError for shares outside 0 to 1 or not summing to 1, a tolerance that is not above 0, a
    negative cost, a cap outside 0 to 1, or a level below 0.
    """

    see: float = 0.40
    name: float = 0.35
    weigh: float = 0.25
    tolerance: float = 0.05
    false_alarm: float = 0.25
    disqualifying_cap: float = 0.50
    unweighed_level: int = 1
    sought: Literal["fault", "virtue"] = "fault"

    def __post_init__(self) -> None:
        for part in ("see", "name", "weigh", "disqualifying_cap"):
            if not 0 <= getattr(self, part) <= 1:
                raise ValueError(f"{part} is {getattr(self, part)}; it must lie between 0 and 1")
        together = self.see + self.name + self.weigh
        if not isclose(together, 1, rel_tol=0, abs_tol=1e-9):
            raise ValueError(
                f"see {self.see}, name {self.name} and weigh {self.weigh} sum to {together:g}; "
                "they must sum to 1"
            )
        if not (isfinite(self.tolerance) and self.tolerance > 0):
            raise ValueError(f"tolerance is {self.tolerance}; it must be a finite number above 0")
        if not (isfinite(self.false_alarm) and self.false_alarm >= 0):
            raise ValueError(f"false_alarm is {self.false_alarm}; it must be a finite number, not below 0")
        if isinstance(self.unweighed_level, bool) or not isinstance(self.unweighed_level, int):
            raise ValueError(f"unweighed_level is {self.unweighed_level!r}; it must be a whole number")
        if self.sought not in ("fault", "virtue"):
            raise ValueError(f"sought is {self.sought!r}; it must be 'fault' or 'virtue'")

    def check(self, ladder: SeverityLadder) -> None:
        """Raise ValueError unless `unweighed_level` is on the ladder and does not disqualify."""
        ladder.check(self.unweighed_level, "unweighed_level")
        if ladder.disqualifies(self.unweighed_level):
            raise ValueError(
                f"unweighed_level {self.unweighed_level} is {ladder.labels[self.unweighed_level]}, which "
                "disqualifies; a mark without a level must count as one that does not"
            )


DEFAULT_RULES = MarkingRules()
VIRTUE_RULES = MarkingRules(see=0.55, name=0.45, weigh=0.0, sought="virtue")
