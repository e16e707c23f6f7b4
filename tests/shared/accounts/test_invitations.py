"""The secretary gives out links."""

import datetime
import re

import pytest
from django.core import mail
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from shared.accounts.models import Invitation
from shared.accounts.rules import hash_of
from shared.web import limits
from tests.makers import make_invitation

NEW = "/clubs/skerry-drover/invitations/new/"
LIST = "/clubs/skerry-drover/invitations/"


def test_the_link_is_shown_once_and_only_its_hash_is_kept(cast):
    client = cast.client("secretary")
    page = client.post(NEW, {"role": "mentor"}).content.decode()
    token = re.search(r"http://testserver/invitation/([\w-]{43})/", page)[1]
    invitation = Invitation.objects.get()
    assert invitation.token_hash == hash_of(token)
    assert (invitation.club, invitation.role, invitation.invited_by) == (
        cast.club,
        "mentor",
        cast.secretary.person,
    )
    assert invitation.expires_at - invitation.created_at == datetime.timedelta(days=limits.INVITATION_DAYS)
    assert token not in str(Invitation.objects.values().get())
    assert token not in client.get(LIST).content.decode()
    assert not mail.outbox


def test_the_hash_is_sha_256():
    # FIPS 180-4's example for the message "abc"
    assert hash_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_the_link_is_mailed_on_request(cast):
    sent = {"role": "trainee", "email": "jo.firth@club.example", "send": "on"}
    page = cast.client("secretary").post(NEW, sent).content.decode()
    assert "It is on its way to <strong>jo.firth@club.example</strong>" in page
    letter = mail.outbox[0]
    assert (letter.to, letter.subject) == (["jo.firth@club.example"], "Skerry Drover Club invites you")
    assert re.search(r"http://testserver/invitation/[\w-]{43}/", letter.body)[0] in page


def test_a_mail_server_that_is_down_costs_the_mail_not_the_link(cast, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1
    sent = {"role": "trainee", "email": "jo.firth@club.example", "send": "on"}
    page = cast.client("secretary").post(NEW, sent).content.decode()
    assert "The mail could not be sent." in page
    assert "http://testserver/invitation/" in page


def test_sending_needs_an_address_and_keeps_what_was_chosen(cast):
    response = cast.client("secretary").post(NEW, {"role": "educator", "send": "on"})
    page = response.content.decode()
    assert response.status_code == 422
    assert "Say where to send the link, or copy it yourself." in page
    assert re.search(r'value="educator"[^>]*checked', page)
    assert not Invitation.objects.exists()


def test_a_club_has_a_limit_of_open_invitations(cast, monkeypatch):
    monkeypatch.setattr(limits, "OPEN_INVITATIONS", 1)
    make_invitation(cast.club, expires_at=timezone.now())
    make_invitation(cast.club)
    response = cast.client("secretary").post(NEW, {"role": "trainee"})
    assert response.status_code == 422
    assert "1 invitations are open, and no more can be." in response.content.decode()
    assert Invitation.objects.count() == 2


def test_the_list_says_what_became_of_each(cast):
    now = datetime.datetime(2026, 11, 20, 12, tzinfo=datetime.UTC)
    make_invitation(cast.club, withdrawn_at=now)
    make_invitation(cast.club, accepted_at=now, accepted_by=cast.trainee.person)
    make_invitation(cast.club, expires_at=now)
    page = cast.client("secretary").get(LIST).content.decode()
    assert "withdrawn on 20 November 2026" in page
    assert "used by Una Halcro on 20 November 2026" in page
    assert page.count("Withdraw<") == 0
    make_invitation(cast.club)
    assert cast.client("secretary").get(LIST).content.decode().count("Withdraw<") == 1


def test_a_withdrawn_link_is_useless_and_a_used_one_cannot_be_withdrawn(cast):
    client = cast.client("secretary")
    (unused, _), (used, _) = make_invitation(cast.club), make_invitation(cast.club)
    Invitation.objects.filter(pk=used.pk).update(accepted_at=timezone.now())
    for invitation in (unused, used):
        answer = client.post(f"{LIST}{invitation.pk}/withdraw/", follow=True)
    assert "Someone has used this invitation already." in answer.content.decode()
    unused.refresh_from_db()
    used.refresh_from_db()
    assert (unused.state, used.state) == ("withdrawn", "accepted")


def test_the_list_is_paged_and_costs_the_same_for_one_and_for_many(
    cast, monkeypatch, django_assert_num_queries
):
    monkeypatch.setattr(limits, "PAGE_LENGTH", 2)
    client = cast.client("secretary")
    make_invitation(cast.club)
    with CaptureQueriesContext(connection) as few:
        client.get(LIST)
    for _ in range(3):
        make_invitation(cast.club, accepted_at=timezone.now(), accepted_by=cast.trainee.person)
    with django_assert_num_queries(len(few)):
        page = client.get(LIST).content.decode()
    assert "Page 1 of 2" in page


@pytest.mark.parametrize("who", ["educator", "mentor", "trainee"])
def test_only_the_secretary_invites(cast, who):
    assert cast.client(who).post(NEW, {"role": "secretary"}).status_code == 403
    assert not Invitation.objects.exists()


def test_invitations_are_made_at_a_measured_pace(cast, settings):
    settings.ACCOUNT_RATE_LIMITS = {"invite": "2/h/user"}
    client = cast.client("secretary")
    answers = [client.post(NEW, {"role": "trainee"}).status_code for _ in range(3)]
    assert answers == [200, 200, 429]
    assert Invitation.objects.count() == 2
