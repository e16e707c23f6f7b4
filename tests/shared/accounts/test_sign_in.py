"""Signing in, with every page of the package that does it opened once: ours in look and words."""

import re
import time

import pytest
from allauth.account.models import EmailAddress, EmailConfirmationHMAC
from allauth.account.utils import user_pk_to_url_str
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal.auth import format_hotp_value, hotp_value
from django.contrib.auth.tokens import default_token_generator
from django.core import mail
from django.core.cache import cache
from django.template.loader import get_template
from django.urls import get_resolver, reverse

from shared.web.slots import SLOTS, fills
from tests.test_routes import walk

PASSWORD = "a plain long one"


@pytest.fixture
def una(cast):
    """The trainee with a password and a confirmed address."""
    person = cast.trainee.person
    person.set_password(PASSWORD)
    person.save()
    EmailAddress.objects.create(user=person, email=person.email, primary=True, verified=True)
    return person


def signed_in(client):
    return client.get("/").status_code == 302 and "login" not in client.get("/").url


def sign_in(client, una):
    return client.post("/account/login/", {"login": una.email, "password": PASSWORD})


def code_now(secret):
    return format_hotp_value(hotp_value(secret, int(time.time()) // 30))


def turn_on(client):
    """Show who it is, then turn the second factor on; gives its secret."""
    url = "/account/2fa/totp/activate/"
    client.post(f"/account/reauthenticate/?next={url}", {"password": PASSWORD})
    secret = re.search(r"<code>(\w+)</code>", client.get(url).content.decode())[1]
    client.post(url, {"code": code_now(secret)})
    return secret


def test_with_address_and_password(cast, una):
    client = cast.client("nobody")
    assert sign_in(client, una).url == "/"
    assert signed_in(client)


def test_the_address_counts_in_any_letter_case(cast, una):
    client = cast.client("nobody")
    client.post("/account/login/", {"login": una.email.upper(), "password": PASSWORD})
    assert signed_in(client)


@pytest.mark.parametrize("address", ["una.halcro@club.example", "nobody@club.example"])
def test_a_wrong_pair_does_not_say_which_was_wrong(cast, una, address):
    client = cast.client("nobody")
    page = client.post("/account/login/", {"login": address, "password": "wrong"}).content.decode()
    assert "Not signed in" in page
    assert "This address and this password do not belong together." in page
    assert f'value="{address}"' in page
    assert not signed_in(client)


def test_guessing_is_slowed(cast, una, settings):
    cache.clear()
    settings.ACCOUNT_RATE_LIMITS = {"login_failed": "2/5m/key"}
    client = cast.client("nobody")
    for _ in range(2):
        client.post("/account/login/", {"login": una.email, "password": "wrong"})
    page = sign_in(client, una).content.decode()
    assert "That was tried too often." in page
    assert not signed_in(client)


def test_nobody_signs_up_without_an_invitation(cast):
    client = cast.client("nobody")
    assert "People join through their club." in client.get("/account/signup/").content.decode()
    client.post("/account/signup/", {"email": "jo@club.example", "password1": PASSWORD})
    assert not EmailAddress.objects.filter(email="jo@club.example").exists()


def test_with_a_code_by_mail(cast, una):
    client = cast.client("nobody")
    page = client.post("/account/login/code/", {"email": una.email}, follow=True).content.decode()
    assert f"If {una.email} belongs to an account" in page
    code = re.search(r"^[A-Z0-9]{3,}-?[A-Z0-9]+$", mail.outbox[0].body, re.M)[0]
    client.post("/account/login/code/confirm/", {"code": code})
    assert signed_in(client)


def test_a_code_for_an_unknown_address_looks_the_same(cast):
    client = cast.client("nobody")
    page = client.post("/account/login/code/", {"email": "jo@club.example"}, follow=True).content.decode()
    assert "If jo@club.example belongs to an account" in page
    assert [letter.subject for letter in mail.outbox] == ["No account with this address"]


def test_a_forgotten_password_is_replaced(cast, una):
    client = cast.client("nobody")
    page = client.post("/account/password/reset/", {"email": una.email}, follow=True).content.decode()
    assert "Look in your mail" in page
    link = next(line for line in mail.outbox[0].body.splitlines() if "/reset/key/" in line)
    form = client.get(link, follow=True)
    assert "Choose a new password" in form.content.decode()
    done = client.post(form.redirect_chain[-1][0], {"password1": "another plain one"}, follow=True)
    assert "The password is changed" in done.content.decode()
    una.refresh_from_db()
    assert una.check_password("another plain one")
    assert mail.outbox[-1].subject == "Your password is changed"
    assert "This link is no longer good" in client.get(link, follow=True).content.decode()


def test_a_changed_password_signs_out_everywhere_else(cast, una):
    here, elsewhere = cast.client("trainee"), cast.client("nobody")
    sign_in(elsewhere, una)
    change = {"oldpassword": PASSWORD, "password1": "another plain one"}
    assert here.post("/account/password/change/", change).url == "/account/"
    assert (signed_in(here), signed_in(elsewhere)) == (True, False)


def test_the_second_factor_is_asked_for(cast, una):
    secret = turn_on(cast.client("trainee"))
    client = cast.client("nobody")
    assert sign_in(client, una).url == "/account/2fa/authenticate/"
    assert not signed_in(client)
    wrong = client.post("/account/2fa/authenticate/", {"code": "000000"}).content.decode()
    assert "This code is not right, or no longer good." in wrong
    cache.clear()  # a code counts once: let this one be new
    client.post("/account/2fa/authenticate/", {"code": code_now(secret)})
    assert signed_in(client)


def test_a_code_kept_for_a_lost_phone_works_once(cast, una):
    turn_on(cast.client("trainee"))
    codes = Authenticator.objects.get(user=una, type="recovery_codes").wrap().get_unused_codes()
    assert len(codes) == 10
    for expected in (True, False):
        client = cast.client("nobody")
        sign_in(client, una)
        client.post("/account/2fa/authenticate/", {"code": codes[0]})
        assert signed_in(client) == expected


def test_the_second_factor_waits_for_a_confirmed_address(cast, una):
    EmailAddress.objects.update(verified=False)
    page = cast.client("trainee").get("/account/2fa/totp/activate/", follow=True).content.decode()
    assert "Confirm your email address first" in page


def test_a_closed_account_is_told_so(cast, una):
    una.is_active = False
    una.save()
    client = cast.client("nobody")
    page = client.post("/account/login/", {"login": una.email, "password": PASSWORD}, follow=True)
    assert not signed_in(client)
    assert "This account has been closed" in client.get("/account/inactive/").content.decode()
    assert page.status_code == 200


NOT_WITHOUT_A_SECOND_FACTOR = {
    "mfa_deactivate_totp",
    "mfa_view_recovery_codes",
    "mfa_download_recovery_codes",
}
PAGES = [route for route in walk(get_resolver()) if route.owner == "allauth"]


@pytest.mark.parametrize("route", PAGES, ids=str)
@pytest.mark.parametrize("who", ["nobody", "trainee", "with second factor"])
def test_every_page_is_ours(cast, una, route, who):
    client = cast.client("nobody" if who == "nobody" else "trainee")
    if who == "with second factor":
        turn_on(client)
    keys = {
        "account_confirm_email": {"key": EmailConfirmationHMAC(EmailAddress.objects.get(user=una)).key},
        "account_reset_password_from_key": {
            "uidb36": user_pk_to_url_str(una),
            "key": default_token_generator.make_token(una),
        },
    }
    response = client.get(reverse(route.name, kwargs=keys.get(route.name)), follow=True)
    assert response.status_code == 200 or route.name in NOT_WITHOUT_A_SECOND_FACTOR
    if response.headers["Content-Type"].startswith("text/html"):
        page = response.content.decode()
        assert "shared/css/standpoint.css" in page
        assert "Skip to the page" in page
        assert "style=" not in page
        assert "<script>" not in page


def test_no_template_of_the_package_shows_through():
    """Each template that the reachable views name is one of this site's."""
    for name in (
        *("login", "logout", "request_login_code", "confirm_login_code", "password_reset", "email_change"),
        *("password_reset_done", "password_reset_from_key", "password_reset_from_key_done", "email_confirm"),
        *("password_change", "password_set", "verification_sent", "verified_email_required"),
        *("account_inactive", "signup_closed", "reauthenticate"),
    ):
        assert "/shared/templates/" in get_template(f"account/{name}.html").origin.name.replace("\\", "/")
    for name in ("index", "authenticate", "reauthenticate", "totp/activate_form", "totp/deactivate_form"):
        assert "/shared/templates/" in get_template(f"mfa/{name}.html").origin.name.replace("\\", "/")


def test_the_first_plate_stands_beside_the_form_where_there_is_one(cast, monkeypatch):
    client = cast.client("nobody")
    assert "Weigh it as the standard does." in client.get("/account/login/").content.decode()
    monkeypatch.setitem(SLOTS, "first plate", {})
    fills("first plate", "shared/_pages.html")(lambda request, things: {None: {}})
    page = client.get("/account/login/").content.decode()
    assert "entrance-plate" in page
    assert "Weigh it as the standard does." not in page
