"""Which of two exhibits is the better, and by which clause.

The choice of exhibit comes first: who sees the wrong one cannot have the reason. A reason alone earns nothing.
"""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field

from .explanation import Line, of_hundred, per_cent


@dataclass(frozen=True)
class PairRules:
    """What the parts count: exhibit and clause together 1. Raises ValueError where they are not, or below 0."""

    exhibit: float = 0.60
    clause: float = 0.40

    def __post_init__(self) -> None:
        if not (self.exhibit >= 0 and self.clause >= 0 and abs(self.exhibit + self.clause - 1) < 1e-9):
            raise ValueError(
                f"exhibit {self.exhibit} and clause {self.clause} must be 0 or more and sum to 1"
            )


@dataclass(frozen=True)
class PairKey:
    """The right one of the two, the clause by which it is, and other clauses accepted with their credit.

    Raises ValueError for a credit outside 0 to 1.
    """

    exhibit: Hashable
    clause: str
    also: Mapping[str, float] = field(default_factory=dict, hash=False)

    def __post_init__(self) -> None:
        for clause, credit in self.also.items():
            if not 0 <= credit <= 1:
                raise ValueError(f"credit {credit} for clause {clause} must be a number from 0 to 1")

    def credit(self, clause: str | None) -> float:
        """How far a clause is the reason: 1 the key's, else what it is accepted with, else 0."""
        if clause is None:
            return 0.0
        return 1.0 if clause == self.clause else self.also.get(clause, 0.0)


@dataclass(frozen=True)
class PairScore:
    """How one answer was marked. right: whether the exhibit is; clause: the credit of the clause, 0 to 1.

    answered: False where no exhibit was chosen. lines sum to the score.
    """

    score: float
    right: bool
    clause: float
    answered: bool
    lines: tuple[Line, ...] = field(repr=False)


def score_pair(
    key: PairKey, exhibit: Hashable | None, clause: str | None, rules: PairRules | None = None
) -> PairScore:
    """Mark the exhibit and the clause chosen; None is what was left open."""
    rules = rules or PairRules()
    if exhibit is None:
        blank = Line("Neither exhibit was chosen", 0.0, "unanswered", available=1.0)
        return PairScore(0.0, False, 0.0, False, (blank,))
    right = exhibit == key.exhibit
    credit = key.credit(clause)
    counted = credit if right else 0.0
    lines = (
        Line(
            "The better of the two" if right else "The other of the two is the better",
            rules.exhibit if right else 0.0,
            "chosen",
            available=rules.exhibit,
        ),
        Line(
            _clause_words(key, clause, credit, right),
            rules.clause * counted,
            "clause",
            available=rules.clause,
        ),
    )
    return PairScore(sum(line.points for line in lines), right, credit, True, lines)


def _clause_words(key: PairKey, clause: str | None, credit: float, right: bool) -> str:
    if clause is None:
        return f"No clause given; the key has {key.clause}"
    if credit and not right:
        return f"Clause {clause}, which cannot count for the wrong exhibit"
    if clause == key.clause:
        return f"Clause {clause}, as the key has it"
    if credit:
        return f"Clause {clause}, which counts {per_cent(credit)}; the key has {key.clause}"
    return f"Clause {clause}; the key has {key.clause}"


def pair_in_words(rules: PairRules | None = None) -> tuple[str, ...]:
    """The rules as sentences that a trainee can read before answering."""
    rules = rules or PairRules()
    return (
        f"Of two exhibits, choosing the better earns {of_hundred(rules.exhibit)}, the clause by which it is "
        f"the better {of_hundred(rules.clause)}.",
        "Another clause that the key accepts earns part of that. With the wrong exhibit no clause counts.",
    )
