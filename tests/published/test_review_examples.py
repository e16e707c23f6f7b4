"""Review dates beside the published history of the model they come from."""

from datetime import UTC, datetime, timedelta

import pytest

from assessments.statistics.progress import first_review, next_review

# A score that stands for each of the four grades of the model.
SCORES = {1: 0.2, 2: 0.6, 3: 0.8, 4: 0.95}
START = datetime(2022, 11, 29, 12, 30, tzinfo=UTC)


def test_intervals_of_thirteen_answers_each_given_when_due():
    # T10-D-02. py-fsrs 6.3.1 test suite (J. Ye, J. Hamilton), tests/test_basic.py; default weights.
    review, at, days = first_review(1, START), START, []
    for grade in [3, 3, 3, 3, 3, 3, 1, 1, 3, 3, 3, 3, 3]:
        review = next_review(review, SCORES[grade], at)
        days.append((review.due - at).days)
        at = review.due
    assert days == [0, 2, 11, 46, 163, 498, 0, 0, 2, 4, 7, 12, 21]


def test_memory_after_six_answers():
    # T10-D-03. The same test suite.
    review, at = first_review(1, START), START
    for grade, wait in zip([1, 3, 3, 3, 3, 3], [0, 0, 1, 3, 8, 21], strict=True):
        at += timedelta(days=wait)
        review = next_review(review, SCORES[grade], at)
    assert review.stability == pytest.approx(53.62691, abs=1e-4)
    assert review.difficulty == pytest.approx(6.3574867, abs=1e-4)
