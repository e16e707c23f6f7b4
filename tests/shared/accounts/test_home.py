"""The way in, and the day's page."""

import datetime

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from shared.accounts.models import Membership
from tests.makers import make_invitation, make_member

HERE = "/clubs/skerry-drover/"


def test_signed_out_is_sent_to_sign_in(cast):
    response = cast.client("nobody").get("/")
    assert response.status_code == 302
    assert response.url == "/account/login/?next=/"


def test_member_of_one_club_goes_straight_there(cast):
    assert cast.client("trainee").get("/").url == HERE


def test_member_of_two_clubs_chooses(cast):
    Membership.objects.create(club=cast.other_club, person=cast.trainee.person, mentor=True)
    page = cast.client("trainee").get("/").content.decode()
    assert page.index("/clubs/holm-spaniel/") < page.index(HERE)


def test_who_belongs_to_no_club_is_told_how_to_join(cast):
    Membership.objects.filter(pk=cast.trainee.pk).update(left_at=timezone.now())
    page = cast.client("trainee").get("/").content.decode()
    assert "Ask your club’s secretary for an invitation link" in page
    assert HERE not in page


def test_stranger_does_not_learn_that_the_club_exists(cast):
    assert cast.client("stranger").get(HERE).status_code == 404


def test_the_running_head_shows_who_is_here(cast):
    page = cast.client("educator").get(HERE).content.decode()
    assert "Ishbel Rendall" in page
    assert "Skerry Drover Club" in page


def test_the_secretary_is_told_of_links_about_to_lapse_and_sees_the_members(cast):
    soon = timezone.now() + datetime.timedelta(days=2)
    make_invitation(cast.club, email="kit@club.example", expires_at=soon)
    make_invitation(cast.club, email="jo@club.example")
    make_invitation(cast.club, email="used@club.example", accepted_at=timezone.now())
    make_invitation(cast.other_club, email="elsewhere@club.example")
    page = cast.client("secretary").get(HERE).content.decode()
    assert "An invitation runs out within three days." in page
    assert page.index("kit@club.example") < page.index("jo@club.example")
    assert "used@club.example" not in page
    assert "elsewhere@club.example" not in page
    assert "Secretaries" in page


def test_an_empty_place_says_what_will_be_here(cast):
    page = cast.client("secretary").get(HERE).content.decode()
    assert "Links that you give out will be here until somebody uses them." in page
    assert f"{HERE}invitations/new/" in page


def test_the_others_do_not_see_the_secretary_s_part(cast):
    make_invitation(cast.club, email="kit@club.example")
    for who in ("educator", "mentor", "trainee"):
        assert "kit@club.example" not in cast.client(who).get(HERE).content.decode()


def test_the_secretary_s_part_costs_the_same_for_one_and_for_many(cast, django_assert_num_queries):
    client = cast.client("secretary")
    make_invitation(cast.club)
    with CaptureQueriesContext(connection) as few:
        client.get(HERE)
    for n in range(9):
        make_invitation(cast.club)
        make_member(cast.club, f"Trainee {n}", trainee=True)
    with django_assert_num_queries(len(few)):
        client.get(HERE)
