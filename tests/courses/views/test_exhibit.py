"""The list of exhibits, taking photographs in, and the page of one."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from courses.forms.exhibit import REFUSALS
from courses.models import Exhibit
from shared.pictures.opening import REASONS
from tests.makers import (
    make_breed,
    make_edition,
    make_exhibit,
    make_fault,
    make_photograph,
    make_published,
    permit,
)
from tests.shared.pictures.making import encoded, scene

HERE = "/clubs/skerry-drover/exhibits/"


def photograph(seed: int = 0, name: str = "IMG_1.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, encoded(scene(300, 200, seed)), "image/jpeg")


@pytest.mark.parametrize(
    ("method", "path", "secretary"),
    [
        ("get", "", 200),
        ("get", "1/", 200),
        ("get", "new/", 403),
        ("post", "1/describe/", 403),
        ("post", "1/publish/", 403),
        ("post", "1/withdraw/", 403),
        ("get", "1/remove/", 403),
        ("post", "1/faults/", 403),
        ("post", "1/faults/1/remove/", 403),
        ("get", "1/permission/", 200),
    ],
)
def test_who_may_come_here(cast, method, path, secretary):
    make_exhibit(cast.club, cast.educator)
    answers = {
        who: getattr(cast.client(who), method)(HERE + path)
        for who in ("nobody", "stranger", "trainee", "mentor", "secretary", "educator")
    }
    assert answers["nobody"].url.startswith("/account/login/")
    assert {who: answer.status_code for who, answer in answers.items() if who != "educator"} == {
        "nobody": 302,
        "stranger": 404,
        "trainee": 403,
        "mentor": 403,
        "secretary": secretary,
    }
    assert answers["educator"].status_code in (200, 302, 404, 422)


@pytest.mark.parametrize("path", ["1/", "1/permission/", "1/remove/"])
def test_another_clubs_exhibit_is_not_found(cast, path):
    make_exhibit(cast.other_club, cast.stranger)
    assert cast.client("educator").get(HERE + path).status_code == 404


def test_the_empty_list_says_what_to_do_first(cast):
    page = cast.client("educator").get(HERE).content.decode()
    assert "Take the first photographs in" in page
    assert HERE + "new/" in page


def test_the_list_shows_what_is_asked_for(cast):
    make_exhibit(cast.club, cast.educator, view="front", verdict="correct")
    make_exhibit(cast.club, cast.educator, view="profile", verdict="incorrect", state="draft")
    make_photograph(cast.club, cast.educator)
    client = cast.client("educator")

    def numbers(query: str) -> list[int]:
        return [each.number for each in client.get(HERE + query).context["page"].object_list]

    assert numbers("") == [3, 2, 1]
    assert numbers("?view=front") == [1]
    assert numbers("?verdict=incorrect") == [2]
    assert numbers("?state=draft") == [3, 2]
    assert numbers("?uncovered=on") == [3]
    assert numbers("?view=sideways") == [3, 2, 1]
    assert "No exhibit is like that" in client.get(HERE + "?view=rear").content.decode()


def test_the_list_costs_the_same_for_one_and_for_many(cast, django_assert_max_num_queries):
    client = cast.client("educator")
    make_published(cast.club, cast.educator)
    with django_assert_max_num_queries(20) as one:
        client.get(HERE)
    for seed in range(1, 4):
        make_published(cast.club, cast.educator, seed)
    with django_assert_max_num_queries(20) as many:
        client.get(HERE)
    assert len(many) == len(one)


def test_htmx_gets_the_sheet_alone(cast):
    answer = cast.client("educator").get(HERE, headers={"HX-Request": "true"})
    assert answer.content.decode().startswith('<div id="_sheet">')


def test_several_files_in_one_form_and_a_bad_one_loses_no_good_one(cast):
    make_breed(cast.club)
    files = [
        photograph(1, "one.jpg"),
        SimpleUploadedFile("notes.txt", b"no picture", "text/plain"),
        photograph(2, "two.jpg"),
        photograph(1, "one again.jpg"),
    ]
    form = {"breed": make_breed(cast.club).pk, "files": files}
    answer = cast.client("educator").post(HERE + "new/", form, follow=True)
    assert answer.redirect_chain[-1][0] == HERE
    assert Exhibit.objects.count() == 3
    assert [str(message) for message in answer.context["messages"]] == [
        "Taken in: exhibits 1, 2, 3.",
        "Exhibit 3 shows the same photograph as exhibit 1.",
        "notes.txt is not a picture in JPEG, PNG, WebP, AVIF, TIFF or HEIC.",
    ]


def test_one_file_from_the_script_is_answered_with_its_row(cast):
    form = {"breed": make_breed(cast.club).pk, "files": photograph(1, "dog & cat.jpg")}
    client = cast.client("educator")
    answer = client.post(HERE + "new/", form, headers={"HX-Request": "true"})
    row = answer.content.decode()
    assert answer.status_code == 200
    assert row.startswith("<li")
    assert "dog &amp; cat.jpg" in row
    assert HERE + "1/" in row
    form["files"] = photograph(1)
    again = client.post(HERE + "new/", form, headers={"HX-Request": "true"}).content.decode()
    assert "The same photograph is there already as exhibit 1." in again


def test_one_bad_file_from_the_script_is_named_with_its_reason(cast):
    form = {
        "breed": make_breed(cast.club).pk,
        "files": SimpleUploadedFile("a<b>.jpg", b"\xff\xd8\xff broken"),
    }
    answer = cast.client("educator").post(HERE + "new/", form, headers={"HX-Request": "true"})
    assert answer.status_code == 422
    assert "a&lt;b&gt;.jpg is cut off or damaged." in answer.content.decode()
    assert Exhibit.objects.count() == 0


def test_no_file_chosen_is_said_beside_the_field(cast):
    answer = cast.client("educator").post(HERE + "new/", {"breed": make_breed(cast.club).pk})
    assert answer.status_code == 422
    assert "Mend this: Choose one photograph or several." in answer.content.decode()


def test_more_than_fit_in_one_form_are_refused_with_the_number(cast):
    files = [SimpleUploadedFile(f"{n}.jpg", b"x") for n in range(41)]
    form = {"breed": make_breed(cast.club).pk, "files": files}
    answer = cast.client("educator").post(HERE + "new/", form)
    assert "Send at most 40 at once; you chose 41." in answer.content.decode()
    assert Exhibit.objects.count() == 0


def test_another_clubs_breed_is_refused(cast):
    form = {"breed": make_breed(cast.other_club, slug="spaniel").pk, "files": photograph()}
    assert cast.client("educator").post(HERE + "new/", form).status_code == 422
    assert Exhibit.objects.count() == 0


DESCRIPTION = {
    "view": "front",
    "sex": "bitch",
    "age_class": "junior",
    "verdict": "correct",
    "caption": "Standing free",
    "description": "A bitch seen from the front.",
    "camera": "good",
}


def test_what_an_exhibit_shows_is_saved(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    answer = cast.client("educator").post(HERE + "1/describe/", DESCRIPTION)
    assert answer.url == HERE + "1/"
    exhibit.refresh_from_db()
    assert {name: getattr(exhibit, name) for name in DESCRIPTION} == DESCRIPTION


def test_what_cannot_be_saved_is_kept_on_the_page(cast):
    make_photograph(cast.club, cast.educator)
    answer = cast.client("educator").post(HERE + "1/describe/", DESCRIPTION | {"view": "sideways"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Standing free" in page
    assert "Not saved yet: one answer needs mending" in page


def test_publishing_without_permission_leads_to_the_permission(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    client = cast.client("educator")
    answer = client.post(HERE + "1/publish/", follow=True)
    assert answer.redirect_chain[-1][0] == HERE + "1/permission/"
    assert "no permission of the owner covers teaching today" in answer.content.decode()
    permit(exhibit, cast.educator)
    assert client.post(HERE + "1/publish/").url == HERE + "1/"
    exhibit.refresh_from_db()
    assert exhibit.state == "published"


def test_faults_are_added_with_their_usual_clause_and_severity_and_removed(cast):
    edition = make_edition(cast.club)
    fault = make_fault(edition, level=2)
    exhibit = make_photograph(cast.club, cast.educator, breed=edition.breed)
    client = cast.client("educator")
    client.post(HERE + "1/faults/", {"fault": fault.pk})
    shown = exhibit.shown_faults.get()
    assert (shown.fault, shown.clause, shown.level) == (fault, fault.clause, 2)
    client.post(HERE + "1/faults/", {"fault": fault.pk, "level": "1"})
    assert exhibit.shown_faults.get().level == 1
    page = client.get(HERE + "1/").content.decode()
    assert "Upright shoulder" in page
    assert "Moderate" in page
    client.post(HERE + f"1/faults/{shown.pk}/remove/")
    assert not exhibit.shown_faults.exists()


def test_a_severity_that_is_not_on_the_ladder_is_refused(cast):
    edition = make_edition(cast.club)
    make_photograph(cast.club, cast.educator, breed=edition.breed)
    form = {"fault": make_fault(edition).pk, "level": "9"}
    assert cast.client("educator").post(HERE + "1/faults/", form).status_code == 422


def test_removing_asks_once_and_then_removes(cast):
    make_photograph(cast.club, cast.educator)
    client = cast.client("educator")
    assert "There is no undo" in client.get(HERE + "1/remove/").content.decode()
    assert Exhibit.objects.count() == 1
    assert client.post(HERE + "1/remove/").url == HERE
    assert Exhibit.objects.count() == 0


def test_every_reason_for_refusing_a_picture_has_its_words():
    assert set(REFUSALS) == set(REASONS)
    for code, words in REFUSALS.items():
        assert str(words % {"name": "a.jpg"}).startswith("a.jpg ")
        limits = re.findall(r"\d[\d,]*", REASONS[code])
        assert [number for number in limits if number not in str(words)] in ([], ["16"])
