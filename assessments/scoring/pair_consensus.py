"""Which of two exhibits a panel holds the better, and by which clause."""

from collections import Counter
from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from itertools import combinations

from .consensus import NOISE, QUORUM, Fit, by_number, fit_for


@dataclass(frozen=True)
class PairConsensus:
    """What a panel agrees on.

    exhibit: the one that at least two thirds chose, else None. clause: of those who chose it the most frequent,
    the lowest number among equals. agreement: Bennett's S; None of one panellist. fit: what that makes of the key.
    """

    exhibit: Hashable | None
    clause: str | None
    agreement: float | None
    fit: Fit


def build_pair_consensus(panel: Mapping[Hashable, tuple[Hashable, str]]) -> PairConsensus:
    """The consensus of what each panellist chose: an exhibit and the number of a clause.

    Agreement is the share of the pairs of panellists who chose the same exhibit, corrected for what tossing a coin
    would give: S = 2 · share − 1 (E. M. Bennett, R. Alpert, A. C. Goldstein, Communications through limited-response
    questioning, Public Opinion Quarterly 18 (3), 1954; from memory). Raises ValueError for an empty panel and for
    more than two exhibits.
    """
    chosen = [exhibit for exhibit, _clause in panel.values()]
    if not chosen:
        raise ValueError("panel {} is empty: a consensus needs at least one panellist")
    if len(set(chosen)) > 2:
        raise ValueError(f"the panel chose {len(set(chosen))} exhibits; a pair has two")
    exhibit, votes = Counter(chosen).most_common(1)[0]
    better = exhibit if votes >= QUORUM * len(chosen) - NOISE else None
    counts = Counter(clause for each, clause in panel.values() if each == better)
    clause = min(counts, key=lambda number: (-counts[number], by_number(number)), default=None)
    agreement = None
    if len(chosen) > 1:
        same = [first == second for first, second in combinations(chosen, 2)]
        agreement = 2 * sum(same) / len(same) - 1
    return PairConsensus(better, clause, agreement, fit_for(agreement, len(chosen)))
