import pytest

from assessments.scoring import DEFAULT_LADDER, SeverityLadder


def test_the_default_ladder():
    assert DEFAULT_LADDER.labels == ("Minor", "Moderate", "Serious", "Disqualifying")
    assert DEFAULT_LADDER.weights == (1, 2, 4, 8)
    assert [DEFAULT_LADDER.disqualifies(level) for level in (0, 1, 2, 3, None)] == [False] * 3 + [True, False]
    assert DEFAULT_LADDER.heaviest_fault == 4


def test_a_ladder_whose_top_does_not_disqualify():
    ladder = SeverityLadder(["Slight", "Marked"], [1, 3], disqualifying=False)
    assert not ladder.disqualifies(1)
    assert ladder.heaviest_fault == 3


@pytest.mark.parametrize(("given", "key", "agreement"), [(0, 0, 1), (0, 1, 2 / 3), (3, 1, 1 / 3), (3, 0, 0)])
def test_agreement_falls_evenly(given, key, agreement):
    assert DEFAULT_LADDER.agreement(given, key) == pytest.approx(agreement)
    assert DEFAULT_LADDER.agreement(key, given) == pytest.approx(agreement)


@pytest.mark.parametrize(
    ("labels", "weights", "message"),
    [
        (("Fault",), (1,), r"\('Fault',\) name 1 level; a ladder has at least 2"),
        (("Minor", " "), (1, 2), "label ' ' is empty"),
        (("Minor", None), (1, 2), "label None is empty"),
        (("Minor", "Minor"), (1, 2), "repeat a name"),
        (("Minor", "Major"), (1, 2, 3), "3 weights .* for 2 labels"),
        (("Minor", "Major"), (2, 2), r"\(2.0, 2.0\) must rise strictly"),
        (("Minor", "Major"), (2, 1), "must rise strictly"),
        (("Minor", "Major"), (0, 1), "finite number above 0"),
        (("Minor", "Major"), (1, float("nan")), "finite number above 0"),
        (("Minor", "Major"), (1, float("inf")), "finite number above 0"),
    ],
)
def test_refuses(labels, weights, message):
    with pytest.raises(ValueError, match=message):
        SeverityLadder(labels, weights)
