"""A quiz's report says on paper what the page of its evidence says."""

from __future__ import annotations

import csv
import io
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.cut import close_cut_study, give_estimates, keep_estimates
from assessments.models import Answer, Figures
from tests import makers
from tests.assessments.views.test_evidence import words
from tests.printed import fonts_of, headings_and_tables, opened, text_of

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def quiz(cast, edition):
    return makers.make_open_quiz(edition, cast.educator, items=3)


@pytest.fixture
def answered(quiz):
    """Six people: all see the shoulder, four name it, two of these weigh it too light."""
    shoulder = quiz.edition.breed.faults.get(name="Upright shoulder")
    back = quiz.edition.breed.faults.get(name="Roached back")
    named = makers.said(makers.pin(0.35, 0.5, shoulder, 2))
    light = makers.said(makers.pin(0.36, 0.5, shoulder, 1), makers.pin(0.9, 0.2, back, 0))
    other, nothing = makers.said(makers.pin(0.34, 0.5, back, 1)), makers.said(nothing_found=True)
    people = [[named] * 3, [named] * 3, [light] * 3, [light, light, other], [other] * 3, [nothing] * 3]
    return makers.make_sittings(quiz, people)


def report(cast, quiz):
    return cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/report.pdf")


def page(cast, quiz):
    return cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/")


def test_its_figures_are_those_of_the_page(cast, quiz, answered):
    found, shown = text_of(report(cast, quiz).content), words(page(cast, quiz))
    # On the page the figure stands behind its name, on paper before it.
    for name in (" people", "mean mark", "reliability", "points either way"):
        figure = re.search(rf"{name} ([−\d.]+)", shown)[1]
        assert f"{figure} {name.strip()}" in found
    items = cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/items.csv")
    rows = list(csv.reader(io.StringIO(items.content.decode("utf-8-sig"))))[1:]
    assert len(rows) == 3
    for number, _exhibit, fault, answers, facility, discrimination, upper, _without, look_at in rows:
        share = f"{round(float(facility) * 100)} %"
        figures = [f"{float(each):.2f}".replace("-", "−") for each in (discrimination, upper)]
        assert " ".join([number, fault, answers, share, *figures, look_at]).strip() in found
    marks = cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/marks.csv")
    for low, below, people in list(csv.reader(io.StringIO(marks.content.decode("utf-8-sig"))))[1:]:
        until = "90 to 100" if low == "90" else f"{low} to below {below}"
        assert f"{until} {people}" in found


def test_it_says_what_was_counted_and_what_it_is_no_proof_of(cast, quiz, answered):
    found = text_of(report(cast, quiz).content)
    assert f"How the items of “{quiz.title}” behave" in found
    assert "Quiz. Edition of 2026. " in found
    assert "6 first sittings, 3 items" in found
    assert "Each person counts once, with their finished first sitting" in found
    assert "A result here approves nobody" in found
    assert "belongs to a veterinary surgeon" in found
    assert "Neither a panel nor regulations say where marks are divided." in found
    assert "Few yet" in found
    assert "1 of 2" in found
    for person in answered:
        assert person.person.name not in found


def test_the_clauses_most_missed_are_named_with_their_words(cast, quiz, answered):
    found = text_of(report(cast, quiz).content)
    # Upright shoulder is asked in each of three items of six people; one of them marked nothing.
    clause = quiz.edition.clauses.get(number="5.1")
    assert f"5.1 {clause.text}".lower() in found.lower()
    assert "3 18 17 %" in found


def test_the_cut_of_a_panel_stands_with_its_basis(cast, quiz, answered):
    panel = [cast.educator, cast.mentor]
    study = makers.make_cut_study(quiz, cast.educator, *panel)
    for seat, level in zip(study.panellists.order_by("pk"), (50, 70), strict=True):
        keep_estimates(panellist=seat, estimates=dict.fromkeys(study.items, level))
        give_estimates(panellist=seat)
    close_cut_study(study=study, by=cast.educator.person)
    found = text_of(report(cast, quiz).content)
    # 50 and 70 in the mean, and their standard deviation 14.1 by the root of two.
    assert "is 60.0 of 100, its standard error 10.0" in found
    assert "2 panellists estimated, each alone, by the modified Angoff method; 1 round so far." in found
    near = re.search(r"\d of 6 marks? lies? within", words(page(cast, quiz)))[0]
    assert near in found
    for each in panel:
        assert each.person.name not in found


def test_nothing_is_told_of_fewer_than_five(cast, quiz):
    makers.make_sittings(quiz, [[makers.said(nothing_found=True)] * 3] * 4)
    response = report(cast, quiz)
    assert response.status_code == 302
    assert response.url == f"{CLUB}/evidence/quizzes/{quiz.pk}/"
    assert "report.pdf" not in page(cast, quiz).content.decode()


def test_the_page_leads_to_it_and_it_is_a_file_of_its_own(cast, quiz, answered):
    assert f"{CLUB}/evidence/quizzes/{quiz.pk}/report.pdf" in page(cast, quiz).content.decode()
    response = report(cast, quiz)
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.headers["Content-Disposition"] == f'attachment; filename="report-of-quiz-{quiz.pk}.pdf"'
    assert len(response.content) < 200_000


def test_its_plots_have_words_beside_them_and_its_fonts_are_in_it(cast, quiz, answered):
    pdf = report(cast, quiz).content
    kinds = headings_and_tables(pdf)
    assert (kinds.count("Figure"), kinds.count("H1"), kinds.count("H2")) == (2, 1, 4)
    assert kinds.count("Table") == 3
    assert all(fonts_of(pdf).values())
    assert opened(pdf).metadata.creation_date == Figures.objects.get(quiz=quiz).computed_at.replace(
        microsecond=0
    )


def test_unchanged_figures_give_the_same_file(cast, quiz, answered):
    assert report(cast, quiz).content == report(cast, quiz).content


def test_a_quiz_of_another_club_is_not_found(cast, quiz, answered):
    client = cast.client("stranger")
    assert client.get(f"/clubs/holm-spaniel/evidence/quizzes/{quiz.pk}/report.pdf").status_code == 404
    assert cast.client("trainee").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/report.pdf").status_code == 403


def test_items_and_people_cost_no_further_queries(cast, edition, quiz, answered):
    large = makers.make_open_quiz(edition, cast.educator, items=6, title="A large one")
    makers.make_sittings(large, [[makers.said(nothing_found=True)] * 6] * 9)
    client, counts = cast.client("educator"), []
    for each in (quiz, large):
        address = f"{CLUB}/evidence/quizzes/{each.pk}/report.pdf"
        client.get(address)
        with CaptureQueriesContext(connection) as queries:
            assert client.get(address).status_code == 200
        counts.append(len(queries))
    assert Answer.objects.filter(sitting__quiz=large).count() == 54
    assert counts[0] == counts[1]
    assert counts[0] <= 12
