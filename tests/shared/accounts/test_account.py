"""The page on which people see to their own account."""

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.core import mail

from shared.accounts.models import Person


def test_a_person_sees_address_factor_and_clubs(cast):
    page = cast.client("trainee").get("/account/").content.decode()
    assert "una.halcro@club.example" in page
    assert "Skerry Drover Club" in page
    assert "Holm Spaniel Club" not in page
    assert "not confirmed yet" not in page
    EmailAddress.objects.create(user=cast.trainee.person, email="una.halcro@club.example", primary=True)
    Authenticator.objects.create(user=cast.trainee.person, type=Authenticator.Type.TOTP, data={"secret": "x"})
    page = cast.client("trainee").get("/account/").content.decode()
    assert "not confirmed yet" in page
    assert "on: a code from your app is asked for" in page


def test_the_name_is_changed(cast):
    page = (
        cast.client("trainee").post("/account/", {"name": "Una Halcro-Flett"}, follow=True).content.decode()
    )
    assert "Saved. This is how you are named from now on." in page
    cast.trainee.person.refresh_from_db()
    assert cast.trainee.person.name == "Una Halcro-Flett"


def test_an_empty_name_is_refused(cast):
    response = cast.client("trainee").post("/account/", {"name": ""})
    assert response.status_code == 422
    assert "Mend this:" in response.content.decode()
    cast.trainee.person.refresh_from_db()
    assert cast.trainee.person.name == "Una Halcro"


def test_a_new_address_holds_once_it_is_confirmed(cast):
    person = cast.trainee.person
    person.set_password("a plain long one")
    person.save()
    EmailAddress.objects.create(user=person, email=person.email, primary=True, verified=True)
    client = cast.client("trainee")
    change = {"email": "una@club.example", "action_add": ""}
    asked = client.post("/account/email/", change)
    assert asked.url.startswith("/account/reauthenticate/")
    client.post(asked.url, {"password": "a plain long one"})
    client.post("/account/email/", change)
    page = client.get("/account/email/").content.decode()
    assert "You wish to change to <strong>una@club.example</strong>" in page
    person.refresh_from_db()
    assert person.email == "una.halcro@club.example"
    letter = next(letter for letter in mail.outbox if letter.to == ["una@club.example"])
    client.post(next(line for line in letter.body.splitlines() if "/confirm-email/" in line))
    person.refresh_from_db()
    assert person.email == "una@club.example"
    assert [letter.subject for letter in mail.outbox][-1] == "Your address is changed"


def test_an_address_of_someone_else_cannot_be_confirmed(cast):
    person, other = cast.trainee.person, cast.mentor.person
    taken = EmailAddress.objects.create(user=person, email=other.email, verified=False)
    client = cast.client("trainee")
    client.post("/account/email/", {"email": taken.email, "action_send": ""})
    link = next(line for line in mail.outbox[0].body.splitlines() if "/confirm-email/" in line)
    page = client.post(link, follow=True).content.decode()
    assert "it belongs to another account" in page
    assert Person.objects.get(email=other.email) == other
    taken.refresh_from_db()
    assert not taken.verified


def test_the_head_leads_to_the_account(cast):
    assert (
        '<a href="/account/">Una Halcro</a>'
        in cast.client("trainee").get("/clubs/skerry-drover/").content.decode()
    )
