"""The operators' pages: people, clubs and memberships, and nothing else."""

import pytest
from django.apps import apps

from shared.accounts import operators
from shared.accounts.models import Club, Membership, Person


@pytest.fixture
def operator(cast):
    Person.objects.filter(pk=cast.secretary.person.pk).update(is_staff=True, is_superuser=True)
    return cast.client("secretary")


def test_only_people_clubs_and_memberships_are_there():
    assert set(operators.site._registry) == {Person, Club, Membership}


@pytest.mark.parametrize("page", ["person", "club", "membership"])
def test_operators_see_lists_and_forms(operator, cast, page):
    thing = {"person": cast.trainee.person, "club": cast.club, "membership": cast.trainee}[page]
    listed = operator.get(f"/operators/accounts/{page}/")
    form = operator.get(f"/operators/accounts/{page}/{thing.pk}/change/")
    assert (listed.status_code, form.status_code) == (200, 200)
    assert cast.trainee.person.password not in form.content.decode()
    assert operator.post(f"/operators/accounts/{page}/{thing.pk}/delete/", {"post": "yes"}).status_code == 403


def test_members_of_clubs_are_no_operators(cast):
    assert cast.client("secretary").get("/operators/").status_code == 302
    assert cast.client("secretary").get("/operators/login/").status_code == 403


def test_operators_sign_in_where_everybody_does(cast):
    response = cast.client("nobody").get("/operators/", follow=True)
    assert response.redirect_chain[-1][0].startswith("/account/login/?next=")


def test_no_other_model_can_be_reached(operator):
    for model in apps.get_models():
        if model not in (Person, Club, Membership):
            url = f"/operators/{model._meta.app_label}/{model._meta.model_name}/"
            assert operator.get(url).status_code == 404
