"""The severity ladder: a club's ordered levels, how much each weighs, and whether the top disqualifies."""

from dataclasses import dataclass
from math import isfinite


@dataclass(frozen=True)
class SeverityLadder:
    """A club's levels of severity, numbered from 0, lightest first.

    labels: what each level is called. weights: how much a fault of that level counts, strictly rising and
    above 0. disqualifying: whether the top level disqualifies. At least two levels.

    Raises ValueError for anything else.
    """

    labels: tuple[str, ...] = ("Minor", "Moderate", "Serious", "Disqualifying")
    weights: tuple[float, ...] = (1.0, 2.0, 4.0, 8.0)
    disqualifying: bool = True

    def __post_init__(self) -> None:
        object.__setattr__(self, "labels", tuple(self.labels))
        object.__setattr__(self, "weights", tuple(float(weight) for weight in self.weights))
        self._check_labels()
        self._check_weights()

    def _check_labels(self) -> None:
        if len(self.labels) < 2:
            raise ValueError(f"labels {self.labels} name {len(self.labels)} level; a ladder has at least 2")
        for label in self.labels:
            if not isinstance(label, str) or not label.strip():
                raise ValueError(f"label {label!r} is empty: every level of a ladder has a name")
        if len(set(self.labels)) < len(self.labels):
            raise ValueError(f"labels {self.labels} repeat a name: every level of a ladder has its own")

    def _check_weights(self) -> None:
        if len(self.weights) != len(self.labels):
            raise ValueError(
                f"{len(self.weights)} weights {self.weights} for {len(self.labels)} labels: "
                "every level of a ladder has one weight"
            )
        if not all(isfinite(weight) and weight > 0 for weight in self.weights):
            raise ValueError(f"weights {self.weights}: every weight must be a finite number above 0")
        if any(light >= heavy for light, heavy in zip(self.weights, self.weights[1:], strict=False)):
            raise ValueError(f"weights {self.weights} must rise strictly from each level to the next")

    def __len__(self) -> int:
        return len(self.labels)

    @property
    def top(self) -> int:
        """The number of the highest level."""
        return len(self.labels) - 1

    @property
    def heaviest_fault(self) -> float:
        """The weight of the highest level that does not disqualify."""
        return self.weights[self.top - 1 if self.disqualifying else self.top]

    def disqualifies(self, level: int | None) -> bool:
        """Whether a fault of this level puts the dog out of consideration."""
        return self.disqualifying and level == self.top

    def agreement(self, given: int, key: int) -> float:
        """1 for the same level, falling evenly to 0 at the two ends of the ladder.

        This is the linear agreement weight of weighted kappa (Cohen 1968; Fleiss, Cohen and Everitt 1969).
        """
        return 1 - abs(given - key) / self.top

    def check(self, level: int, whose: str) -> None:
        """Raise ValueError if the level is not on this ladder; `whose` begins the message."""
        if not 0 <= level <= self.top:
            raise ValueError(
                f"{whose} has level {level}, which is not on the ladder: its levels run from 0 to {self.top}"
            )


DEFAULT_LADDER = SeverityLadder()
