"""Results of a paper: marks sealed until the release, decisions by the stored pass mark and standard error."""

from __future__ import annotations

import pytest
from django.utils import timezone

from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.marking import remark
from assessments.actions.paper_results import end_paper, release_results, settle_result
from assessments.actions.paper_sittings import hand_in_paper
from assessments.models import Mark, Notice, PaperResult
from assessments.queries.paper_results import outcomes_of
from assessments.queries.papers import earlier_attempts
from assessments.rules import NotReady, Refused
from assessments.statistics.cut_score import decide
from assessments.statistics.item_analysis import analyse
from courses.models import Exhibit
from tests import makers
from tests.makers.papers import (
    DAY,
    give,
    make_bank,
    make_candidate,
    make_paper_sitting,
    make_regulations,
    make_set_paper,
    right,
    wrong,
)

RIGHT = [6, 5, 5, 4, 4, 2, 0]


@pytest.fixture
def edition(cast):
    edition = makers.make_edition(cast.club)
    make_bank(edition, cast.educator, 3, 2, 2)
    return edition


@pytest.fixture
def paper(cast, edition):
    """Six items, sat by seven candidates of whom each had so many right."""
    paper = make_set_paper(edition, cast.educator, shoulders=2, backs=2, sound=2)
    for n, right_ones in enumerate(RIGHT):
        trainee = makers.make_trainee(cast.club, f"Trainee {n}")
        make_paper_sitting(make_candidate(paper, trainee, cast.educator), right_ones)
    return paper


def test_decisions_rest_on_the_pass_mark_and_the_standard_error_of_the_paper(cast, paper):
    outcomes = sorted(outcomes_of(paper), key=lambda each: -each.score)
    assert [round(each.score * 6, 6) for each in outcomes] == RIGHT
    items = list(paper.quiz.items.values_list("pk", flat=True))
    scores = dict.fromkeys([])
    for mark in Mark.objects.select_related("answer"):
        scores.setdefault(mark.answer.sitting_id, {})[mark.answer.item_id] = mark.score
    sem = analyse([[given[item] for item in items] for given in scores.values()]).sem
    assert all(each.sem == pytest.approx(sem) for each in outcomes)
    assert [each.decision for each in outcomes] == [decide(n / 6, 0.75, sem) for n in RIGHT]
    assert {each.decision for each in outcomes} == {"pass", "borderline", "refer"}


def test_nothing_is_told_before_the_release_and_only_the_result_then(cast, paper):
    assert not Notice.objects.exists()
    end_paper(paper=paper)
    made = release_results(paper=paper, by=cast.educator.person)
    assert len(made) == Notice.objects.count() == len(RIGHT)
    assert {notice.text for notice in Notice.objects.all()} == {
        "The result of “Paper of the spring” is released."
    }
    paper.refresh_from_db()
    assert (paper.released_by, paper.quiz.state) == (cast.educator.person, "closed")
    assert {(result.pass_mark, result.sem) for result in made} == {(0.75, made[0].sem)}
    assert release_results(paper=paper, by=cast.educator.person) == []


def test_the_release_waits_for_whoever_is_sitting_or_may_still_begin(cast, paper):
    late = make_candidate(paper, cast.trainee, cast.educator)
    with pytest.raises(NotReady, match="can still be begun"):
        release_results(paper=paper, by=cast.educator.person)
    sitting = make_paper_sitting(late)
    give(sitting.sitting.answers.first(), right(sitting.sitting.answers.first()))
    with pytest.raises(NotReady, match="One candidate is still sitting"):
        release_results(paper=paper, by=cast.educator.person)
    release_results(paper=paper, by=cast.educator.person, now=timezone.now() + DAY)
    sitting.refresh_from_db()
    assert sitting.handed_in == "time"
    assert sitting.results.get().score == pytest.approx(1 / 6)


def test_a_borderline_result_is_settled_with_a_reason_before_the_release(cast, paper):
    edge = next(each for each in outcomes_of(paper) if each.decision == "borderline")
    settle_result(sitting=edge.sitting, settled="pass", note="Two items were near.", by=cast.educator.person)
    end_paper(paper=paper)
    release_results(paper=paper, by=cast.educator.person)
    result = edge.sitting.results.get()
    assert (result.decision, result.settled) == ("pass", True)
    with pytest.raises(Refused):
        settle_result(sitting=edge.sitting, settled="refer", note="", by=cast.educator.person)


def test_few_candidates_give_no_standard_error_and_every_result_goes_to_a_person(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator), right_ones=3)
    (alone,) = outcomes_of(paper)
    assert (alone.score, alone.sem, alone.decision) == (1.0, None, "borderline")


def test_a_picture_withdrawn_during_a_paper_is_passed_over_as_in_practice_and_does_not_count(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    sitting = make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator))
    first, second, third = sitting.sitting.answers.all()
    give(first, right(first))
    give(second, right(second))
    give(third, wrong(third))
    Exhibit.objects.filter(pk=second.item.exhibit_id).update(state="withdrawn")
    Exhibit.objects.filter(pk=third.item.exhibit_id).update(kind="photograph")  # which nobody has permitted
    hand_in_paper(sitting=sitting)
    assert [mark.answer for mark in Mark.objects.all()] == [first]
    passed = sitting.sitting.answers.exclude(passed_over_at=None)
    assert [(answer, answer.handed_in_at) for answer in passed] == [(second, None), (third, None)]
    (outcome,) = outcomes_of(paper)
    assert (outcome.score, outcome.sitting.answers_count, outcome.sitting.saved_count) == (1.0, 1, 1)
    end_paper(paper=paper)
    assert len(release_results(paper=paper, by=cast.educator.person)) == 1


def test_a_paper_whose_every_picture_was_withdrawn_has_no_result_and_was_no_attempt(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    sitting = make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator))
    other = make_paper_sitting(
        make_candidate(paper, makers.make_trainee(cast.club, "Other"), cast.educator), 1
    )
    Exhibit.objects.filter(items__in=paper.quiz.items.all()).update(state="withdrawn")
    hand_in_paper(sitting=sitting)
    end_paper(paper=paper)
    assert [result.sitting for result in release_results(paper=paper, by=cast.educator.person)] == [other]
    assert cast.trainee.notices.get().text == (
        "“Paper of the spring” has no result for you: its pictures were withdrawn. It was no attempt."
    )
    assert not earlier_attempts(cast.trainee, edition.breed).exists()
    assert earlier_attempts(other.candidate.member, edition.breed).get() == other
    assert release_results(paper=paper, by=cast.educator.person) == []
    assert cast.trainee.notices.count() == 1
    address = f"/clubs/skerry-drover/papers/{paper.pk}/"
    assert "There is no result for you" in cast.client("trainee").get(address).content.decode()
    assert "every picture was withdrawn" in cast.client("educator").get(f"{address}results/").content.decode()


def test_each_result_is_measured_by_the_regulations_of_its_sitting(cast, paper):
    make_regulations(cast.club, pass_mark=30, effective_from=timezone.localdate())
    later = make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator), right_ones=4)
    by_number = {each.number: each for each in outcomes_of(paper)}
    mine = by_number[later.candidate.number]
    assert (mine.pass_mark, mine.decision) == (0.3, "pass")
    assert {each.pass_mark for each in by_number.values()} == {0.3, 0.75}


def test_a_mended_key_changes_results_quietly_and_what_changed_is_released_again(cast, edition, paper):
    end_paper(paper=paper)
    release_results(paper=paper, by=cast.educator.person)
    Notice.objects.all().delete()
    item = paper.quiz.items.filter(keys__sound=True).first()
    draft = start_draft(item=item, by=cast.educator.person)
    fault = edition.breed.faults.first()
    save_draft(
        key=draft,
        sound=False,
        note="A departure from the panel.",
        entries=[makers.entry(fault, [makers.SHOULDER])],
        by=cast.educator.person,
    )
    publish_key(item=item, by=cast.educator.person)
    remark(item=item)
    assert not Notice.objects.exists(), "Marks of a paper are not told of one by one."
    changed = [each for each in outcomes_of(paper) if each.changed]
    assert changed
    assert len(release_results(paper=paper, by=cast.educator.person)) == len(changed)
    assert Notice.objects.count() == len(changed)
    assert PaperResult.objects.count() == len(RIGHT) + len(changed), (
        "What was released before stays on record."
    )


def test_results_are_read_in_a_fixed_number_of_queries(cast, edition, paper, django_assert_max_num_queries):
    with django_assert_max_num_queries(6):
        outcomes_of(paper)
