"""The operator makes a club."""

import io

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from shared.accounts.models import Club, Invitation, Person

pytestmark = pytest.mark.django_db


def made(*arguments, **options):
    out = io.StringIO()
    call_command("create_club", *arguments, stdout=out, **options)
    return out.getvalue()


def test_the_printed_link_makes_its_bearer_secretary():
    link = made("Skerry Drover Club", "bruce@club.example", site="http://testserver/").split()[-1]
    said = {"name": "Bruce Isbister", "email": "bruce@club.example", "password": "a plain long one"}
    response = Client().post(f"{link}account/", said)
    assert response.url == "/clubs/skerry-drover-club/"
    assert Person.objects.get().memberships.get().role_words == "secretary"


def test_address_and_time_zone_can_be_given():
    made("Skerry Drover Club", "bruce@club.example", address="drover", time_zone="Atlantic/Faroe")
    club = Club.objects.get()
    assert (club.slug, club.time_zone) == ("drover", "Atlantic/Faroe")
    assert Invitation.objects.get().invited_by is None


@pytest.mark.parametrize(
    ("arguments", "options", "words"),
    [
        (("Skerry Drover Club", "bruce"), {}, "valid email"),
        (("Skerry Drover Club", "b@club.example"), {"time_zone": "Skerry/Drover"}, "is not a time zone"),
        (("Skerry Drover Club", "b@club.example"), {"address": "a b"}, "slug"),
        (("犬", "b@club.example"), {}, "cannot be blank"),
    ],
)
def test_what_will_not_do_is_said(arguments, options, words):
    with pytest.raises(CommandError, match=words):
        made(*arguments, **options)
    assert not Club.objects.exists()


def test_two_clubs_cannot_share_an_address():
    made("Skerry Drover Club", "bruce@club.example")
    with pytest.raises(CommandError, match="already exists"):
        made("Skerry Drover Club", "bruce@club.example")
