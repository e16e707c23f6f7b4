"""Estimates for a pass mark: given alone, compared once the round is closed, and kept."""

import csv
import io
import re
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.cut import ask_for_cut, close_cut_study, give_estimates, keep_estimates
from assessments.actions.paper_results import mark_paper
from assessments.models import Candidate, CutEstimate, CutStudy, Paper
from assessments.queries.cut import pass_line
from assessments.rules import Refused
from tests import makers
from tests.makers import papers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def quiz(cast):
    return makers.make_open_quiz(makers.make_edition(cast.club), cast.educator, items=3)


@pytest.fixture
def study(cast, quiz):
    return makers.make_cut_study(quiz, cast.educator, cast.educator, cast.mentor)


def words(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def give(study, member, *per_cents):
    panellist = study.panellists.get(member=member)
    keep_estimates(panellist=panellist, estimates=dict(zip(study.items, per_cents, strict=True)))
    give_estimates(panellist=panellist)


def sent(study, *values, **more):
    return {f"item-{item}": value for item, value in zip(study.items, values, strict=True)} | more


def test_a_panel_is_asked_estimates_alone_and_is_compared(cast, quiz):
    educator, mentor = cast.client("educator"), cast.client("mentor")
    address = f"{CLUB}/evidence/quizzes/{quiz.pk}/cut/"
    educator.post(address, {"members": [cast.educator.pk, cast.mentor.pk]})
    study = CutStudy.objects.get(quiz=quiz)
    assert f"/cuts/{study.pk}/" in mentor.get(f"{CLUB}/").content.decode()
    own = f"{CLUB}/cuts/{study.pk}/"
    educator.post(own, sent(study, 87, 61, 73, give=1))
    assert "87" not in words(mentor.get(own))
    assert "87 %" not in words(educator.get(address))
    mentor.post(own, sent(study, 50, 70, "", keep=1))
    mentor.post(own, sent(study, 50, 70, 60, give=1))
    educator.post(f"{CLUB}/evidence/cuts/{study.pk}/close/")
    study.refresh_from_db()
    # By hand: own cuts (87 + 61 + 73) / 3 = 73.67 and 60; their mean 66.83; sd 13.67 / √2, over √2: 6.83.
    assert study.cut == pytest.approx(2.005 / 3)
    assert study.standard_error == pytest.approx(0.41 / 6)
    page = words(educator.get(address))
    assert "cut 66.8" in page
    assert "points either way 6.8" in page
    assert "Magnus Flett 60.0" in page
    table = list(csv.reader(io.StringIO(educator.get(f"{CLUB}/evidence/cuts/{study.pk}/estimates.csv").text)))
    assert table[1][1:] == ["0.87", "0.5", "0.685", "0.5", "0.87", "0.2616"]


def test_the_distribution_shows_the_cut_and_how_many_are_borderline(cast, quiz, study):
    shoulder = quiz.edition.breed.faults.get(name="Upright shoulder")
    right = makers.said(makers.pin(0.35, 0.5, shoulder, 2))
    nothing = makers.said(nothing_found=True)
    makers.make_sittings(quiz, [[right] * 3] * 3 + [[nothing] * 3] * 2 + [[right, right, nothing]])
    client, address = cast.client("educator"), f"{CLUB}/evidence/quizzes/{quiz.pk}/"
    assert "plot-cut" not in client.get(address).content.decode()
    give(study, cast.mentor, 60, 60, 60)
    give(study, cast.educator, 70, 70, 70)
    close_cut_study(study=study, by=cast.educator.person)
    response = client.get(address)
    # The shoulder alone wins 4 of 6: means 66.7 three times, 44.4, 0 twice; the cut is 65.
    assert "plot-cut" in response.content.decode()
    assert re.search(r"65\.0, standard error 5\.0\. 3 of 6 marks lie within", words(response))


def test_without_a_study_the_line_of_a_paper_is_its_regulations_pass_mark(cast):
    paper = papers.make_set_paper(makers.make_edition(cast.club), cast.educator)
    for number, right_ones in enumerate((3, 3, 3, 2, 2, 1)):
        trainee = makers.make_trainee(cast.club, f"Candidate {number}")
        candidate = papers.make_candidate(paper, trainee, cast.educator)
        papers.make_paper_sitting(candidate, right_ones)
    mark_paper(paper=paper)
    # A change of the regulations after the paper was sat does not move its line.
    papers.make_regulations(cast.club, effective_from=timezone.localdate(), pass_mark=Decimal("90.0"))
    client, address = cast.client("educator"), f"{CLUB}/evidence/quizzes/{paper.quiz_id}/"
    response = client.get(address)
    (plot, _narrow) = (each for _name, each in response.context["marks"])
    frame, sem = plot.frame, response.context["figures"].sem
    width = frame.right - frame.left
    assert plot.cut == pytest.approx(frame.left + 0.75 * width, abs=0.05)
    assert plot.band_left == pytest.approx(frame.left + (0.75 - sem) * width, abs=0.1)
    near = sum(abs(mark - 0.75) <= sem for mark in (1, 1, 1, 2 / 3, 2 / 3, 1 / 3))
    assert 0 < near < 6
    page = words(response)
    assert "broken: pass mark" in page
    assert re.search(rf"75\.0\. {near} of 6 marks lie within", page)
    study = makers.make_cut_study(paper.quiz, cast.educator, cast.educator, cast.mentor)
    for member, estimate in ((cast.educator, 60), (cast.mentor, 70)):
        give(study, member, *[estimate] * 3)
    close_cut_study(study=study, by=cast.educator.person)
    page = words(client.get(address))
    assert "broken: cut" in page
    assert "lies elsewhere, at 75.0." in page


def test_regulations_that_say_the_same_as_the_study_are_not_named(cast):
    paper = papers.make_set_paper(makers.make_edition(cast.club), cast.educator)
    papers.make_paper_sitting(papers.make_candidate(paper, cast.trainee, cast.educator), 3)
    assert (pass_line(paper.quiz).at, pass_line(paper.quiz).elsewhere) == (0.75, False)
    study = makers.make_cut_study(paper.quiz, cast.educator, cast.educator, cast.mentor)
    for member in (cast.educator, cast.mentor):
        give(study, member, 75, 75, 75)
    study = close_cut_study(study=study, by=cast.educator.person)
    line = pass_line(paper.quiz)
    assert (line.study, line.at, line.elsewhere) == (study, 0.75, False)


def test_estimates_that_are_given_stand(cast, study):
    give(study, cast.mentor, 50, 60, 70)
    cast.client("mentor").post(f"{CLUB}/cuts/{study.pk}/", sent(study, 1, 1, 1, give=1))
    assert sorted(CutEstimate.objects.values_list("per_cent", flat=True)) == [50, 60, 70]


def test_every_item_needs_an_estimate_and_what_was_typed_is_kept(cast, study):
    client = cast.client("mentor")
    response = client.post(f"{CLUB}/cuts/{study.pk}/", sent(study, 40, "", 50, give=1))
    assert response.status_code == 422
    assert "Every item needs an estimate" in words(response)
    assert 'value="40"' in response.content.decode()
    response = client.post(f"{CLUB}/cuts/{study.pk}/", sent(study, 140, 50, 50, give=1))
    assert "less than or equal to 100" in words(response)
    assert 'value="140"' in response.content.decode()


def test_a_round_closes_with_two_and_counts_only_what_was_given(cast, quiz):
    third = makers.make_mentor(cast.club, "Thora Garrioch")
    study = makers.make_cut_study(quiz, cast.educator, cast.educator, cast.mentor, third)
    give(study, cast.mentor, 50, 60, 70)
    with pytest.raises(Refused, match="At least two"):
        close_cut_study(study=study, by=cast.educator.person)
    give(study, cast.educator, 70, 80, 90)
    keep_estimates(panellist=study.panellists.get(member=third), estimates={study.items[0]: 1})
    assert close_cut_study(study=study, by=cast.educator.person).cut == pytest.approx(0.7)
    page = words(cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/cut/"))
    assert "Thora Garrioch was asked and gave no estimates." in page


def test_a_candidate_of_the_paper_is_not_asked(cast, quiz):
    paper = Paper.objects.create(quiz=quiz)
    Candidate.objects.create(paper=paper, member=cast.mentor, number=1, invited_by=cast.educator.person)
    with pytest.raises(Refused, match="Magnus Flett"):
        ask_for_cut(quiz=quiz, members=[cast.educator, cast.mentor], by=cast.educator.person)


def test_only_a_panellist_opens_the_estimates_and_one_round_is_open_at_a_time(cast, quiz, study):
    other = makers.make_mentor(cast.club, "Thora Garrioch")
    with pytest.raises(Refused, match="at work"):
        makers.make_cut_study(quiz, cast.educator, cast.educator, other)
    cast.client("educator").post(f"{CLUB}/evidence/cuts/{study.pk}/withdraw/")
    assert not CutStudy.objects.exists()
    study = makers.make_cut_study(quiz, cast.educator, cast.educator, other)
    assert cast.client("mentor").get(f"{CLUB}/cuts/{study.pk}/").status_code == 404


def test_pages_ask_the_database_as_often_for_more_items(cast):
    edition = makers.make_edition(cast.club)

    def costs(items):
        quiz = makers.make_open_quiz(edition, cast.educator, items=items, title=f"With {items}")
        study = makers.make_cut_study(quiz, cast.educator, cast.educator, cast.mentor)
        for member in (cast.educator, cast.mentor):
            give(study, member, *[50] * items)
        close_cut_study(study=study, by=cast.educator.person)
        client, found = cast.client("educator"), []
        for page in (f"{CLUB}/evidence/quizzes/{quiz.pk}/cut/", f"{CLUB}/cuts/{study.pk}/"):
            with CaptureQueriesContext(connection) as captured:
                assert client.get(page).status_code == 200
            found.append(len(captured))
        return found

    assert costs(1) == costs(4)
    assert max(costs(2)) < 12
