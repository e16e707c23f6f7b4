from statistics import mean, stdev

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from assessments.statistics.drills import Staircase


def after(stair, answers):
    """Answers as a string: r right, w wrong."""
    for answer in answers:
        stair = stair.answer(answer == "r")
    return stair


def levels(stair, answers):
    shown = []
    for answer in answers:
        shown.append(stair.level)
        stair = after(stair, answer)
    return [*shown, stair.level]


class TestLevels:
    STAIR = Staircase(start=10, step=2, floor=0, ceiling=20)

    def test_three_right_in_a_row_make_it_harder(self):
        assert levels(self.STAIR, "rrrrrr") == [10, 10, 10, 8, 8, 8, 6]

    def test_one_wrong_makes_it_easier_and_starts_the_row_anew(self):
        assert levels(self.STAIR, "rrwrrr") == [10, 10, 10, 12, 12, 12, 10]

    def test_two_down(self):
        assert levels(Staircase(10, 2, 0, 20, down=2), "rrrr") == [10, 10, 8, 8, 6]

    def test_step_halves_once_after_the_second_reversal(self):
        # down to 8, back up at 8 (first reversal) to 10, down again at 10 (second) by half a step, and on.
        stair = after(self.STAIR, "rrrwrrr")
        assert (stair.turns, stair.level) == ((8, 10), 9)
        assert after(stair, "wwrrrrrr").turns == (8, 10, 9, 11)
        assert after(stair, "wwrrrrrr").level == 9

    def test_stays_between_floor_and_ceiling(self):
        assert levels(Staircase(3, 2, 0, 4), "w" * 3) == [3, 4, 4, 4]
        assert levels(Staircase(1, 2, 0, 4), "r" * 6) == [1, 1, 1, 0, 0, 0, 0]

    def test_is_what_its_settings_and_answers_are(self):
        stair = after(self.STAIR, "rrrwrw")
        stored = Staircase(10, 2, 0, 20, answers=stair.answers)
        assert stored == stair
        assert stored.level == stair.level


class TestEnd:
    STAIR = Staircase(start=10, step=2, floor=0, ceiling=20, down=2, reversals=6)
    # Turns at 8, 10, then by half steps 9, 11, 9, 11.
    ANSWERS = "rrw" + "rrww" + "rrrrww" + "rr"

    def test_threshold_is_the_mean_of_the_last_six_reversals(self):
        stair = after(self.STAIR, self.ANSWERS)
        assert stair.done
        assert stair.threshold is not None
        assert stair.turns == (8, 10, 9, 11, 9, 11)
        assert stair.threshold.value == pytest.approx(mean(stair.turns))
        assert stair.threshold.standard_error == pytest.approx(stdev(stair.turns) / 6**0.5)
        assert stair.enough

    def test_earlier_reversals_lead_the_way_only(self):
        stair = after(Staircase(10, 2, 0, 20, down=2, reversals=8), self.ANSWERS + "wrr")
        assert stair.turns[2:] == (9, 11, 9, 11, 10, 11)
        assert stair.threshold is not None
        assert stair.threshold.value == pytest.approx(mean(stair.turns[2:]))

    def test_none_before_the_end(self):
        stair = after(self.STAIR, self.ANSWERS[:-1])
        assert (stair.done, stair.threshold, stair.enough) == (False, None, False)

    def test_an_answer_after_the_end_changes_nothing(self):
        stair = after(self.STAIR, self.ANSWERS)
        assert after(stair, "wrw") == stair

    def test_an_eye_finer_than_the_drill_ends_at_the_floor_without_a_threshold(self):
        stair = after(self.STAIR, "r" * 100)
        assert (stair.done, stair.held_at, stair.threshold, stair.enough) == (True, "floor", None, False)
        assert len(stair.answers) == 18
        assert stair.likely_range[0] == 0

    def test_an_eye_that_cannot_tell_the_largest_ends_at_the_ceiling(self):
        stair = after(self.STAIR, "w" * 100)
        assert (stair.done, stair.held_at, stair.threshold) == (True, "ceiling", None)
        assert stair.likely_range[1] > 19

    def test_reversals_at_the_floor_are_not_enough(self):
        stair = after(Staircase(1, 2, 0, 20, down=2, reversals=6), "rrw" * 20)
        assert stair.threshold is not None
        assert 0 in stair.turns
        assert not stair.enough


@pytest.mark.parametrize(("down", "target"), [(2, 0.707), (3, 0.794)])
def test_target_is_levitts(down, target):
    # Levitt (1971), Table I: 70.7 % and 79.4 %.
    assert Staircase(10, 1, 0, 20, down=down).target == pytest.approx(target, abs=5e-4)


MIDDLE, SPREAD = 8.0, 3.0


def share_right(level):
    """An eye that guesses half of what it cannot tell."""
    return 0.5 + 0.5 * ndtr((level - MIDDLE) / SPREAD)


def drilled(seed, down, reversals, step=1.0):
    """A whole drill of that eye."""
    chance = np.random.default_rng(seed)
    stair = Staircase(start=12, step=step, floor=0, ceiling=30, down=down, reversals=reversals)
    while not stair.done:
        stair = stair.answer(chance.random() < share_right(stair.level))
    return stair


@pytest.mark.parametrize(("down", "percent"), [(3, 0.794), (2, 0.707)])
def test_long_drills_converge_on_levitts_percentages(down, percent):
    # Levitt (1971), Journal of the Acoustical Society of America 49:467–477.
    found = [drilled(seed, down, reversals=30).threshold for seed in range(200)]
    assert share_right(mean(one.value for one in found)) == pytest.approx(percent, abs=0.015)


@pytest.mark.parametrize(("down", "percent"), [(3, 0.794), (2, 0.707)])
def test_drills_of_the_usual_length_come_near_them(down, percent):
    found = [drilled(seed, down, reversals=8, step=4.0).threshold for seed in range(300)]
    shares = [share_right(one.value) for one in found if one]
    assert len(shares) > 295
    assert mean(shares) == pytest.approx(percent, abs=0.03)


@pytest.mark.parametrize("down", [3, 2])
@pytest.mark.parametrize("step", [1.0, 4.0])
def test_likely_range_holds_the_true_difference_nine_times_in_ten(down, step):
    stairs = [drilled(seed, down, reversals=8, step=step) for seed in range(200)]
    true = MIDDLE + SPREAD * ndtri(2 * stairs[0].target - 1)
    ranges = [stair.likely_range for stair in stairs]
    held = sum(bool(low <= true <= high) for low, high in ranges)
    assert 0.86 <= held / len(ranges) <= 0.98
    assert mean(high - low for low, high in ranges) < 10


def test_likely_range_before_the_first_answer_is_nearly_everything():
    assert Staircase(10, 2, 0, 20).likely_range == pytest.approx((1, 19))


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"step": 0}, "step = 0: must be above 0"),
        ({"step": float("nan")}, "finite numbers"),
        ({"floor": 20}, "floor = 20: must be below the ceiling, 20"),
        ({"start": 21}, "start = 21: must lie from 0 to 20"),
        ({"start": -1}, "start = -1"),
        ({"down": 1}, "down = 1: must be at least 2"),
        ({"reversals": 5}, "reversals = 5: the threshold is the mean of 6"),
    ],
)
def test_refuses(changed, message):
    with pytest.raises(ValueError, match=message):
        Staircase(**{"start": 10, "step": 2, "floor": 0, "ceiling": 20, **changed})
