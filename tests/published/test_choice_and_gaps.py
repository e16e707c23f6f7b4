"""Options mapped to points, and the distance of two words, against what others print."""

from itertools import chain, combinations

import pytest

from assessments.scoring.choice import score_choice
from assessments.scoring.gaps import Gap, fill

# The example item of several choices in the IMS QTI implementation guides: which elements form water? Hydrogen
# and oxygen map to 1, chlorine to −1; bounds 0 and 2 (from memory).
MAPPED = {"H": 1, "O": 1, "Cl": -1}


@pytest.mark.parametrize(
    "chosen", [*chain.from_iterable(combinations(MAPPED, size) for size in range(len(MAPPED) + 1))]
)
def test_mapped_responses(chosen):
    expected = min(max(sum(MAPPED[option] for option in chosen), 0), 2) / 2
    found = score_choice({name: name for name in MAPPED}, ["H", "O"], chosen, several=True)
    assert found.score == pytest.approx(expected)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("absorbant", "absorbent"),
        ("absorent", "absorbent"),
        ("absorbbent", "absorbent"),
        ("abosrbent", "absorbent"),
    ],
)
def test_the_four_kinds_of_slip(written, meant):
    """One letter wrong, missing, extra, or two neighbours changed over: the four classes of F. J. Damerau, A
    technique for computer detection and correction of spelling errors, Communications of the ACM 7 (3), 1964;
    the words are ours."""
    assert fill(Gap(meant), written).how == "slip"
