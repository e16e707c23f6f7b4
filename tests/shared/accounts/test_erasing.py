"""The pages of erasing somebody, of asking for it, and of declining it."""

import pytest
from django.core import serializers
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from shared.accounts.actions.erasure import ask_to_be_erased, make_nameless_person
from shared.accounts.actions.members import end_membership
from shared.accounts.models import ErasureRequest, Membership, Person
from shared.accounts.roles import Role
from tests import makers
from tests.makers import papers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def secretary(cast):
    return cast.client("secretary")


def erase_page(member):
    return f"{CLUB}/members/{member.pk}/erase/"


def test_it_says_what_goes_what_stays_and_that_nothing_brings_it_back(cast, secretary):
    page = secretary.get(erase_page(cast.trainee)).content.decode()
    for words in ("What goes", "What stays, and why", "This cannot be undone.", "backups"):
        assert words in page


def test_the_name_is_typed_to_confirm_it(cast, secretary):
    response = secretary.post(erase_page(cast.trainee), {"name": "Una"})
    assert response.status_code == 422
    assert "This is not the name: type “Una Halcro”." in response.content.decode()
    assert 'value="Una"' in response.content.decode()
    response = secretary.post(erase_page(cast.trainee), {"name": " una  HALCRO "}, follow=True)
    assert "Erased." in response.content.decode()
    assert not Person.objects.filter(name="Una Halcro").exists()
    assert secretary.get(erase_page(cast.trainee)).status_code == 404


def test_what_stands_against_it_is_there_in_place_of_the_form(cast, secretary, edition):
    papers.make_candidate(papers.make_set_paper(edition, cast.educator), cast.trainee, cast.educator)
    page = secretary.get(erase_page(cast.trainee)).content.decode()
    assert "take the invitation back first" in page
    assert "Erase for good" not in page
    response = secretary.post(erase_page(cast.trainee), {"name": "Una Halcro"}, follow=True)
    assert "take the invitation back first" in response.content.decode()
    assert Person.objects.filter(name="Una Halcro").exists()


def test_the_last_secretary_reads_what_comes_first(cast, secretary):
    assert "keeps at least one secretary" in secretary.get(erase_page(cast.secretary)).content.decode()


def test_a_secretary_erased_by_themselves_is_signed_out(cast, secretary):
    makers.make_member(cast.club, "Second Secretary", secretary=True)
    secretary.post(erase_page(cast.secretary), {"name": "Bruce Isbister"})
    assert secretary.get(f"{CLUB}/").status_code == 302


def test_of_somebody_in_two_clubs_it_says_so(cast, secretary):
    Membership.objects.create(club=cast.other_club, person=cast.trainee.person, trainee=True)
    page = secretary.get(erase_page(cast.trainee)).content.decode()
    assert "The person is known to another club, and stays there." in page


def test_whoever_runs_the_site_keeps_the_account(cast, secretary):
    Person.objects.filter(pk=cast.trainee.person_id).update(is_staff=True)
    assert (
        "The account stays, since it runs the site."
        in secretary.get(erase_page(cast.trainee)).content.decode()
    )
    secretary.post(erase_page(cast.trainee), {"name": "Una Halcro"})
    assert not Person.objects.get(name="Una Halcro").memberships.exists()


def test_a_dump_holds_what_the_row_holds_of_somebody_nameless(cast):
    person = make_nameless_person(role=Role.MENTOR)
    dumped = serializers.serialize("json", Person.objects.filter(pk=person.pk))
    assert '"former/mentor"' in dumped
    for back in serializers.deserialize("json", dumped):
        back.save()
    assert str(Person.objects.get(pk=person.pk)) == "a former mentor"


@pytest.mark.parametrize("who", ["educator", "mentor", "trainee"])
def test_nobody_else_erases(cast, who):
    assert cast.client(who).post(erase_page(cast.trainee), {"name": "Una Halcro"}).status_code == 403
    assert Person.objects.filter(name="Una Halcro").exists()


def test_a_member_of_another_club_is_not_found(cast, secretary):
    assert secretary.get(erase_page(cast.stranger)).status_code == 404


def test_whoever_left_is_found_with_their_record_and_erased(cast, secretary):
    end_membership(membership=cast.trainee)
    listed = secretary.get(f"{CLUB}/members/left/").content.decode()
    assert erase_page(cast.trainee) in listed
    page = secretary.get(erase_page(cast.trainee)).content.decode()
    assert reverse("member-record", args=["skerry-drover", cast.trainee.pk]) in page
    secretary.post(erase_page(cast.trainee), {"name": "Una Halcro"})
    assert "a former trainee" not in secretary.get(f"{CLUB}/members/left/").content.decode()


def test_somebody_erased_is_not_taken_back(cast, secretary, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    makers.make_sittings(quiz, [[makers.said()]], trainees=[cast.trainee])
    secretary.post(erase_page(cast.trainee), {"name": "Una Halcro"})
    nameless = Membership.objects.get(nameless=True)
    assert secretary.post(f"{CLUB}/members/{nameless.pk}/take-back/").status_code == 404
    assert secretary.get(f"{CLUB}/members/{nameless.pk}/record.json").status_code == 404


def test_a_member_asks_sees_how_it_stands_and_withdraws(cast):
    client = cast.client("trainee")
    page = f"{CLUB}/erasure/"
    assert "Ask to be erased" in client.get(page).content.decode()
    client.post(page)
    client.post(page)
    assert ErasureRequest.objects.count() == 1
    assert "You asked on" in client.get(page).content.decode()
    client.post(f"{CLUB}/erasure/withdraw/")
    assert "You withdrew it on" in client.get(page).content.decode()


def test_a_request_waits_for_the_secretary_who_declines_with_the_reason(cast, secretary):
    ask_to_be_erased(membership=cast.trainee)
    assert "Una Halcro asks to be erased." in secretary.get(f"{CLUB}/").content.decode()
    assert "asked for on" in secretary.get(erase_page(cast.trainee)).content.decode()
    decline = f"{CLUB}/members/{cast.trainee.pk}/erase/decline/"
    assert secretary.post(decline, {"reason": ""}).status_code == 422
    secretary.post(decline, {"reason": "Your result is disputed."})
    assert "asks to be erased" not in secretary.get(f"{CLUB}/").content.decode()
    assert "Your result is disputed." in cast.client("trainee").get(f"{CLUB}/erasure/").content.decode()
    assert secretary.post(decline, {"reason": "Again."}).status_code == 404


def test_ones_own_page_leads_to_it_and_says_how_long_answers_are_kept(cast):
    page = cast.client("trainee").get("/account/").content.decode()
    assert f"{CLUB}/erasure/" in page
    assert "Your answers are kept until you ask that they go." in page


def test_the_list_of_those_who_left_costs_the_same_however_many_there_are(cast, secretary):
    def queries():
        with CaptureQueriesContext(connection) as captured:
            secretary.get(f"{CLUB}/members/left/")
        return len(captured)

    end_membership(membership=cast.trainee)
    one = queries()
    for number in range(3):
        end_membership(membership=makers.make_trainee(cast.club, f"Leaver {number}"))
    assert queries() == one
