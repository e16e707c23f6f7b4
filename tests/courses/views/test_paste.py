"""A pasted standard is looked over before anything is saved."""

import html
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from courses.models import Clause, Section
from tests import makers

TEXT = """# Standard of the Skerry Drover

## 5 Forequarters
5.1 The blade slopes to some 35° from plumb.
5.2 A steep blade is a serious fault.

## 6 Topline
The back is level. A roached back disqualifies.
"""


@pytest.fixture
def edition(cast):
    return makers.make_draft(cast.club, {})


@pytest.fixture
def client(cast):
    return cast.client("educator")


def url(name, edition):
    return reverse(name, args=["skerry-drover", edition.pk])


def fields(page):
    """The fields of the review, as a browser would send them."""
    sent = {}
    found = re.findall(
        r'<input type="hidden" name="(?P<a>[\w-]+)" value="(?P<b>[^"]*)"'
        r'|<input class="input" name="(?P<c>[\w-]+)" value="(?P<d>[^"]*)"'
        r'|<textarea class="input wording" name="(?P<e>[\w-]+)"[^>]*>(?P<f>[^<]*)</textarea>'
        r'|<select name="(?P<g>[\w-]+)">(?P<h>.*?)</select>',
        page,
        re.DOTALL,
    )
    for a, b, c, d, e, f, g, h in found:
        name, value = (
            (a, b) if a else (c, d) if c else (e, f) if e else (g, re.search(r'"(\w+)" selected', h)[1])
        )
        if name != "csrfmiddlewaretoken":
            sent.setdefault(name, []).append(html.unescape(value))
    return sent


@pytest.fixture
def review(client, edition):
    """What the review of TEXT would send, untouched."""
    return fields(client.post(url("edition-paste", edition), {"text": TEXT}).content.decode())


def press(client, edition, sent, do):
    return client.post(url("edition-review", edition), sent | {"do": do}).content.decode()


def test_the_review_shows_clauses_as_they_would_be_and_saves_nothing(client, edition):
    page = client.post(url("edition-paste", edition), {"text": TEXT}).content.decode()
    assert 'A steep blade is a <span class="degree">serious fault</span>.' in page
    assert "“serious fault” reads as Serious" in page
    assert "Save 4 clauses" in page
    assert "in 2 sections. Nothing is saved yet." in page
    assert not Clause.objects.exists()


def test_every_field_comes_back(review):
    assert review["section-number"] == ["5", "6"]
    assert review["clause-number"] == ["5.1", "5.2", "6.1", "6.2"]
    assert review["clause-section"] == ["0", "0", "1", "1"]
    assert review["clause-zone"] == ["forequarters", "forequarters", "topline", "topline"]
    assert review["clause-text"][3] == "A roached back disqualifies."


def test_saving_makes_the_sections_and_clauses(client, edition, review):
    response = client.post(url("edition-review", edition), review | {"do": "save"})
    assert response.url == url("edition", edition)
    assert list(Section.objects.values_list("number", "title")) == [("5", "Forequarters"), ("6", "Topline")]
    assert list(Clause.objects.values_list("number", "text", "zone"))[1] == (
        "5.2",
        "A steep blade is a serious fault.",
        "forequarters",
    )
    assert Clause.objects.filter(severity_confirmed_at=None).count() == 4
    assert edition.steps.get().label == "adding 4 pasted clauses"


def test_what_is_left_out_is_not_saved(client, edition, review):
    client.post(url("edition-review", edition), review | {"do": "save", "clause-out": ["1", "3"]})
    assert list(Clause.objects.values_list("number", flat=True)) == ["5.1", "6.1"]


def test_changes_are_saved(client, edition, review):
    review["clause-text"][0] = "The blade *slopes*.\r\nWell."
    review["clause-number"][0] = "5.1a"
    review["clause-zone"][0] = "neck"
    review["section-title"][0] = "Front"
    client.post(url("edition-review", edition), review | {"do": "save"})
    clause = Clause.objects.get(number="5.1a")
    assert (clause.text, clause.zone, clause.section.title) == ("The blade *slopes*.\nWell.", "neck", "Front")


def test_joining_and_splitting(client, edition, review):
    joined = fields(press(client, edition, review, "join-1"))
    assert joined["clause-number"] == ["5.1", "6.1", "6.2"]
    whole = "The blade slopes to some 35° from plumb. A steep blade is a serious fault."
    assert joined["clause-text"][0] == whole
    joined["clause-text"][0] = (
        "The blade slopes to some 35° from plumb.\r\n \r\nA steep blade is a serious fault."
    )
    again = fields(press(client, edition, joined, "split-0"))
    assert again["clause-text"] == review["clause-text"]
    assert again["clause-number"] == review["clause-number"]
    refused = press(client, edition, review, "split-0")
    assert "Leave an empty line" in refused


def test_a_heading_that_was_missed_and_one_that_was_none(client, edition, review):
    review["clause-text"][2] = "Loin"
    headed = fields(press(client, edition, review, "head-2"))
    assert headed["section-title"] == ["Forequarters", "Topline", "Loin"]
    assert headed["clause-text"] == [*review["clause-text"][:2], review["clause-text"][3]]
    assert headed["clause-section"] == ["0", "0", "2"]
    merged = fields(press(client, edition, review, "merge-1"))
    assert merged["section-title"] == ["Forequarters"]
    assert merged["clause-text"] == [*review["clause-text"][:2], "Topline", *review["clause-text"][2:]]


@pytest.mark.parametrize(
    "do", ["join-0", "join-99", "split-99", "head-99", "merge-0", "merge-9", "dance", "join-x", ""]
)
def test_a_press_that_means_nothing_changes_nothing(client, edition, review, do):
    assert fields(press(client, edition, review, do)) == review


def test_back_to_the_text_loses_nothing(client, edition, review):
    review["clause-text"][0] = "The blade slopes, as changed."
    page = press(client, edition, review, "text")
    text = html.unescape(re.search(r"<textarea[^>]*>(.*?)</textarea>", page, re.DOTALL)[1])
    again = fields(client.post(url("edition-paste", edition), {"text": text}).content.decode())
    assert again["clause-text"] == review["clause-text"]
    assert again["section-title"] == review["section-title"]


def test_what_is_wrong_is_told_beside_its_cause_and_nothing_is_saved(client, edition, review):
    review["clause-number"][1] = "5.1"
    review["clause-text"][2] = ""
    review["section-title"][1] = ""
    response = client.post(url("edition-review", edition), review | {"do": "save"})
    page = response.content.decode()
    assert response.status_code == 422
    assert "Not saved yet: 3 things need mending" in page
    assert "5.1: Another clause bears 5.1." in page
    assert "The wording is empty." in page
    assert "The heading is empty." in page
    assert fields(page) == review
    assert not Clause.objects.exists()


def test_numbers_that_the_edition_has_already_are_told(client, cast, review, edition):
    makers.make_clause(edition, "6.1")
    page = client.post(url("edition-review", edition), review | {"do": "save"}).content.decode()
    assert "Another section bears 6." in page
    assert "Another clause bears 6.1." in page


def test_a_damaged_review_is_refused(client, edition, review):
    review["clause-zone"].pop()
    assert client.post(url("edition-review", edition), review | {"do": "save"}).status_code == 400


def test_a_file_comes_in_as_text(client, edition):
    file = SimpleUploadedFile("standard.txt", TEXT.encode("cp1252"))
    page = client.post(url("edition-paste", edition), {"text": "", "file": file}).content.decode()
    assert "some 35° from plumb" in page


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"text": "  "}, "Paste the standard here, or choose a file."),
        ({"text": "", "file": b"%PDF-1.4\x00\x01\x02"}, "not plain text"),
        ({"text": "", "file": b"x" * 1_000_001}, "larger than 1 MB"),
        ({"text": "One. Two.", "file": b"Three."}, "Both a text and a file were given"),
        ({"text": "One.\n" * 601}, "601 clauses; at most 600 are taken"),
        ({"text": "x" * 200_001}, "at most 200,000"),
    ],
)
def test_what_is_not_taken_says_why_and_the_text_comes_back(client, edition, sent, said):
    if "file" in sent:
        sent = sent | {"file": SimpleUploadedFile("standard.txt", sent["file"])}
    response = client.post(url("edition-paste", edition), sent)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    typed = html.unescape(re.search(r"<textarea[^>]*>\n?(.*?)</textarea>", page, re.DOTALL)[1])
    assert typed.strip() == sent["text"].strip()


def test_a_released_edition_takes_no_text(client, cast):
    released = makers.make_edition(cast.club)
    page = client.post(url("edition-paste", released), {"text": TEXT}, follow=True).content.decode()
    assert "The wording of this edition is fixed" in page
