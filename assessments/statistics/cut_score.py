"""Where the pass mark stands, what it rests on, and what it says about one result."""

from dataclasses import dataclass
from math import inf, isfinite, isnan, nan, sqrt
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

# Livingston and Zieky (1982), Passing Scores: at least 5 judges (from memory).
PANELLISTS_FOR_CUT = 5
# Differences of decimal fractions are not exact: 0.75 − 0.70 is a hair more than 0.05.
ROUNDING = 1e-9


@dataclass(frozen=True)
class CutScore:
    """A pass mark as a fraction of the paper.

    standard_error: of `cut`, from the spread of the panel; NaN for one panellist.
    by_panellist: each panellist's own cut, in the order given. enough: whether the panel is large enough.
    """

    cut: float
    standard_error: float
    by_panellist: tuple[float, ...]
    enough: bool


def modified_angoff(estimates: ArrayLike) -> CutScore:
    """The modified Angoff cut: the mean over panellists of their mean estimate over items.

    estimates: panellists × items, each the probability (0 … 1) that a barely competent judge answers the
    item right. Raises ValueError for any other number, and for a missing one: cuts over different items
    cannot be compared.

    Source: Angoff (1971) in Thorndike (ed.), Educational Measurement, as defined by Shulruf, Wilkinson,
    Weller, Jones and Poole (2016), BMC Medical Education 16:134.
    """
    table = np.asarray(estimates, dtype=float)
    if table.ndim != 2 or table.size == 0:
        raise ValueError(f"estimates of shape {table.shape}: panellists × items are needed, at least 1 × 1")
    wrong = np.argwhere(~((table >= 0) & (table <= 1)))
    if wrong.size:
        panellist, item = wrong[0]
        raise ValueError(
            f"panellist {panellist + 1}, item {item + 1}: {table[panellist, item]:g} is not a probability; "
            "every panellist estimates every item from 0 to 1"
        )
    cuts = table.mean(axis=1)
    error = float(cuts.std(ddof=1)) / sqrt(cuts.size) if cuts.size > 1 else nan
    return CutScore(float(cuts.mean()), error, tuple(cuts.tolist()), cuts.size >= PANELLISTS_FOR_CUT)


def decide(score: float, cut: float, sem: float | None) -> Literal["pass", "refer", "borderline"]:
    """Pass from the cut on, refer below; borderline within one standard error of measurement of it.

    All three are fractions of the paper. With `sem` unknown (None or NaN) every result is borderline, for
    a person to look at. Raises ValueError for a score or cut outside 0 … 1 or a negative sem.
    """
    for name, value in (("score", score), ("cut", cut)):
        if not (isfinite(value) and 0 <= value <= 1):
            raise ValueError(f"{name} = {value}: must be a fraction of the paper, from 0 to 1")
    if sem is None or isnan(sem):
        sem = inf
    if sem < 0:
        raise ValueError(f"sem = {sem}: a standard error is not negative")
    if abs(score - cut) <= sem + ROUNDING:
        return "borderline"
    return "pass" if score > cut else "refer"
