"""The secretary's list of members."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from shared.accounts.actions.members import change_roles, end_membership
from shared.accounts.models import Membership
from shared.accounts.roles import Role
from shared.accounts.rules import LAST_SECRETARY, Refused
from shared.web import limits
from tests.makers import make_member

HERE = "/clubs/skerry-drover/members/"


def test_members_are_listed_by_name_with_their_roles(cast):
    page = cast.client("secretary").get(HERE).content.decode()
    names = ["Bruce Isbister", "Ishbel Rendall", "Magnus Flett", "Una Halcro"]
    main = page[page.index("<main") :]
    assert sorted(names, key=main.index) == names
    assert "Sanna Voe" not in page


def test_one_role_is_picked_out(cast):
    page = cast.client("secretary").get(f"{HERE}?role=mentor").content.decode()
    assert "Magnus Flett" in page
    assert "Una Halcro" not in page
    assert "Una Halcro" in cast.client("secretary").get(f"{HERE}?role=emperor").content.decode()


def test_the_list_is_paged_and_costs_the_same_for_one_and_for_many(
    cast, monkeypatch, django_assert_num_queries
):
    client = cast.client("secretary")
    with CaptureQueriesContext(connection) as few:
        client.get(HERE)
    for n in range(5):
        make_member(cast.club, f"Trainee {n}", trainee=True)
    with django_assert_num_queries(len(few)):
        client.get(HERE)
    monkeypatch.setattr(limits, "PAGE_LENGTH", 4)
    assert "Page 1 of 3" in client.get(HERE).content.decode()


def test_roles_are_changed(cast):
    url = f"{HERE}{cast.trainee.pk}/"
    page = cast.client("secretary").post(url, {"roles": ["trainee", "mentor"]}, follow=True).content.decode()
    assert "Saved. Una Halcro is now trainee, mentor." in page
    cast.trainee.refresh_from_db()
    assert cast.trainee.roles == {Role.TRAINEE, Role.MENTOR}


def test_a_member_without_a_role_is_refused_beside_the_field(cast):
    response = cast.client("secretary").post(f"{HERE}{cast.trainee.pk}/", {})
    assert response.status_code == 422
    assert "Leave at least one role, or end the membership below." in response.content.decode()
    cast.trainee.refresh_from_db()
    assert cast.trainee.roles == {Role.TRAINEE}


def test_the_last_secretary_can_neither_lose_the_role_nor_leave(cast):
    client, url = cast.client("secretary"), f"{HERE}{cast.secretary.pk}/"
    response = client.post(url, {"roles": ["mentor"]})
    assert response.status_code == 422
    assert str(LAST_SECRETARY) in response.content.decode()
    assert str(LAST_SECRETARY) in client.post(f"{url}end/", follow=True).content.decode()
    cast.secretary.refresh_from_db()
    assert cast.secretary.roles == {Role.SECRETARY}


def test_a_secretary_who_left_does_not_count_as_another(cast):
    other = make_member(cast.club, "Thora Garrioch", secretary=True)
    Membership.objects.filter(pk=other.pk).update(left_at=timezone.now())
    with pytest.raises(Refused):
        end_membership(membership=cast.secretary)


def test_with_a_second_secretary_the_first_may_go_and_is_led_out(cast):
    make_member(cast.club, "Thora Garrioch", secretary=True)
    client = cast.client("secretary")
    assert client.post(f"{HERE}{cast.secretary.pk}/end/").url == "/"
    assert client.get(HERE).status_code == 404


def test_two_secretaries_who_leave_at_once_do_not_both_go(cast):
    second = make_member(cast.club, "Thora Garrioch", secretary=True)
    stale = Membership.objects.get(pk=second.pk)
    change_roles(membership=cast.secretary, roles={Role.MENTOR})
    with pytest.raises(Refused):
        change_roles(membership=stale, roles={Role.MENTOR})


def test_the_end_of_a_membership_shuts_the_club_and_can_be_taken_back(cast):
    secretary, trainee = cast.client("secretary"), cast.client("trainee")
    page = secretary.post(f"{HERE}{cast.trainee.pk}/end/", follow=True).content.decode()
    assert "Una Halcro is no longer a member." in page
    assert "Take back" in page
    assert trainee.get("/clubs/skerry-drover/").status_code == 404
    secretary.post(f"{HERE}{cast.trainee.pk}/take-back/")
    assert trainee.get("/clubs/skerry-drover/").status_code == 200
    cast.trainee.refresh_from_db()
    assert cast.trainee.roles == {Role.TRAINEE}
