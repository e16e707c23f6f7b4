"""How one answer is marked. Nothing here reads a database or a clock: the same answer always gets the
same mark, and everything can be checked by hand.

**Severity** (`severity`). A club's ladder has levels in order, each with a weight: by default Minor 1,
Moderate 2, Serious 4, Disqualifying 8. A fault counts by the weight of its level.

**Faults marked on an exhibit** (`fault_marks`). The key says where each fault is, what it is and how severe
it is. A trainee's pin earns, of the fault's weight,

- 40 % for seeing it: the pin is in the region. Just outside it earns less, evenly down to nothing at the
  tolerance, and the two other parts shrink with it;
- 35 % for naming it: the key's fault; part of that for a name the panel accepts too, and half for another
  fault of the same clause;
- 25 % for weighing it: the key's level; each level away costs an equal step down to nothing at the far end
  of the ladder. A fault that was not recognised cannot be weighed.

Each pin serves one fault and each fault one pin, so that the sum is greatest. A pin that only says the same
again costs nothing, but of several weighings the furthest from the key counts. Every other pin calls a fault
where there is none and costs 25 % of its weight. The sum over the weight of all faults in the key is the
score, not below 0. Being wrong about a disqualification limits it to half. On a sound exhibit finding
nothing scores 1, and each fault called takes away its weight, out of the heaviest level that does not
disqualify. A blank scores 0 and counts as not answered.

Worked by hand: the key has an upright shoulder, Serious (4), and a roached back, Moderate (2). Both are
found and named; the shoulder is weighed Moderate, one level of three light, so it earns
4 × (0.40 + 0.35 + 0.25 × 2/3) = 3.667, and the back earns 2: 5.667 of 6 is 0.944.

Virtues are marked by the same rules without weighing: 55 % for seeing, 45 % for naming. A virtue counts by
the severity of the fault that is its opposite; none disqualifies.

**A shown fault, weighed** (`shown_fault`). Only the severity is asked: the same agreement with the key's
level, and the same limit for being wrong about a disqualification.

**Anatomical points** (`points`). Each counts alike, by its distance from the middle of those who placed the
key: whole as far as the furthest of them, nothing 5 % of the height at the withers further out.

Every score carries its lines (`explanation`), which sum to it; `ledger` rounds them so that what is shown
adds up too.

**Placing a class** (`placing`). Between neighbours in the official placing stand cuts, the size of the gap.
Each pair that the trainee has the wrong way round loses the cuts between the two, from 50 points for a
class of four. Beside it stand findings (`class_marks`): faults named for each exhibit, marked by the
name alone; both have a sheet and a mark of their own, and the item says what each counts.

**Which of the pair** (`pair`). The better exhibit earns 60 %, the clause by which it is the better 40 %; with the
wrong exhibit no clause counts.

**Choosing one or several** (`choice`). One: all or nothing. Several: each right one chosen earns a share, each
wrong one takes as much away, not below 0.

**Words in the gaps of a clause** (`gaps`). Each gap counts alike; capitals and punctuation do not, and one slip
of the pen in a longer word still earns 75 %.

**A key from a panel** (`consensus`). What two thirds of the panel marked enters the key, where at least half
of those who marked it agree, at the lower middle of their levels; and it is said how well the panel agrees. For
a class (`class_consensus`) the panel places each alone: the mean places make the order, the lower middle of how far
apart they hold two neighbours makes the cut. What one of them marked is matched to the key in use in the same way
(`beside_key`), and whoever called it otherwise at its place has seen it.
"""

from .consensus import Consensus, PanelGroup, build_consensus
from .explanation import Line, rules_in_words
from .fault_marks import (
    DEFAULT_RULES,
    VIRTUE_RULES,
    FaultKey,
    FaultMark,
    FaultMarkScore,
    KeyEntry,
    MarkingRules,
    Match,
    score_fault_marks,
    score_many,
)
from .ledger import Ledger, LedgerGroup, LedgerRow, round_to_total, set_out
from .placing import PlacingScore, check_cuts, rank_agreement, score_placing
from .severity import DEFAULT_LADDER, SeverityLadder

__all__ = [
    "DEFAULT_LADDER",
    "DEFAULT_RULES",
    "VIRTUE_RULES",
    "Consensus",
    "FaultKey",
    "FaultMark",
    "FaultMarkScore",
    "KeyEntry",
    "Ledger",
    "LedgerGroup",
    "LedgerRow",
    "Line",
    "MarkingRules",
    "Match",
    "PanelGroup",
    "PlacingScore",
    "SeverityLadder",
    "build_consensus",
    "check_cuts",
    "rank_agreement",
    "round_to_total",
    "rules_in_words",
    "score_fault_marks",
    "score_many",
    "score_placing",
    "set_out",
]
