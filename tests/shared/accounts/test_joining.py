"""The invited person opens the link."""

import datetime

import pytest
from django.core import mail
from django.utils import timezone

from shared.accounts.actions.invitations import accept_invitation, join_as_new_person
from shared.accounts.models import Invitation, Membership, Person
from shared.accounts.roles import Role
from shared.accounts.rules import Refused
from tests.conftest import Cast
from tests.makers import make_invitation

SAID = {"name": "Jo Firth", "email": "Jo.Firth@club.example", "password": "a plain long one"}


def roles_of(cast: Cast, person: Person) -> frozenset[Role]:
    return Membership.objects.get(club=cast.club, person=person).roles


def test_a_new_person_makes_an_account_and_is_in(cast):
    invitation, token = make_invitation(cast.club)
    client = cast.client("nobody")
    assert "Skerry Drover Club invites you" in client.get(f"/invitation/{token}/").content.decode()
    response = client.post(f"/invitation/{token}/account/", SAID)
    assert response.url == "/clubs/skerry-drover/"
    page = client.get(response.url).content.decode()
    assert "Welcome. You are a trainee of Skerry Drover Club." in page
    person = Person.objects.get(email="jo.firth@club.example")
    assert (person.name, person.check_password("a plain long one")) == ("Jo Firth", True)
    assert roles_of(cast, person) == {Role.TRAINEE}
    invitation.refresh_from_db()
    assert (invitation.state, invitation.accepted_by) == ("accepted", person)


def test_a_new_address_is_asked_to_be_confirmed(cast):
    _, token = make_invitation(cast.club)
    cast.client("nobody").post(f"/invitation/{token}/account/", SAID)
    letter = mail.outbox[0]
    assert (letter.to, letter.subject) == (["jo.firth@club.example"], "Confirm your address")
    link = next(line for line in letter.body.splitlines() if "/confirm-email/" in line)
    client = cast.client("nobody")
    assert "Is <strong>jo.firth@club.example</strong> yours" in client.get(link).content.decode()
    client.post(link)
    address = Person.objects.get(email="jo.firth@club.example").emailaddress_set.get()
    assert (address.verified, address.primary) == (True, True)


def test_a_mail_server_that_is_down_keeps_nobody_out(cast, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 1
    _, token = make_invitation(cast.club)
    client = cast.client("nobody")
    page = client.post(f"/invitation/{token}/account/", SAID, follow=True).content.decode()
    assert "A mail could not be sent just now." in page
    assert "Welcome. You are a trainee of Skerry Drover Club." in page


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"password": "short"}, "This password is too short."),
        ({"password": "password1234"}, "This password is too common."),
        ({"password": "jo.firth@club"}, "too similar to the email address"),
        ({"email": "una.halcro@club.example"}, "There is an account with this address already."),
        ({"email": "UNA.Halcro@Club.example"}, "There is an account with this address already."),
        ({"name": " "}, "This field is required."),
    ],
)
def test_what_will_not_do_is_said_and_the_rest_is_kept(cast, change, words):
    invitation, token = make_invitation(cast.club)
    response = cast.client("nobody").post(f"/invitation/{token}/account/", SAID | change)
    page = response.content.decode()
    assert response.status_code == 422
    assert "You have not joined yet" in page
    assert words in page
    assert "Jo Firth" in page or "name" in change
    assert SAID["password"] not in page
    invitation.refresh_from_db()
    assert invitation.state == "open"
    assert not Person.objects.filter(name="Jo Firth").exists()


def test_whoever_is_signed_in_joins_in_one_press(cast):
    _, token = make_invitation(cast.other_club, Role.MENTOR)
    client = cast.client("trainee")
    page = client.get(f"/invitation/{token}/").content.decode()
    assert "You are signed in as Una Halcro" in page
    assert client.post(f"/invitation/{token}/join/").url == "/clubs/holm-spaniel/"
    joined = Membership.objects.get(club=cast.other_club, person=cast.trainee.person)
    assert joined.roles == {Role.MENTOR}


def test_someone_with_an_account_signs_in_and_returns(cast):
    cast.stranger.person.set_password("a plain long one")
    cast.stranger.person.save()
    _, token = make_invitation(cast.club)
    client = cast.client("nobody")
    sign_in = f"/account/login/?next=/invitation/{token}/"
    assert sign_in in client.get(f"/invitation/{token}/").content.decode()
    said = {"login": cast.stranger.person.email, "password": "a plain long one"}
    assert client.post(sign_in, said).url == f"/invitation/{token}/"


def test_a_member_gains_the_role_beside_the_others(cast):
    invitation, _ = make_invitation(cast.club, Role.MENTOR)
    accept_invitation(invitation=invitation, person=cast.trainee.person)
    assert roles_of(cast, cast.trainee.person) == {Role.TRAINEE, Role.MENTOR}


def test_who_had_left_comes_back_with_the_invited_role_alone(cast):
    left = timezone.now() - datetime.timedelta(days=400)
    Membership.objects.filter(pk=cast.educator.pk).update(left_at=left, joined_at=left)
    invitation, _ = make_invitation(cast.club, Role.TRAINEE)
    back = accept_invitation(invitation=invitation, person=cast.educator.person)
    assert back.pk == cast.educator.pk
    assert roles_of(cast, cast.educator.person) == {Role.TRAINEE}
    assert back.joined_at == invitation.accepted_at


def test_who_holds_the_role_already_does_not_use_the_link_up(cast):
    invitation, token = make_invitation(cast.club, Role.SECRETARY)
    client = cast.client("secretary")
    assert "hold this role already" in client.get(f"/invitation/{token}/").content.decode()
    client.post(f"/invitation/{token}/join/")
    invitation.refresh_from_db()
    assert invitation.state == "open"


def test_of_two_who_press_at_once_one_joins(cast):
    invitation, _ = make_invitation(cast.other_club)
    as_first_saw_it = Invitation.objects.get(pk=invitation.pk)
    as_second_saw_it = Invitation.objects.get(pk=invitation.pk)
    accept_invitation(invitation=as_first_saw_it, person=cast.trainee.person)
    assert as_second_saw_it.accepted_at is None
    with pytest.raises(Refused):
        accept_invitation(invitation=as_second_saw_it, person=cast.mentor.person)
    with pytest.raises(Refused):
        join_as_new_person(invitation=as_second_saw_it, name="Jo", email="jo@club.example", password="x")
    assert not Membership.objects.filter(club=cast.other_club, person=cast.mentor.person).exists()
    assert not Person.objects.filter(email="jo@club.example").exists()
    invitation.refresh_from_db()
    assert invitation.accepted_by == cast.trainee.person


CLOSED = {
    "used": ({"accepted_at": timezone.now()}, "This invitation has been used"),
    "withdrawn": ({"withdrawn_at": timezone.now()}, "This invitation was withdrawn"),
    "run out": ({"expires_at": timezone.now()}, "This invitation has run out"),
}


@pytest.mark.parametrize("state", CLOSED)
@pytest.mark.parametrize("who", ["nobody", "stranger"])
def test_a_closed_link_says_why_and_lets_nobody_in(cast, state, who):
    fields, words = CLOSED[state]
    _, token = make_invitation(cast.club, **fields)
    client = cast.client(who)
    response = client.get(f"/invitation/{token}/")
    assert response.status_code == 410
    assert words in response.content.decode()
    client.post(f"/invitation/{token}/join/")
    client.post(f"/invitation/{token}/account/", SAID)
    assert Membership.objects.filter(club=cast.club).count() == 4
    assert not Person.objects.filter(name="Jo Firth").exists()


def test_who_used_the_link_is_led_on_from_it(cast):
    _, token = make_invitation(cast.other_club)
    client = cast.client("trainee")
    client.post(f"/invitation/{token}/join/")
    page = client.get(f"/invitation/{token}/").content.decode()
    assert "You have joined" in page
    assert "/clubs/holm-spaniel/" in page


def test_wrong_links_are_told_so_and_whoever_tries_many_must_wait(cast, settings):
    settings.ACCOUNT_RATE_LIMITS = {"wrong_token": "2/10m/ip"}
    _, token = make_invitation(cast.club)
    client = cast.client("nobody")
    answers = [client.get(f"/invitation/{token}x{n}/") for n in range(3)]
    assert [answer.status_code for answer in answers] == [404, 404, 429]
    assert "There is no such invitation" in answers[0].content.decode()
    assert "That was tried too often" in answers[2].content.decode()
    assert client.post("/invitation/wrong/account/", SAID).status_code == 429
    assert client.get(f"/invitation/{token}/").status_code == 200


def test_addresses_cannot_be_tried_out_with_an_invitation(cast, settings):
    settings.ACCOUNT_RATE_LIMITS = {"new_account": "2/10m/ip"}
    _, token = make_invitation(cast.club)
    tried = SAID | {"email": "una.halcro@club.example"}
    client = cast.client("nobody")
    answers = [client.post(f"/invitation/{token}/account/", tried).status_code for _ in range(3)]
    assert answers == [422, 422, 429]


def test_the_link_is_kept_in_no_cache(cast):
    _, token = make_invitation(cast.club)
    assert "no-store" in cast.client("nobody").get(f"/invitation/{token}/").headers["Cache-Control"]
