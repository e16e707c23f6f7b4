"""A trainee's own record on paper: the figures, drawings and rows of their pages."""

from __future__ import annotations

import datetime

import pytest
from django.utils import timezone

from assessments.actions.mentoring import say_own_word
from assessments.models import Sitting
from assessments.reports import record as reports
from assessments.reports.record import record_on_paper
from shared.printing import print_pdf
from tests import makers
from tests.printed import fonts_of, headings_and_tables, opened, text_of

CLUB = "/clubs/skerry-drover"


def record(client):
    response = client.get(f"{CLUB}/record/record.pdf")
    assert response.headers["Content-Type"] == "application/pdf"
    return response.content


@pytest.fixture
def quiz(cast, edition):
    return makers.make_open_quiz(edition, cast.educator, items=30)


@pytest.fixture
def practised(cast, quiz):
    """Thirty times the shoulder seen and named, and weighed one level light; the back never seen."""
    shoulder = quiz.edition.breed.faults.get(name="Upright shoulder")
    said = [makers.said(makers.pin(0.35, 0.5, shoulder, 1))] * 30
    makers.make_sittings(quiz, [said], trainees=[cast.trainee])
    return quiz


def test_the_figures_are_those_of_the_page(cast, practised):
    client = cast.client("trainee")
    found, page = text_of(record(client)), client.get(f"{CLUB}/record/").content.decode()
    # Thirty of thirty: the mean of the Beta distribution with 31 and 1, and of 1 and 31 for the back.
    assert "Forequarters 97 % (91–100 %) 97 % (91–100 %)" in found
    assert "Topline 3 % (0–9 %) 3 % (0–9 %) 3 % (0–9 %) 30" in found
    assert "Head not yet not yet not yet 0" in found
    for figure in ("97\N{NO-BREAK SPACE}%", "between 91\N{NO-BREAK SPACE}% and 100\N{NO-BREAK SPACE}%"):
        assert figure in page
    sentence = page.split("You weigh lighter")[1].split("<")[0]
    assert f"You weigh lighter{sentence}" in found
    assert "30 faults weighed." in found
    assert "30 answers since " in found


def test_sittings_sessions_sign_offs_and_panels_stand_in_tables(cast, practised):
    sitting = Sitting.objects.get()
    makers.make_mentorship(cast.mentor, cast.trainee)
    row = makers.make_session(cast.mentor, cast.trainee).trainees.get()
    say_own_word(row=row, own_session="A good hour.", own_mentor="Patient.")
    makers.make_session(cast.mentor, cast.trainee, held_on=None, subject="Toplines")
    makers.make_sign_off(cast.trainee, cast.mentor, practised)
    makers.make_told(makers.make_panel(sitting, cast.mentor, cast.educator), cast.educator)
    pdf = record(cast.client("trainee"))
    found = text_of(pdf)
    assert "Forequarters in profile Edition of 2026" in found
    assert "30 of 30" in found
    assert "Lay of shoulder Magnus Flett" in found
    assert "Own word on the session: A good hour." in found
    assert "Own word on the mentor: Patient." in found
    assert "planned" in found
    assert "Seen it all." in found
    assert "Seen at once." in found
    # The eye, sittings, panels, sessions, sign-offs.
    assert headings_and_tables(pdf).count("Table") == 5


def test_it_says_whose_it_is_and_what_it_is_no_proof_of(cast, practised):
    pdf = record(cast.client("trainee"))
    found = text_of(pdf)
    assert "The record of Una Halcro" in found
    assert "Skerry Drover Club" in found
    assert "A result here approves nobody" in found
    assert "belongs to a veterinary surgeon" in found
    assert opened(pdf).metadata.title == "The record of Una Halcro"
    assert all(fonts_of(pdf).values())


def test_drawings_have_words_beside_them(cast, practised):
    # Three dogs, five samples of hatching, the two scales and the severities; without answers the first eight.
    assert headings_and_tables(record(cast.client("trainee"))).count("Figure") >= 10
    other = makers.make_trainee(cast.club, "Erlend Scollay")
    client = cast.client("nobody")
    client.force_login(other.person, "django.contrib.auth.backends.ModelBackend")
    empty = record(client)
    assert headings_and_tables(empty).count("Figure") == 8
    assert "No answer yet." in text_of(empty)
    assert headings_and_tables(empty).count("Table") == 1


def test_rows_are_capped_and_the_rest_is_said(cast, practised, monkeypatch):
    monkeypatch.setattr(reports, "ROWS", 2)
    for number in range(2, 5):
        Sitting.objects.create(
            quiz=practised,
            trainee=cast.trainee,
            number=number,
            finished_at=timezone.now(),
            begun_at=timezone.now() + datetime.timedelta(hours=number),
        )
    found = text_of(record(cast.client("trainee")))
    assert "The newest 2. The file record.json holds all." in found
    assert found.count("Forequarters in profile Edition of 2026") == 2


def test_the_same_record_at_the_same_time_is_the_same_file(cast, practised):
    now = timezone.now()
    first, second = (
        print_pdf(reports.TEMPLATE, record_on_paper(cast.trainee, now=now)) for _turn in range(2)
    )
    assert first == second


def test_names_and_words_cannot_become_markup(cast, practised):
    words = "#panic(1) $x$ *b* <a> \\ [c] " + "W" * 300
    makers.make_session(cast.mentor, cast.trainee, subject="@x #set", reason=words)
    cast.trainee.person.name = "Una #Halcro* 😀"
    cast.trainee.person.save()
    found = text_of(record(cast.client("trainee")))
    assert "#panic(1) $x$ *b* <a> \\ [c]" in found
    assert "The record of Una #Halcro* ▯" in found


def test_the_record_page_leads_to_both_files_and_to_what_they_hold(cast, practised):
    client = cast.client("trainee")
    page = client.get(f"{CLUB}/record/").content.decode()
    for name in ("record.pdf", "record.json", "file/"):
        assert f'href="{CLUB}/record/{name}"' in page
    assert "standpoint-record" in client.get(f"{CLUB}/record/file/").content.decode()
    assert cast.client("mentor").get(f"{CLUB}/record/record.pdf").status_code == 403
