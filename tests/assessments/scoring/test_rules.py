import pytest

from assessments.scoring import VIRTUE_RULES, FaultKey, KeyEntry, MarkingRules, SeverityLadder, score_many
from assessments.scoring.explanation import rules_in_words

from .exhibits import LADDER, SHOULDER, SOUND


def test_the_defaults():
    rules = MarkingRules()
    assert (rules.see, rules.name, rules.weigh) == (0.40, 0.35, 0.25)
    assert (rules.tolerance, rules.false_alarm, rules.disqualifying_cap) == (0.05, 0.25, 0.50)
    assert rules.unweighed_level == 1
    assert (VIRTUE_RULES.see, VIRTUE_RULES.name, VIRTUE_RULES.weigh) == (0.55, 0.45, 0)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"see": 0.5}, r"sum to 1.1; they must sum to 1"),
        ({"see": 1.4, "name": -0.65}, "see is 1.4; it must lie between 0 and 1"),
        ({"name": float("nan")}, "name is nan"),
        ({"tolerance": 0}, "tolerance is 0; it must be a finite number above 0"),
        ({"tolerance": float("inf")}, "tolerance is inf"),
        ({"false_alarm": -0.1}, "false_alarm is -0.1"),
        ({"false_alarm": float("nan")}, "false_alarm is nan"),
        ({"disqualifying_cap": 1.01}, "disqualifying_cap is 1.01"),
        ({"unweighed_level": 0.5}, "unweighed_level is 0.5; it must be a whole number"),
        ({"sought": "flaw"}, "sought is 'flaw'"),
    ],
)
def test_refuses(change, message):
    with pytest.raises(ValueError, match=message):
        MarkingRules(**change)


@pytest.mark.parametrize(
    ("level", "message"),
    [
        (3, "unweighed_level 3 is Disqualifying, which disqualifies"),
        (4, "not on the ladder"),
        (-1, "from 0 to 3"),
    ],
)
def test_the_unweighed_level_must_fit_the_ladder(level, message):
    with pytest.raises(ValueError, match=message):
        score_many(SOUND, [], LADDER, MarkingRules(unweighed_level=level))


def test_the_default_rules_do_not_fit_two_levels_of_which_one_disqualifies():
    ladder = SeverityLadder(("Fault", "Disqualifying"), (1, 8))
    with pytest.raises(ValueError, match="unweighed_level 1 is Disqualifying"):
        score_many(SOUND, [], ladder)


def test_the_key_must_fit_the_ladder():
    key = FaultKey([SHOULDER, KeyEntry(None, "too long", "2.1", "whole", 4)])
    with pytest.raises(ValueError, match=r"entry 1 of the key \(too long\) has level 4.*run from 0 to 3"):
        score_many(key, [], LADDER)


def test_the_rules_in_words():
    words = " ".join(rules_in_words(MarkingRules(), LADDER))
    for figure in ("Serious 4", "40 % for seeing", "35 % for naming", "25 % for weighing", "from 5 % of"):
        assert figure in words
    assert "costs 33.3 % of the weighing" in words
    assert "costs 25 % of its weight" in words
    assert "counts as Moderate" in words
    assert "at most 50 of 100" in words


def test_the_rules_of_virtues_do_not_speak_of_weighing_or_faults():
    ladder = SeverityLadder(("Counts", "Counts double"), (1, 2), disqualifying=False)
    words = " ".join(rules_in_words(VIRTUE_RULES, ladder))
    assert "55 % for seeing it and 45 % for naming it" in words
    for word in ("weigh it", "weighing", "fault", "Disqualifying"):
        assert word not in words
    assert "counts by the severity of its opposite, as the key settles it: Counts 1, Counts double 2" in words
    assert "A virtue called where there is none costs 25 % of the weight of Counts double." in words
