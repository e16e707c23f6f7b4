"""Recording an owner's permission."""

import datetime

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from courses.models import PicturePermission
from tests.makers import make_photograph, make_published, permit

HERE = "/clubs/skerry-drover/exhibits/1/permission/"
SAID = {
    "given_by": "Erlend Scollay",
    "starts_on": "2026-12-01",
    "ends_on": "2027-12-01",
    "how": "email",
    "uses": ["teaching", "print"],
    "note": "Not on the open web",
}


def test_a_permission_is_recorded_by_the_secretary_too(cast):
    make_photograph(cast.club, cast.educator)
    answer = cast.client("secretary").post(HERE, SAID)
    assert answer.url == "/clubs/skerry-drover/exhibits/1/"
    word = PicturePermission.objects.get()
    assert (word.given_by, word.how, word.note) == ("Erlend Scollay", "email", "Not on the open web")
    assert (word.starts_on, word.ends_on) == (datetime.date(2026, 12, 1), datetime.date(2027, 12, 1))
    assert (word.teaching, word.examination, word.print) == (True, False, True)
    assert word.recorded_by == cast.secretary.person


def test_two_answers_to_mend_are_named_and_what_was_typed_is_kept(cast):
    make_photograph(cast.club, cast.educator)
    answer = cast.client("educator").post(HERE, SAID | {"ends_on": "2025-12-01", "how": ""})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Not saved yet: 2 answers need mending" in page
    assert "“Until” must be after 1 December 2026, or left empty if it has no end." in page
    assert "Choose one. Without it the picture cannot be published." in page
    assert 'value="2025-12-01"' in page
    assert 'value="Erlend Scollay"' in page
    assert not PicturePermission.objects.exists()


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"MZ a program", "It is not a PDF, JPEG or PNG."),
        (b"%PDF-" + bytes(5_000_000), "It is larger than 5 MB."),
    ],
)
def test_a_form_that_is_not_one_is_refused(cast, content, reason):
    make_photograph(cast.club, cast.educator)
    answer = cast.client("educator").post(HERE, SAID | {"form": SimpleUploadedFile("form.pdf", content)})
    assert answer.status_code == 422
    assert reason in answer.content.decode()


def test_the_signed_form_is_fetched_as_a_file_by_those_who_keep_permissions(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    form = SimpleUploadedFile("scan.pdf", b"%PDF-1.7 signed")
    word = permit(exhibit, cast.educator, form=form)
    answer = cast.client("secretary").get(f"{HERE}{word.pk}/form/")
    assert answer.getvalue() == b"%PDF-1.7 signed"
    assert answer["Content-Type"] == "application/octet-stream"
    assert answer["Content-Disposition"].startswith("attachment")
    assert cast.client("trainee").get(f"{HERE}{word.pk}/form/").status_code == 403
    assert cast.client("stranger").get(f"{HERE}{word.pk}/form/").status_code == 404


def test_no_form_kept_is_not_found(cast):
    word = permit(make_photograph(cast.club, cast.educator), cast.educator)
    assert cast.client("educator").get(f"{HERE}{word.pk}/form/").status_code == 404


def test_taking_the_word_back_takes_the_picture_from_trainees(cast):
    exhibit = make_published(cast.club, cast.educator)
    address = f"/clubs/skerry-drover/pictures/{exhibit.renditions.first().name}"
    trainee = cast.client("trainee")
    assert trainee.get(address).getvalue()
    cast.client("secretary").post(HERE + "withdraw/")
    assert trainee.get(address).status_code == 404
    page = cast.client("educator").get("/clubs/skerry-drover/exhibits/1/").content.decode()
    assert "Permission withdrawn." in page
    assert "there is a blank" in page


def test_more_permissions_than_anyone_gives_are_refused(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    for _ in range(20):
        permit(exhibit, cast.educator)
    answer = cast.client("educator").post(HERE, SAID)
    assert answer.status_code == 422
    assert "There are too many permissions for this exhibit already." in answer.content.decode()


def test_dates_are_written_out_whatever_english_the_browser_speaks(cast):
    permit(make_photograph(cast.club, cast.educator), cast.educator, uses={"teaching", "print"})
    client = cast.client("educator")
    page = client.get("/clubs/skerry-drover/exhibits/1/", headers={"Accept-Language": "en-US,en"}).content
    assert "from 1 January 2026: Teaching, Printed booklet." in " ".join(page.decode().split())
