"""Photographs are taken in one request each, and none is lost to another's trouble."""

import re

import pytest
from playwright.sync_api import expect

from courses.models import Exhibit
from tests.makers import make_breed
from tests.shared.pictures.making import encoded, scene

NEW = "/clubs/skerry-drover/exhibits/new/"

pytestmark = pytest.mark.django_db(transaction=True)


def photograph(name: str, seed: int) -> dict:
    return {"name": name, "mimeType": "image/jpeg", "buffer": encoded(scene(600, 400, seed))}


def test_several_files_are_taken_in_and_a_bad_one_is_named(cast, open_as):
    make_breed(cast.club)
    page = open_as(cast.educator, NEW)
    bad = {"name": "notes.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"}
    page.get_by_label("Photographs").set_input_files([photograph("a.jpg", 1), bad, photograph("b.jpg", 2)])
    page.get_by_role("button", name="Take them in").press("Enter")
    expect(page.get_by_text("All 3 done.")).to_be_visible()
    rows = page.locator("[data-intake-rows] li")
    expect(rows.nth(0)).to_contain_text("a.jpg")
    expect(rows.nth(0).get_by_role("link", name=re.compile(r"Exhibit \d"))).to_be_visible()
    expect(rows.nth(1)).to_contain_text("notes.jpg is not a picture")
    expect(rows.nth(2)).to_contain_text("b.jpg")
    assert sorted(Exhibit.objects.values_list("original_name", flat=True)) == ["a.jpg", "b.jpg"]


def test_a_file_that_did_not_get_through_is_kept_and_sent_again(cast, open_as):
    make_breed(cast.club)
    page = open_as(cast.educator, NEW)
    page.context.set_offline(True)
    page.get_by_label("Photographs").set_input_files([photograph("a.jpg", 1)])
    page.get_by_role("button", name="Take them in").click()
    expect(page.get_by_text("Not sent: no connection.")).to_be_visible()
    page.context.set_offline(False)
    page.get_by_role("button", name="Try again").click()
    expect(page.get_by_text("All 1 done.")).to_be_visible()
    assert Exhibit.objects.get().original_name == "a.jpg"


def test_whoever_was_signed_out_meanwhile_is_told(cast, open_as):
    make_breed(cast.club)
    page = open_as(cast.educator, NEW)
    page.context.clear_cookies(name="sessionid")
    page.get_by_label("Photographs").set_input_files([photograph("a.jpg", 1)])
    page.get_by_role("button", name="Take them in").click()
    expect(page.get_by_text("you are signed out")).to_be_visible()
    assert not Exhibit.objects.exists()
