"""An edition as its educators work on it."""

import pytest
from django.urls import reverse

from courses.actions.clause import confirm_severity, move_clause
from courses.models import Breed, Edition
from tests import makers

HTMX = {"HX-Request": "true"}
SAID = {
    "title": "Edition of 2027",
    "issuing_body": "Skerry Drover Club",
    "issued_on": "2027-01-01",
    "source": "",
    "reproduced_by": "The club’s own text.",
}


@pytest.fixture
def edition(cast):
    return makers.make_draft(cast.club, reproduced_by="Own text.")


@pytest.fixture
def client(cast):
    return cast.client("educator")


def url(name, *arguments):
    return reverse(name, args=["skerry-drover", *arguments])


def test_the_page_shows_clauses_in_the_standards_voice_with_their_readings(client, edition):
    page = client.get(url("edition", edition.pk)).content.decode()
    assert '<span class="clause-number">5.1</span>' in page
    assert 'A steep blade is a <span class="degree">serious fault</span>.' in page
    assert "The club reads “serious fault” in 5.1 as Serious" in page
    assert "Confirm Serious" in page
    assert "5 severities to confirm" in page
    assert "Confirm all 3 severities as read" in page


def test_the_page_costs_the_same_queries_for_more_clauses(client, edition, django_assert_max_num_queries):
    client.get(url("edition", edition.pk))
    with django_assert_max_num_queries(100) as few:
        client.get(url("edition", edition.pk))
    for n in range(30):
        clause = makers.make_clause(edition, f"{n % 3 + 7}.{n + 1}")
        makers.make_fault(edition, f"Fault {n}", clause.number)
    with django_assert_max_num_queries(len(few)):
        client.get(url("edition", edition.pk))
    assert len(few) <= 16


def test_undo_says_what_it_undoes_and_by_whom(client, cast, edition):
    confirm_severity(clause=edition.clauses.get(number="5.1"), by=cast.educator.person, severity=2)
    page = client.get(url("edition", edition.pk)).content.decode()
    assert "Undo confirming the severity of 5.1</button>" in page
    move_clause(clause=edition.clauses.get(number="5.3"), by=cast.mentor.person, direction="up")
    page = client.get(url("edition", edition.pk)).content.decode()
    assert "Undo moving 5.3 up, done by Magnus Flett</button>" in page
    step = edition.steps.first().pk
    html = client.post(url("edition-undo", edition.pk), {"step": step}, headers=HTMX).content.decode()
    assert "Undo confirming the severity of 5.1" in html
    assert list(edition.clauses.values_list("number", flat=True))[:3] == ["5.1", "5.2", "5.3"]
    again = client.post(url("edition-undo", edition.pk), {"step": step}, headers=HTMX)
    assert again.status_code == 409
    assert "Something else has been changed" in again.content.decode()


def test_undoing_what_changed_sections_shows_the_page_anew(client, edition):
    client.post(url("section-remove", edition.sections.first().pk))
    step = edition.steps.first().pk
    response = client.post(url("edition-undo", edition.pk), {"step": step}, headers=HTMX)
    assert response.headers["HX-Refresh"] == "true"
    assert edition.sections.count() == 2
    assert "Undone: removing section 5." in client.get(url("edition", edition.pk)).content.decode()


def test_an_edition_is_begun_described_and_thrown_away(client, cast):
    breed = makers.make_breed(cast.club)
    response = client.post(url("edition-new", breed.slug), SAID)
    edition = Edition.objects.get()
    assert response.url == url("edition-paste", edition.pk)
    client.post(url("edition-details", edition.pk), SAID | {"source": "Circular 4"})
    edition.refresh_from_db()
    assert (edition.source, edition.issuing_body) == ("Circular 4", "Skerry Drover Club")
    assert "gone for good" in client.get(url("edition-remove", edition.pk)).content.decode()
    assert Edition.objects.exists()
    client.post(url("edition-remove", edition.pk))
    assert not Edition.objects.exists()


def test_a_form_with_errors_keeps_what_was_typed(client, cast):
    breed = makers.make_breed(cast.club)
    response = client.post(url("edition-new", breed.slug), SAID | {"issued_on": "some day"})
    assert response.status_code == 422
    page = response.content.decode()
    assert "Edition of 2027" in page
    assert "The club’s own text." in page
    assert not Edition.objects.exists()


def test_sections_are_added_named_moved_and_removed(client, edition):
    client.post(url("section-new", edition.pk), {"number": "7", "title": "Tail"})
    section = edition.sections.get(number="7")
    client.post(url("section-name", section.pk), {"number": "8", "title": "Set of tail"})
    bad = client.post(url("section-name", section.pk), {"number": "5", "title": "Set of tail"})
    assert "Another section bears 5." in bad.content.decode()
    client.post(url("section-up", section.pk))
    assert list(edition.sections.values_list("number", "title")) == [
        ("5", "Forequarters"),
        ("8", "Set of tail"),
        ("6", "Topline"),
    ]
    client.post(url("section-remove", section.pk))
    assert edition.sections.count() == 2


def test_a_section_is_confirmed_and_renumbered_in_one_press(client, cast, edition):
    section = edition.sections.first()
    html = client.post(url("section-confirm", section.pk), headers=HTMX).content.decode()
    assert "2 severities to confirm" in html
    assert section.clauses.filter(severity_confirmed_at=None).count() == 0
    move_clause(clause=edition.clauses.get(number="5.3"), by=cast.educator.person, direction="up")
    assert "“Renumber” sets them in order" in client.get(url("edition", edition.pk)).content.decode()
    client.post(url("section-renumber", section.pk), headers=HTMX)
    assert list(section.clauses.values_list("number", flat=True)) == ["5.1", "5.2", "5.3"]


def test_the_first_page_leads_on(client, cast):
    assert "Add the first breed" in client.get(url("standard")).content.decode()
    client.post(url("breed-new"), {"name": "Skerry Drover"})
    breed = Breed.objects.get()
    assert "Begin the first edition" in client.get(url("standard")).content.decode()
    draft = makers.make_edition(cast.club, breed=breed, state="draft")
    assert "Paste its text" in client.get(url("standard")).content.decode()
    clause = makers.make_clause(draft)
    assert "Confirm 1 severity" in client.get(url("standard")).content.decode()
    confirm_severity(clause=clause, by=cast.educator.person, severity=2)
    assert "Release it" in client.get(url("standard")).content.decode()
    client.post(url("breed-name", breed.slug), {"name": "Drover of the Skerries"})
    assert "Drover of the Skerries" in client.get(url("standard")).content.decode()


def test_the_first_page_costs_the_same_queries_for_more_breeds(client, cast, django_assert_max_num_queries):
    makers.make_edition(cast.club)
    client.get(url("standard"))
    with django_assert_max_num_queries(100) as few:
        client.get(url("standard"))
    for n in range(3):
        breed = makers.make_breed(cast.club, name=f"Breed {n}", slug=f"breed-{n}")
        makers.make_draft(cast.club, breed=breed)
    with django_assert_max_num_queries(len(few)):
        client.get(url("standard"))
