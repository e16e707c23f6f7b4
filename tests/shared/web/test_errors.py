"""Pages for when something went wrong."""

from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.test import Client


def test_a_member_without_the_role_is_told_which_roles_they_hold(cast):
    response = cast.client("trainee").get("/clubs/skerry-drover/members/")
    page = response.content.decode()
    assert response.status_code == 403
    assert "You belong to Skerry Drover Club as trainee, but this page needs another role." in page
    assert 'href="/clubs/skerry-drover/"' in page


def test_a_page_that_is_not_there_keeps_the_member_in_the_club(cast):
    response = cast.client("secretary").get("/clubs/skerry-drover/members/987654/")
    page = response.content.decode()
    assert response.status_code == 404
    assert "It may have been removed" in page
    assert "Skerry Drover Club" in page


def test_a_stranger_s_404_names_no_club(cast):
    page = cast.client("stranger").get("/clubs/skerry-drover/").content.decode()
    assert "a club that you are not a member of" in page
    assert "Skerry Drover Club" not in page


def test_a_form_that_stood_open_too_long_says_what_was_kept(cast):
    client = Client(enforce_csrf_checks=True)
    client.force_login(cast.trainee.person, "django.contrib.auth.backends.ModelBackend")
    response = client.post("/account/", {"name": "Una"})
    assert response.status_code == 403
    assert "This page had stood open too long" in response.content.decode()
    cast.trainee.person.refresh_from_db()
    assert cast.trainee.person.name == "Una Halcro"


def test_an_address_that_can_only_be_sent_to_is_not_blank(cast):
    response = cast.client("secretary").get(f"/clubs/skerry-drover/members/{cast.trainee.pk}/end/")
    page = response.content.decode()
    assert (response.status_code, response.headers["Allow"]) == (405, "POST")
    assert "There is nothing to open here" in page
    assert "Go to the first page" in page


def test_the_page_for_our_own_faults_needs_nothing(cast):
    page = render_to_string("500.html")
    assert "Something went wrong on our side" in page
    assert 'href="/static/shared/css/standpoint.css"' in page
    assert finders.find("shared/css/standpoint.css")
