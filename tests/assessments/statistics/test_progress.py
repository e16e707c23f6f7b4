import json
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from assessments.statistics.progress import (
    PartScore,
    Review,
    estimate,
    estimates,
    first_review,
    next_review,
)

NaN = float("nan")
MONDAY = datetime(2031, 3, 3, 9, 0, tzinfo=UTC)


class TestEstimate:
    def test_before_the_first_answer_every_share_is_as_likely(self):
        found = estimate([])
        assert (found.mean, found.n, found.enough) == (0.5, 0, False)
        assert (found.low, found.high) == pytest.approx((0.05, 0.95))

    @pytest.mark.parametrize("n", [1, 5, 12, 30])
    def test_all_right_by_the_closed_form(self, n):
        # Beta(1 + n, 1) has the distribution function x^(n + 1).
        found = estimate([1] * n)
        assert found.mean == pytest.approx((n + 1) / (n + 2))
        assert (found.low, found.high) == pytest.approx((0.05 ** (1 / (n + 1)), 0.95 ** (1 / (n + 1))))

    def test_interval_holds_90_percent_of_the_density(self):
        scores = [0.3, 0.9, 1, 0, 0.5, 1, 1]
        found = estimate(scores)
        right, n = sum(scores), len(scores)

        def density(share):
            return share**right * (1 - share) ** (n - right)

        whole = quad(density, 0, 1)[0]
        assert quad(density, 0, found.low)[0] / whole == pytest.approx(0.05, abs=1e-6)
        assert quad(density, found.high, 1)[0] / whole == pytest.approx(0.05, abs=1e-6)
        assert found.mean == pytest.approx((1 + right) / (2 + n))

    def test_only_the_last_thirty_count(self):
        assert estimate([0] * 50 + [1] * 30) == estimate([1] * 30)

    def test_parts_not_asked_are_passed_over(self):
        assert estimate([None, 1, NaN, 0.5]) == estimate([1, 0.5])
        assert estimate([1] * 30 + [None] * 30).n == 30

    def test_enough_once_the_interval_is_narrow(self):
        def first_enough(scores):
            return next(n for n in range(31) if estimate(scores[:n]).enough)

        assert first_enough([1] * 30) == 6
        assert first_enough([0, 1] * 15) == 20

    @given(st.lists(st.floats(0, 1), max_size=40))
    def test_mean_lies_inside_and_enough_says_what_it_says(self, scores):
        found = estimate(scores)
        assert 0 <= found.low < found.mean < found.high <= 1
        assert found.enough == (found.high - found.low <= 0.35)

    @pytest.mark.parametrize("score", [-0.1, 1.1, float("inf")])
    def test_refuses_a_score_outside_0_to_1(self, score):
        with pytest.raises(ValueError, match=f"score = {score}: must be from 0 to 1"):
            estimate([score])


def test_each_zone_and_part_has_its_own_estimate():
    scores = [
        PartScore("topline", "see", 1),
        PartScore("topline", "weigh", 0.5),
        PartScore("tail", "see", 0),
        PartScore("topline", "see", 0),
        PartScore("tail", "weigh", None),
    ]
    assert estimates(scores) == {
        ("topline", "see"): estimate([1, 0]),
        ("topline", "weigh"): estimate([0.5]),
        ("tail", "see"): estimate([0]),
        ("tail", "weigh"): estimate([]),
    }


class TestReview:
    def answered(self, *scores):
        review, at = first_review(7, MONDAY), MONDAY
        for score in scores:
            review = next_review(review, score, at)
            at = review.due
        return review

    def test_first_is_due_when_asked_for(self):
        assert first_review(7, MONDAY) == Review(7, MONDAY, "learning", 0, None, None, None)

    def test_identity_and_moment_come_from_outside(self):
        review = next_review(first_review(7, MONDAY), 0.8, MONDAY + timedelta(hours=5))
        assert (review.identity, review.last) == (7, MONDAY + timedelta(hours=5))

    def test_the_same_answers_always_give_the_same_dates(self):
        assert self.answered(*[0.8] * 6) == self.answered(*[0.8] * 6)

    def test_better_scores_come_again_later(self):
        due = [self.answered(0.95, 0.95, score).due for score in (0.49, 0.69, 0.89, 1)]
        assert due == sorted(set(due))

    @pytest.mark.parametrize(
        ("lower", "limit"), [(0.4999, 0.5), (0.6999, 0.7), (0.8999, 0.9)], ids=["half", "0.7", "0.9"]
    )
    def test_limits_between_scores(self, lower, limit):
        assert self.answered(0.95, lower) != self.answered(0.95, limit)
        assert self.answered(0.95, limit) == self.answered(0.95, limit + 0.05)

    def test_forgetting_brings_it_back_the_same_day(self):
        review = self.answered(0.95, 0.95, 0)
        assert review.stage == "relearning"
        assert review.last is not None
        assert review.due - review.last < timedelta(days=1)

    @pytest.mark.parametrize("scores", [(), (0.8,), (0.8, 0.8), (0.95, 0.95, 0.1), (0.6, 0.3, 0.95, 0.95)])
    def test_round_trip_through_json(self, scores):
        review = self.answered(*scores)
        again = Review.from_dict(json.loads(json.dumps(review.to_dict())))
        assert again == review
        assert next_review(again, 0.8, review.due) == next_review(review, 0.8, review.due)

    def test_moments_in_other_time_zones_are_the_same_moments(self):
        east = timezone(timedelta(hours=9))
        local = next_review(first_review(7, MONDAY.astimezone(east)), 0.8, MONDAY.astimezone(east))
        assert local == next_review(first_review(7, MONDAY), 0.8, MONDAY)
        assert local.due.tzinfo is UTC

    def test_nothing_of_the_scheduler_leaks_out(self):
        review = self.answered(0.95, 0.1)
        assert {type(value).__module__ for value in vars(review).values()} == {"builtins", "datetime"}

    def test_refuses_a_moment_without_time_zone(self):
        naive = datetime(2031, 3, 3)
        with pytest.raises(ValueError, match="due = 2031-03-03T00:00:00: a moment needs a time zone"):
            first_review(7, naive)
        with pytest.raises(ValueError, match="at = 2031"):
            next_review(first_review(7, MONDAY), 0.8, naive)

    def test_refuses_an_answer_before_the_last(self):
        review = next_review(first_review(7, MONDAY), 0.8, MONDAY)
        with pytest.raises(ValueError, match="the last answer was later"):
            next_review(review, 0.8, MONDAY - timedelta(seconds=1))

    @pytest.mark.parametrize("score", [-0.1, 1.1, NaN])
    def test_refuses_a_score_outside_0_to_1(self, score):
        with pytest.raises(ValueError, match=f"score = {score}"):
            next_review(first_review(7, MONDAY), score, MONDAY)

    def test_refuses_an_unknown_stage(self):
        stored = {**first_review(7, MONDAY).to_dict(), "stage": "asleep"}
        with pytest.raises(ValueError, match="stage = 'asleep': must be one of learning, review, relearning"):
            Review.from_dict(stored)
