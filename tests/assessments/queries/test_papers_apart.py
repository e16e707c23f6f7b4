"""What is handed in to a paper stands in no list of sittings, answers or marks but the paper's own."""

from __future__ import annotations

import pytest

from assessments.actions.paper_results import end_paper, release_results
from assessments.models import Answer, Quiz, Sitting
from assessments.queries.answers import own_answers, reviewable_by, waiting_for
from assessments.queries.marks import marks_for_figures
from assessments.queries.mentoring import quizzes_to_sign_off
from assessments.queries.panels import sittings_for_panels
from assessments.queries.queue import in_queue
from assessments.queries.quizzes import quizzes_of, quizzes_without_place
from assessments.queries.second import answers_for_second
from assessments.queries.sittings import own_sittings
from assessments.queries.trainees import trainees_of
from tests import makers
from tests.makers.papers import make_candidate, make_paper_sitting, make_set_paper


@pytest.fixture
def paper(cast):
    """Handed in by a trainee of the mentor's, who has also answered in practice."""
    makers.make_mentorship(cast.mentor, cast.trainee)
    edition = makers.make_edition(cast.club)
    paper = make_set_paper(edition, cast.educator)
    make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator), right_ones=2)
    makers.make_sittings(
        makers.make_open_quiz(edition, cast.educator),
        [[makers.said(nothing_found=True)]],
        trainees=[cast.trainee],
    )
    return paper


def test_lists_of_practice_hold_nothing_of_it(cast, paper):
    practice = Quiz.objects.get(purpose="practice")
    assert (Sitting.objects.count(), Answer.objects.count()) == (2, 4)
    for answers in (
        waiting_for(cast.mentor),
        in_queue(cast.mentor),
        reviewable_by(cast.mentor),
        own_answers(cast.trainee),
        answers_for_second(cast.educator),
        answers_for_second(cast.mentor),
    ):
        assert [answer.sitting.quiz for answer in answers] == [practice]
    for sittings in (own_sittings(cast.trainee), sittings_for_panels(cast.club)):
        assert [sitting.quiz for sitting in sittings] == [practice]
    for quizzes in (quizzes_of(cast.club), quizzes_without_place(cast.club)):
        assert list(quizzes) == [practice]
    assert [mark.answer.sitting.quiz for mark in marks_for_figures(cast.trainee)] == [practice]
    (row,) = trainees_of(cast.mentor)
    assert (row.handed_in, row.mean_score) == (1, 0.0)


def test_it_can_be_signed_off_once_its_results_are_released(cast, paper):
    practice = Quiz.objects.get(purpose="practice")
    assert list(quizzes_to_sign_off(cast.trainee)) == [practice]
    end_paper(paper=paper)
    release_results(paper=paper, by=cast.educator.person)
    assert set(quizzes_to_sign_off(cast.trainee)) == {practice, paper.quiz}
